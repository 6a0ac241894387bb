package inventory

import (
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/static"
	"kinwain/web/kit"
	"kinwain/web/wares"
)

// inventoryShell is the shell of a page of the inventory.
func (room *Room) inventoryShell(r *http.Request, title string) kit.Shell {
	shell := room.Shell(r, title)
	shell.Desk, shell.DeskJS = static.Address("inventory.css"), static.Address("inventory.js")
	return shell
}

// param is a part of the address, as it was before it was made an address: a
// tag may have a slash in it.
func param(r *http.Request, name string) string {
	text := chi.URLParam(r, name)
	if plain, err := url.PathUnescape(text); err == nil {
		return plain
	}
	return text
}

// tabs are the ways within the inventory.
func tabs(current string) []kit.Step {
	list := []kit.Step{{Label: "Inventory", Href: kit.InventoryAddress}}
	for _, h := range shelves {
		list = append(list, kit.Step{Label: h.many, Href: kit.InventoryAddress + "/" + h.slug})
	}
	list = append(list, kit.Step{Label: "What fits what", Href: fitsAddress}, kit.Step{Label: "History", Href: historyAddress},
		kit.Step{Label: "In and out", Href: kit.ImportAddress}, kit.Step{Label: "Concerned", Href: kit.ConcernedAddress}, kit.Step{Label: "Quality", Href: kit.QualityAddress},
		kit.Step{Label: "What to own", Href: ownAddress})
	for i := range list {
		list[i].Current = list[i].Label == current
	}
	return list
}

// inventory is the first page of it: how much there is, and a search through
// everything.
func (room *Room) inventory(w http.ResponseWriter, r *http.Request) error {
	view := Inventory{Shell: room.inventoryShell(r, "Inventory"), Tabs: tabs("Inventory"), Query: query(r), Action: kit.InventoryAddress}
	for _, h := range shelves {
		list, err := room.wareList(r, h)
		if err != nil {
			return err
		}
		view.Counts = append(view.Counts, WareCount{Step: kit.Step{Label: h.many, Href: kit.InventoryAddress + "/" + h.slug}, Count: strconv.Itoa(list.Total),
			New: h.address("new"), NewLabel: "New " + h.one, Retired: len(list.Retired)})
		if view.Query != "" && list.Found > 0 {
			list.Pages = nil
			if list.keep(0, foundRows); list.Found > foundRows {
				list.All = kit.InventoryAddress + "/" + h.slug + "?" + url.Values{"q": {view.Query}}.Encode()
			}
			view.Found = append(view.Found, list)
		}
	}
	var err error
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, InventoryPage(view))
}

func query(r *http.Request) string { return strings.TrimSpace(r.URL.Query().Get("q")) }

// wares shows one list.
func (room *Room) wares(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		view, err := room.wareList(r, h)
		if err != nil {
			return err
		}
		view.part(r, h)
		view.Shell, view.Tabs = room.inventoryShell(r, h.many), tabs(h.many)
		view.Done = room.Sessions.PopString(r.Context(), flashKey)
		c, err := room.store.Catalogue(r.Context())
		if err != nil {
			return err
		}
		if err := view.typing(r, &typing{shelf: h, current: c, field: typedField(r, h)}); err != nil {
			return err
		}
		return kit.Render(r.Context(), w, http.StatusOK, WaresPage(view))
	}
}

// part keeps the part of the list that the address asks for.
func (view *Wares) part(r *http.Request, h shelf) {
	part := windowOf(r, "page", h.many, view.Found, listRows)
	view.keep(part.from, part.to)
	view.Pages = part.view(r, listRows)
}

func (room *Room) wareList(r *http.Request, h shelf) (Wares, error) {
	view := Wares{Heading: h.many, Slug: h.slug, Query: query(r), Action: kit.InventoryAddress + "/" + h.slug, New: h.address("new"), NewLabel: "New " + h.one}
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return view, err
	}
	retired, err := room.store.Retired(r.Context())
	if err != nil {
		return view, err
	}
	photos, err := room.store.Photos(r.Context(), h.list)
	if err != nil {
		return view, err
	}
	var rows []WareRow
	view.Columns, rows = rowsOf(c, h)
	view.Besides = besides(h)
	if err := room.addStock(r, c, h, &view, rows); err != nil {
		return view, err
	}
	sortRows(r, c, h, view.Columns, rows)
	view.Total = len(rows)
	for _, row := range rows {
		row.Href = h.address(row.Code)
		if p, has := photos[row.Code]; has {
			row.Photo, row.Alt = photoAddress(h, row.Code, p, true), p.Alt
		}
		switch {
		case !found(row.Text, view.Query):
		case retired[store.Thing{List: h.list, Code: row.Code}]:
			view.Retired = append(view.Retired, row)
		default:
			view.Rows = append(view.Rows, row)
		}
	}
	view.Found, view.Offered = len(view.Rows)+len(view.Retired), len(view.Rows)
	return view, nil
}

// keep keeps a part of the rows: those that are offered come first.
func (view *Wares) keep(from, to int) {
	offered, within := len(view.Rows), func(n, most int) int { return min(max(n, 0), most) }
	view.Rows, view.Retired = view.Rows[within(from, offered):within(to, offered)],
		view.Retired[within(from-offered, len(view.Retired)):within(to-offered, len(view.Retired))]
}

// found reports whether a text has all words of a query in it.
func found(text, query string) bool {
	text = strings.ToLower(text)
	for _, word := range strings.Fields(strings.ToLower(query)) {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

var entry = regexp.MustCompile(`^([a-z_]+)\[([0-9]+)\]`)

// ownerAt returns the list and the position of what a path is within.
func ownerAt(path string) (list string, at int) {
	m := entry.FindStringSubmatch(path)
	if m == nil {
		return "", -1
	}
	at, err := strconv.Atoi(m[2])
	if err != nil {
		return "", -1
	}
	return m[1], at
}

// nameAt says what people call a thing.
func nameAt(c *catalog.Catalogue, list string, at int) string {
	switch {
	case list == wares.FrameList && at >= 0 && at < len(c.Frames):
		return "the frame " + c.Frames[at].Called()
	case list == wares.AddOnList && at >= 0 && at < len(c.AddOns):
		return "the add-on " + c.AddOns[at].Name
	case list == wares.UnitList && at >= 0 && at < len(c.Units):
		return "the unit " + c.Units[at].Tag
	}
	return ""
}
