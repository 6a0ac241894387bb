package inventory

import (
	"fmt"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// Family is next year's family of frames beside last year's.
type Family struct {
	kit.Shell
	Tabs    []kit.Step
	Heading string
	Action  string
	Alert   string
	Ask     *kit.Asking
	Unsaved bool     // what is typed was sent and is not kept yet
	From    []string // codes of last year's
	Names   []string
	Rows    []FamilyRow // what one of them states at least, or that is marked
	Empty   []FamilyRow // what none of them states
	Bring   bool
	Other   []string // faults of what is not shown
}

// FamilyRow is one figure of each.
type FamilyRow struct {
	Label, Unit, Mode string
	Words             []kit.Option
	Cells             []FamilyCell
}

// FamilyCell is one figure of one frame.
type FamilyCell struct {
	Name, Label, Value, Error string
	None                      bool // the frame has no such zone, mount or place
}

// familyRow is a field that all frames of a family may state.
type familyRow struct {
	path  string
	field catalog.Field
}

// has reports whether a frame has the zone, mount or place that a figure is of.
func (row familyRow) has(t wares.Typed) bool {
	entry, _, inside := strings.Cut(row.path, "].")
	if !inside {
		return true
	}
	list, number, _ := strings.Cut(entry, "[")
	n, err := strconv.Atoi(number)
	return err == nil && n < t.Rows(list)
}

func cellName(frame int, path string) string { return fmt.Sprintf("f%d:%s", frame, path) }

// rows are the fields of the family that can be typed beside each other, those
// within zones, mounts and places as far as any frame has them.
func (l *lineage) rows() []familyRow {
	var all []familyRow
	for _, f := range catalog.Of(wares.FrameList) {
		switch {
		case f.InColumn() || f.Name == "code":
			all = append(all, familyRow{f.Name, f})
		case f.Kind == catalog.Boxed && f.One == "":
			for _, sub := range f.Sub {
				all = append(all, familyRow{problem.Join(f.Name, sub.Name), sub})
			}
		case f.Kind == catalog.Rows:
			for i := range l.most(f.Name) {
				for _, sub := range f.Sub {
					if sub.InColumn() {
						all = append(all, familyRow{problem.Join(wares.Row(f.Name, i), sub.Name), sub})
					}
				}
			}
		}
	}
	return all
}

// most is how many rows a list has on the frame that has most.
func (l *lineage) most(list string) int {
	most := 0
	for _, t := range l.typed {
		most = max(most, t.Rows(list))
	}
	return most
}

func (l *lineage) view() Family {
	view := Family{Heading: "Next year’s " + l.parents[0].Called(), Alert: l.alert, Ask: l.ask, From: codesOf(l.parents), Bring: l.bring}
	if family := l.parents[0].Family; family != "" {
		view.Heading = "Next year’s " + family
	}
	for _, f := range l.parents {
		view.Names = append(view.Names, f.Called())
	}
	shown := map[string]bool{}
	for _, row := range l.rows() {
		shown[row.path] = true
		drawn, states := l.row(row)
		if states {
			view.Rows = append(view.Rows, drawn)
		} else {
			view.Empty = append(view.Empty, drawn)
		}
	}
	for i, faults := range l.faults {
		for _, f := range faults {
			if !shown[f.Path] {
				view.Other = append(view.Other, l.parents[i].Called()+", "+fieldLabel(wares.FrameList, f.Path)+": "+f.Text)
			}
		}
	}
	return view
}

// row draws a figure of every frame, and reports whether one states it or
// something is wrong with it.
func (l *lineage) row(row familyRow) (drawn FamilyRow, states bool) {
	drawn = FamilyRow{Label: l.label(row), Unit: typedUnit(&row.field, l.current.Shop.Currency), Mode: modes[row.field.Kind]}
	if row.field.Kind == catalog.Word {
		drawn.Words = wordOptions(row.field.Words)
	}
	for i, t := range l.typed {
		cell := FamilyCell{Name: cellName(i, row.path), Label: drawn.Label + ", " + l.parents[i].Called(), Value: t.Get(row.path), None: !row.has(t)}
		if text := l.faults[i].At(row.path); text != "" {
			cell.Error = say.Capital(text) + "."
		}
		states = states || cell.Value != "" || cell.Error != ""
		drawn.Cells = append(drawn.Cells, cell)
	}
	return drawn, states
}

// label names a figure: those of entries by what the entry is called on the
// first frame that has it.
func (l *lineage) label(row familyRow) string {
	entry, inner, inside := strings.Cut(row.path, "].")
	if !inside {
		return say.Capital(fieldLabel(wares.FrameList, row.path))
	}
	for _, t := range l.typed {
		if code := t.Get(entry + "].code"); code != "" {
			list, _, _ := strings.Cut(entry, "[")
			return say.Capital(fieldNamed(catalog.Of(wares.FrameList), list).One) + " " + code + ": " + strings.ToLower(row.field.Label)
		}
	}
	list, number, _ := strings.Cut(entry, "[")
	return say.Capital(fieldLabel(wares.FrameList, list+"[#"+number+"]."+inner))
}
