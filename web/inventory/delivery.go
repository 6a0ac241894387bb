package inventory

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/wares"
)

const deliveryAddress = kit.InventoryAddress + "/delivery"

// The fields of a delivery beside those of a unit.
const (
	countField   = "count"
	firstField   = "first"
	serialsField = "serials"
)

// delivery is several bikes of one frame that come at once: what they share as
// in the form of a unit, and what each has of its own.
type delivery struct {
	editing
	count, first, serials string
	wrong                 map[string]string // by field of those beside
	lines                 []LineFault
}

// delivery opens the form, filled with what is usual.
func (room *Room) delivery(w http.ResponseWriter, r *http.Request) error {
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	d := &delivery{editing: editing{shelf: unitShelf(), current: c, typed: usualUnit(c, r.URL.Query().Get("frame"))}, first: c.NextTag("stock")}
	return room.showDelivery(w, r, d, http.StatusOK)
}

func unitShelf() shelf {
	h, _ := shelfOf(wares.UnitList) // which is there
	return h
}

// saveDelivery adds all of the bikes, or says at which line something is wrong.
func (room *Room) saveDelivery(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	d := &delivery{editing: editing{shelf: unitShelf(), typed: wares.FromValues(posted), unsaved: true}, wrong: map[string]string{},
		count: strings.TrimSpace(posted.Get(countField)), first: strings.TrimSpace(posted.Get(firstField)), serials: strings.ReplaceAll(posted.Get(serialsField), "\r\n", "\n")}
	tags, err := room.deliver(r, d)
	switch {
	case err != nil:
		return err
	case tags == nil:
		return room.showDelivery(w, r, d, http.StatusUnprocessableEntity)
	}
	said := fmt.Sprintf("%d bikes are in the inventory: %s to %s.", len(tags), tags[0], tags[len(tags)-1])
	if len(tags) == 1 {
		said = "One bike is in the inventory: " + tags[0] + "."
	}
	room.Sessions.Put(r.Context(), kit.SaidKey, said)
	http.Redirect(w, r, kit.LabelsAddress+"?"+url.Values{"tag": tags}.Encode(), http.StatusSeeOther)
	return nil
}

// deliver stores the bikes in one transaction and returns their tags, or nil
// with what is wrong in d. Nobody can have been told anything about a bike that
// is new, so nobody is asked about. What is there already just so was sent twice.
func (room *Room) deliver(r *http.Request, d *delivery) ([]string, error) {
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return nil, err
		}
		d.current = c
		d.resolve()
		tags, units, err := d.units()
		if err != nil || units == nil {
			return nil, err
		}
		if allThere(c, units) {
			return tags, nil
		}
		after := *c
		after.Units = append(slices.Clone(c.Units), units...)
		err = room.storeInventory(r, revision, c, &after, store.ByEdit)
		var faults problem.List
		switch {
		case err == nil:
			return tags, nil
		case errors.As(err, &faults):
			d.take(faults, tags)
			return nil, nil
		case store.CodeOf(err) != store.Conflict:
			return nil, err
		}
	}
	return nil, errBusy
}

// allThere reports whether the bikes are there just so, whatever sources were
// noted of them since.
func allThere(c *catalog.Catalogue, units []catalog.Unit) bool {
	return !slices.ContainsFunc(units, func(u catalog.Unit) bool {
		return !slices.ContainsFunc(c.Units, func(there catalog.Unit) bool {
			u.Evidence, there.Evidence = nil, nil
			return reflect.DeepEqual(u, there)
		})
	})
}

// units reads the form; nil where it cannot be read, with what is wrong in d.
func (d *delivery) units() (tags []string, units []catalog.Unit, err error) {
	n, err := strconv.Atoi(d.count)
	if err != nil || n < 1 || n > catalog.MostAtOnce {
		d.wrong[countField] = fmt.Sprintf("write how many bikes came, 1 to %d", catalog.MostAtOnce)
		return nil, nil, nil
	}
	if tags, err = catalog.TagsFrom(d.first, n); err != nil {
		d.wrong[firstField] = err.Error()
		return nil, nil, nil
	}
	serials := d.serialLines(n)
	if len(d.typed.All("fitted")) == 0 {
		if f := d.current.Frame(d.typed.Get("frame")); f != nil {
			d.typed.Choose("fitted", f.ComesWith)
		}
	}
	for i, tag := range tags {
		d.typed.Set("tag", tag)
		d.typed.Set("serial", serials[i])
		document, err := d.typed.Document(wares.UnitList)
		if err != nil {
			return nil, nil, d.editing.take(err)
		}
		with, err := withThing(&catalog.Catalogue{}, wares.UnitList, -1, document)
		if err != nil {
			return nil, nil, d.editing.take(err)
		}
		units = append(units, with.Units...)
	}
	if len(d.lines) > 0 {
		return nil, nil, nil
	}
	return tags, units, nil
}

// serialLines returns a serial number for each of n bikes, empty where none is
// told, and notes lines that are one too many.
func (d *delivery) serialLines(n int) []string {
	lines := strings.Split(strings.TrimRight(d.serials, "\n "), "\n")
	d.lines = nil
	for i := n; i < len(lines); i++ {
		if text := strings.TrimSpace(lines[i]); text != "" {
			d.lines = append(d.lines, LineFault{Line: i + 1, Tag: text, Text: fmt.Sprintf("there are only %d bikes", n)})
		}
	}
	serials := make([]string, n)
	for i := range min(n, len(lines)) {
		serials[i] = strings.TrimSpace(lines[i])
	}
	return serials
}

// take sorts faults into those of one line and those that all lines share.
func (d *delivery) take(faults problem.List, tags []string) {
	for _, p := range faults {
		list, at := ownerAt(p.Path)
		line := at - len(d.current.Units)
		field := p.Path[strings.LastIndex(p.Path, "]")+1:]
		switch field = strings.TrimPrefix(field, "."); {
		case list != wares.UnitList || line < 0 || line >= len(tags):
			d.others = append(d.others, p)
		case field == "tag" || field == "serial":
			if field == "tag" {
				d.wrong[firstField] = "the next that is free is " + d.current.NextTag(d.typed.Get("kind"))
			}
			d.lines = append(d.lines, LineFault{Line: line + 1, Tag: tags[line], Text: p.Text})
		case line == 0:
			p.Path = strings.TrimPrefix(p.Path, problem.Index(wares.UnitList, at)+".")
			d.faults = append(d.faults, p)
		}
	}
}

// asText is what a text area shows: of a line that is empty at its beginning a
// browser takes one away.
func asText(typed string) string {
	if strings.HasPrefix(typed, "\n") {
		return "\n" + typed
	}
	return typed
}

// LineFault is what is wrong with one bike of a delivery.
type LineFault struct {
	Line      int
	Tag, Text string
}

// Delivery is the page on which several bikes are added at once.
type Delivery struct {
	kit.Shell
	Tabs     []kit.Step
	Action   string
	Alert    string
	Others   []FileFault
	Lines    []LineFault
	Count    kit.Field
	First    kit.Field
	Serials  WareField
	Sections []WareSection
	Lists    []OfferedList
}

func (room *Room) showDelivery(w http.ResponseWriter, r *http.Request, d *delivery, status int) error {
	view := Delivery{Shell: room.inventoryShell(r, "Delivery"), Tabs: tabs("Units"), Action: deliveryAddress, Lines: d.lines,
		Count: kit.Field{Name: countField, Label: "How many bikes", Mode: "numeric", Value: d.count, Error: d.wrong[countField], Needed: true},
		First: kit.Field{Name: firstField, Label: "First tag", Value: d.first, Error: d.wrong[firstField], Needed: true, Hint: "The others are counted on: D-014, D-015 and so on."},
		Serials: WareField{Shape: "area", Field: kit.Field{Name: serialsField, Label: "Serial numbers", Value: asText(d.serials),
			Hint: "One a line, in the order of the tags. A line may stay empty, and so may all of it."}},
	}
	draw := &drawing{editing: &d.editing, offers: offersOf(&d.editing)}
	view.Lists = draw.offers.lists()
	for _, section := range wares.Table[wares.UnitList] {
		// What is left has no figure that may have a source.
		section.Fields = slices.DeleteFunc(slices.Clone(section.Fields), func(f catalog.Field) bool {
			return f.Kind == catalog.Proofs || slices.Contains([]string{"tag", "serial", "weighed_kg", "weighed_on", "odometer_km"}, f.Name)
		})
		if len(section.Fields) > 0 {
			view.Sections = append(view.Sections, draw.section(section))
		}
	}
	for _, p := range d.others {
		view.Others = append(view.Others, FileFault{Where: p.Path, Text: p.Text})
	}
	if len(d.lines)+len(d.faults)+len(d.wrong)+len(d.others) > 0 {
		view.Alert = "Nothing is added yet: all of the bikes are, or none. What is wrong is marked below."
	}
	return kit.Render(r.Context(), w, status, DeliveryPage(view))
}
