package inventory

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/figures"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// rowsOf draws the rows of a list, retired ones too.
func rowsOf(c *catalog.Catalogue, h shelf) ([]Column, []WareRow) {
	switch h.list {
	case wares.FrameList:
		return frameRows(c)
	case wares.AddOnList:
		return addOnRows(c)
	}
	return unitRows(c)
}

func frameRows(c *catalog.Catalogue) ([]Column, []WareRow) {
	columns := []Column{{Label: "Type", Field: "type", Text: true, Minor: true, Roomy: true}, {Label: "Size", Field: "size", Text: true, Minor: true}, {Label: "Gross rating", Field: "gross_rating_kg"},
		{Label: "Bare weight", Field: "bare_weight_kg", Minor: true}, {Label: "Riders", Field: "rider_min_cm", Minor: true}, {Label: "Price", Field: "price_cents"}, {Label: "Units", Minor: true, Roomy: true}}
	units := map[string]int{}
	for _, u := range c.Units {
		units[u.Frame]++
	}
	var rows []WareRow
	for i := range c.Frames {
		f := &c.Frames[i]
		riders := strings.TrimSuffix(f.RiderMin.Show(measure.Metric, measure.Nearest), " cm") + " to " + f.RiderMax.Show(measure.Metric, measure.Nearest)
		rows = append(rows, wareRow(f.Code, f.Called(), f.Family+" "+f.Material+" "+f.Notes, plainWord(f.Type), f.Size, massWords(f.GrossRating), massWords(f.BareWeight), riders,
			f.Price.Show(c.Shop.Currency), strconv.Itoa(units[f.Code])))
	}
	return columns, rows
}

func addOnRows(c *catalog.Catalogue) ([]Column, []WareRow) {
	columns := []Column{{Label: "Zone", Field: "zone", Text: true, Minor: true, Roomy: true}, {Label: "Weight", Field: "weight_kg", Minor: true}, {Label: "Price", Field: "price_cents"},
		{Label: "Minutes", Field: "fitting_minutes", Minor: true, Roomy: true}, {Label: "Frames", Minor: true, Roomy: true}}
	var rows []WareRow
	for i := range c.AddOns {
		a := &c.AddOns[i]
		zone := a.Zone
		if zone == "" {
			zone = "none"
		}
		rows = append(rows, wareRow(a.Code, a.Name, strings.Join(a.Provides, " "), zone, massWords(a.Weight), a.Price.Show(c.Shop.Currency),
			strconv.Itoa(a.FittingMinutes), strconv.Itoa(len(a.Fits))))
	}
	return columns, rows
}

func unitRows(c *catalog.Catalogue) ([]Column, []WareRow) {
	columns := []Column{{Label: "Kind", Field: "kind", Text: true}, {Label: "Colour", Field: "colour", Text: true, Minor: true}, {Label: "Status", Field: "status", Text: true},
		{Label: "Weight", Minor: true, Roomy: true}, {Label: "Odometer", Field: "odometer_km", Minor: true, Roomy: true}}
	var rows []WareRow
	for i := range c.Units {
		u := &c.Units[i]
		weight, weighed := match.UnitWeight(c, u)
		words := massWords(weight)
		if !weighed {
			words = "computed " + words
		}
		rows = append(rows, wareRow(u.Tag, nameOfFrame(c, u.Frame), u.Frame, u.Kind, u.Colour, plainWord(u.Status), words, fmt.Sprintf("%d km", u.Odometer)))
	}
	return columns, rows
}

func nameOfFrame(c *catalog.Catalogue, code string) string {
	if f := c.Frame(code); f != nil {
		return f.Called()
	}
	return code
}

func wareRow(code, name, more string, cells ...string) WareRow {
	return WareRow{Code: code, Name: name, Cells: cells, Text: code + " " + name + " " + more + " " + strings.Join(cells, " ")}
}

func massWords(m measure.Mass) string { return m.Show(measure.Metric, measure.Nearest) }

func plainWord(word string) string { return strings.ReplaceAll(word, "_", " ") }

// weighedView holds the weight on the scale against the sum of the makers'
// figures.
func weighedView(c *catalog.Catalogue, u *catalog.Unit) []Tallied {
	if c.Frame(u.Frame) == nil {
		return nil
	}
	plain := *u
	plain.Weighed = 0
	computed, _ := match.UnitWeight(c, &plain)
	rows := []Tallied{{Label: "Makers’ figures: bare weight and what is on it", Figure: massWords(computed)}}
	if u.Weighed == 0 {
		return append(rows, Tallied{Label: "Not weighed: the makers’ figures count", Figure: "–", Total: true})
	}
	over, words := u.Weighed-computed, "heavier than the makers say"
	if over < 0 {
		over, words = -over, "lighter than the makers say"
	}
	return append(rows, Tallied{Label: "On the scale, " + u.WeighedOn.String(), Figure: massWords(u.Weighed)},
		Tallied{Label: "Difference: " + words, Figure: massWords(over), Total: true})
}

// shownFields bounds the changes of one save on a page.
const shownFields = 60

// savesView draws the history.
func savesView(saves []store.Save, zone *time.Location, currency string) []SaveView {
	how := map[string]string{store.ByEdit: "changed by hand", store.ByImport: "imported", store.ByUndo: "undone", store.ByRetiring: "retired or brought back"}
	var views []SaveView
	for _, save := range saves {
		at := save.At.In(zone)
		v := SaveView{Who: save.Who, How: how[save.How], When: at.Format("2 January 2006, 15:04"), At: at.Format(time.RFC3339)}
		for i, c := range save.Changes[:min(len(save.Changes), shownFields)] {
			line := HistoryChange{Thing: strings.TrimSpace(plainWord(c.List) + " " + c.Code), Field: historyField(c), Old: figureIn(c, c.Old, currency), New: figureIn(c, c.New, currency),
				Undo: fmt.Sprintf("%s/%d/%d", historyAddress, save.ID, save.Numbers[i])}
			if c.List == store.StocktakesList {
				v.How, line.Undo, line.Href, line.Thing = "stocktake", "", kit.StocktakesAddress+"/"+c.Code, "stocktake "+c.Code
			}
			if h, ok := shelfOf(c.List); ok && c.Code != "" {
				line.Href, line.Thing = h.address(c.Code), h.one+" "+c.Code
			}
			v.Changes = append(v.Changes, line)
		}
		if more := len(save.Changes) - shownFields; more > 0 {
			v.More = fmt.Sprintf("And %d more changes.", more)
		}
		views = append(views, v)
	}
	return views
}

// historyField names a field for people.
func historyField(c catalog.Change) string {
	switch {
	case c.List == store.SettingsList:
		return figures.Label(c.Field)
	case c.Code == "" && c.List != "shop":
		return "the order"
	case c.Field == "":
		return "all of it"
	}
	return say.Capital(fieldLabel(c.List, c.Field))
}

// fieldLabel is the label of a path: zones[rear].rating_kg is the Rating of
// the zone rear.
func fieldLabel(list, path string) string {
	if strings.HasPrefix(path, "evidence[") {
		return ofSource(list, path)
	}
	entry, inner, inside := strings.Cut(path, "]")
	name, box, _ := strings.Cut(path, ".")
	if inside {
		name, _, _ = strings.Cut(entry, "[")
	}
	f := fieldNamed(catalog.Of(list), name)
	switch {
	case f == nil:
		return path
	case inside:
		return strings.TrimSuffix(entryWords(list, entry)+": "+subLabel(f, strings.TrimPrefix(inner, ".")), ": ")
	case box != "" && f.Kind == catalog.PerFrame:
		frame, field, _ := strings.Cut(box, ".")
		return strings.TrimSuffix("on "+frame+": "+subLabel(f, field), ": ")
	case box != "":
		return subLabel(f, box)
	case f.Label == "":
		return say.Capital(f.One + "s")
	}
	return f.Label
}

// entryWords name an entry of a list: zones[rear is the zone rear.
func entryWords(list, path string) string {
	name, entry, _ := strings.Cut(path, "[")
	f := fieldNamed(catalog.Of(list), name)
	if f == nil {
		return path
	}
	if number, err := strconv.Atoi(strings.TrimPrefix(entry, "#")); err == nil && strings.HasPrefix(entry, "#") {
		entry = strconv.Itoa(number + 1)
	}
	return f.One + " " + entry
}

func fieldNamed(fields []catalog.Field, name string) *catalog.Field {
	i := slices.IndexFunc(fields, func(f catalog.Field) bool { return f.Name == name })
	if i < 0 {
		return nil
	}
	return &fields[i]
}

func subLabel(f *catalog.Field, name string) string {
	if sub := fieldNamed(f.Sub, name); sub != nil {
		return strings.ToLower(sub.Label)
	}
	return name
}
