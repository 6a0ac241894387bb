package web

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
	"kinwain/web/page"
	"kinwain/web/wares"
)

// inventoryRoutes are the addresses of the manager's pages.
func (s *server) inventoryRoutes(r chi.Router) {
	r.Get(inventoryAddress, s.page(s.inventory))
	r.Get(fitsAddress, s.page(s.fits))
	r.Post(fitsAddress, s.page(s.saveFits))
	r.Get(historyAddress, s.page(s.history))
	r.Post(historyAddress+"/{save}/{number}", s.page(s.undo))
	for _, h := range shelves {
		at := inventoryAddress + "/" + h.slug
		r.Get(at, s.page(s.wares(h)))
		r.Get(at+"/new", s.page(s.newThing(h)))
		r.Post(at+"/new", s.page(s.saveThing(h, true)))
		r.Get(at+"/{code}", s.page(s.editForm(h)))
		r.Post(at+"/{code}", s.page(s.saveThing(h, false)))
		r.Put(at+"/{code}", s.page(s.putThing(h)))
		r.Post(at+"/{code}/retire", s.page(s.retireThing(h)))
		r.Post(at+"/{code}/delete", s.page(s.deleteThing(h)))
		r.Get(at+"/{code}/photo", s.page(s.photo(h)))
		r.Post(at+"/{code}/photo", s.page(s.savePhoto(h)))
	}
}

// inventoryShell is the shell of a page of the inventory.
func (s *server) inventoryShell(r *http.Request, title string) page.Shell {
	shell := s.shell(r, title)
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
func tabs(current string) []page.Step {
	list := []page.Step{{Label: "Inventory", Href: inventoryAddress}}
	for _, h := range shelves {
		list = append(list, page.Step{Label: h.many, Href: inventoryAddress + "/" + h.slug})
	}
	list = append(list, page.Step{Label: "What fits what", Href: fitsAddress}, page.Step{Label: "History", Href: historyAddress},
		page.Step{Label: "In and out", Href: importAddress})
	for i := range list {
		list[i].Current = list[i].Label == current
	}
	return list
}

// inventory is the first page of it: how much there is, and a search through
// everything.
func (s *server) inventory(w http.ResponseWriter, r *http.Request) error {
	view := page.Inventory{Shell: s.inventoryShell(r, "Inventory"), Tabs: tabs("Inventory"), Query: query(r), Action: inventoryAddress}
	for _, h := range shelves {
		list, err := s.wareList(r, h)
		if err != nil {
			return err
		}
		view.Counts = append(view.Counts, page.WareCount{Step: page.Step{Label: h.many, Href: inventoryAddress + "/" + h.slug}, Count: strconv.Itoa(list.Total),
			New: h.address("new"), NewLabel: "New " + h.one, Retired: len(list.Retired)})
		if view.Query != "" && len(list.Rows)+len(list.Retired) > 0 {
			view.Found = append(view.Found, list)
		}
	}
	return render(r.Context(), w, http.StatusOK, page.InventoryPage(view))
}

func query(r *http.Request) string { return strings.TrimSpace(r.URL.Query().Get("q")) }

// wares shows one list.
func (s *server) wares(h shelf) func(http.ResponseWriter, *http.Request) error {
	return func(w http.ResponseWriter, r *http.Request) error {
		view, err := s.wareList(r, h)
		if err != nil {
			return err
		}
		view.Shell, view.Tabs = s.inventoryShell(r, h.many), tabs(h.many)
		view.Done = s.sessions.PopString(r.Context(), flashKey)
		return render(r.Context(), w, http.StatusOK, page.WaresPage(view))
	}
}

func (s *server) wareList(r *http.Request, h shelf) (page.Wares, error) {
	view := page.Wares{Heading: h.many, Slug: h.slug, Query: query(r), Action: inventoryAddress + "/" + h.slug, New: h.address("new"), NewLabel: "New " + h.one}
	c, err := s.Store.Catalogue(r.Context())
	if err != nil {
		return view, err
	}
	retired, err := s.Store.Retired(r.Context())
	if err != nil {
		return view, err
	}
	photos, err := s.Store.Photos(r.Context(), h.list)
	if err != nil {
		return view, err
	}
	var rows []page.WareRow
	view.Columns, rows = rowsOf(c, h)
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
	return view, nil
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
		return "the frame " + c.Frames[at].Name
	case list == wares.AddOnList && at >= 0 && at < len(c.AddOns):
		return "the add-on " + c.AddOns[at].Name
	case list == wares.UnitList && at >= 0 && at < len(c.Units):
		return "the unit " + c.Units[at].Tag
	}
	return ""
}
