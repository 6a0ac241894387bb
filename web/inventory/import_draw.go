package inventory

import (
	"fmt"
	"net/http"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// How much of a long list is shown.
const (
	shownFaults  = 200
	shownChanges = 500
)

const staleWords = "Somebody has changed the catalogue since you sent this. Nothing was imported. Below is what would change now; where that would undo their work, send the files again."

func (room *Room) importView(r *http.Request) Import {
	return Import{
		Shell: room.inventoryShell(r, "Catalogue in and out"), Tabs: tabs("In and out"), Action: kit.ImportAddress, Accept: ".xlsx,.csv,.zip,.json",
		Most: fmt.Sprintf("%d MB at most.", maxUpload>>20),
		Exports: []kit.Step{
			{Label: "Workbook (.xlsx)", Href: exportAddress + "?format=xlsx"}, {Label: "CSV tables, zipped", Href: exportAddress + "?format=csv"}, {Label: "JSON document", Href: exportAddress + "?format=json"},
		},
		Dictionary: dictionaryAddress,
	}
}

func faultsView(view *Import, faults problem.List) {
	view.Title = "Faults in the files"
	view.Heading = say.Counted(len(faults), "fault in the files", "faults in the files")
	for i, p := range faults {
		if i == shownFaults {
			view.More = fmt.Sprintf("And %d more. They show once these are mended.", len(faults)-i)
			break
		}
		view.Faults = append(view.Faults, FileFault{Where: p.Path, Text: say.Capital(p.Text) + "."})
	}
}

func importedWords(c *catalog.Catalogue) string {
	return fmt.Sprintf("Imported. The catalogue now has %s, %s and %s.", say.Counted(len(c.Frames), "frame", "frames"),
		say.Counted(len(c.AddOns), "add-on", "add-ons"), say.Counted(len(c.Units), "unit", "units"))
}

func (room *Room) dryRunView(r *http.Request, i *waiting) DryRun {
	view := DryRun{
		Shell: room.inventoryShell(r, "What would change"), Tabs: tabs("In and out"), Name: i.Name, Summary: summaryOf(i.changes),
		Action: kit.ImportAddress + "/" + i.ID, Back: kit.ImportAddress,
	}
	if i.Revision != i.revision {
		view.Stale = staleWords
	}
	if len(i.changes) == 0 {
		return view
	}
	view.At = kit.Digest(i.changes)
	if more := len(i.changes) - shownChanges; more > 0 {
		view.More = fmt.Sprintf("And %d more differences, which are not shown here.", more)
	}
	view.Groups = changeGroups(i)
	view.Lost, view.Leaps, view.Sources = lostNotices(i), leapNotices(i), sourceNotices(i)
	return view
}

// summaryOf counts what would change, in words.
func summaryOf(changes []catalog.Change) string {
	if len(changes) == 0 {
		return "Nothing. The catalogue is already as in these files."
	}
	things := map[string]bool{}
	counts := map[catalog.Kind]int{}
	for _, c := range changes {
		switch {
		case c.Whole() || c.Kind() == catalog.Moved:
			counts[c.Kind()]++
		default: // whatever becomes of the field, the thing is changed
			counts[catalog.Changed]++
			things[c.List+" "+c.Code] = true
		}
	}
	words := []string{}
	if n := counts[catalog.Removed]; n > 0 {
		words = append(words, fmt.Sprintf("%d removed", n))
	}
	if n := counts[catalog.Added]; n > 0 {
		words = append(words, fmt.Sprintf("%d added", n))
	}
	if n := counts[catalog.Changed]; n > 0 {
		words = append(words, fmt.Sprintf("%s changed in %s", say.Counted(n, "field", "fields"), say.Counted(len(things), "entry", "entries")))
	}
	if n := counts[catalog.Moved]; n > 0 {
		words = append(words, fmt.Sprintf("%s in another order", say.Counted(n, "list", "lists")))
	}
	return say.Capital(strings.Join(words, ", ")) + "."
}

// changeGroups sorts the first of the changes by what they are about.
func changeGroups(i *waiting) []ChangeGroup {
	names := namesOf(i.current, i.new)
	headings := []struct{ list, heading string }{{"shop", "The shop"}, {"frames", "Frames"}, {"add_ons", "Add-ons"}, {"units", "Units"}}
	shown := i.changes[:min(len(i.changes), shownChanges)]
	var groups []ChangeGroup
	for _, h := range headings {
		g := ChangeGroup{Heading: h.heading}
		for _, c := range shown {
			if c.List == h.list {
				addChange(&g, c, Thing{Code: c.Code, Name: names[c.List+" "+c.Code]}, i.field(c))
			}
		}
		if len(g.Added)+len(g.Removed)+len(g.Changed) > 0 || g.Moved != "" {
			groups = append(groups, g)
		}
	}
	return groups
}

// addChange adds a change to its group. The fields of one thing come one after
// the other.
func addChange(g *ChangeGroup, c catalog.Change, t Thing, field ChangedField) {
	switch {
	case c.Kind() == catalog.Moved:
		g.Moved = "The order of the list changes."
	case c.Whole() && c.Kind() == catalog.Added:
		g.Added = append(g.Added, t)
	case c.Whole() && c.Kind() == catalog.Removed:
		g.Removed = append(g.Removed, t)
	default:
		if n := len(g.Changed); n == 0 || g.Changed[n-1].Thing != t {
			g.Changed = append(g.Changed, ChangedThing{Thing: t})
		}
		last := &g.Changed[len(g.Changed)-1]
		last.Fields = append(last.Fields, field)
	}
}

// field says a changed field before and after, with the column that it is in.
func (i *waiting) field(c catalog.Change) ChangedField {
	changed := ChangedField{Field: historyField(c), Old: figureIn(c, c.Old, i.current.Shop.Currency), New: figureIn(c, c.New, i.new.Shop.Currency)}
	if f := c.About(); f != nil {
		changed.Column = f.Header()
	}
	return changed
}

// namesOf returns what people call each thing, by its list and its code.
func namesOf(catalogues ...*catalog.Catalogue) map[string]string {
	names := map[string]string{}
	for _, c := range catalogues {
		names["shop "] = c.Shop.Name
		for i := range c.Frames {
			names["frames "+c.Frames[i].Code] = c.Frames[i].Name
		}
		for i := range c.AddOns {
			names["add_ons "+c.AddOns[i].Code] = c.AddOns[i].Name
		}
		for i := range c.Units {
			names["units "+c.Units[i].Tag] = names["frames "+c.Units[i].Frame]
		}
	}
	return names
}
