package desk

import (
	"cmp"
	"slices"
	"strings"

	"kinwain/internal/compare"
	"kinwain/internal/match"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// sideBySide makes the view of a comparison.
type sideBySide struct {
	*talk.Consultation
	choices []*talk.Choice
	viewers []*talk.Viewer // of the choices
}

// compareGroups are the parts of the page, with the codes of their rows.
var compareGroups = []compareGroup{
	{"The answer", []string{"verdict", "score", "total_price", "add_ons", "reasons"}},
	{"Carrying", []string{"spare", "first_limit", "front_axle", "rear_axle", "carry_guideline", "rider_height", "horizon"}},
	{"At home", []string{"home", "length", "width", "height", "upright", "handling_mass"}},
	{"The bike", []string{"wheels", "brakes", "assist", "low_gear", "climb", "today"}},
}

type compareGroup struct {
	title string
	codes []string
}

// holds reports whether a row stands in the group. What the makers say a frame
// carries stands beside what it would carry here.
func (g compareGroup) holds(r *compare.Row) bool {
	return slices.Contains(g.codes, r.Code) || r.Label != "" && g.title == "Carrying"
}

// riderMeasures are the parts of the table with riders in columns.
var riderMeasures = []string{"rider_spare", "rider_share", "rider_height"}

func compareView(c *talk.Consultation, choices []*talk.Choice) Compare {
	v := &sideBySide{Consultation: c, choices: choices}
	var names []string
	var matches []*match.Match
	for _, chosen := range choices {
		v.viewers = append(v.viewers, talk.View(c, chosen.Match))
		matches = append(matches, chosen.Match)
		names = append(names, chosen.Named())
	}
	view := Compare{Back: c.Ticked(names), Passengers: len(c.Profile.Passengers.Or(nil)) > 0, Frames: v.heads(names)}
	rows := append(v.seen(compare.Rows(c.Profile, matches)), v.today())
	for _, group := range compareGroups {
		g := CompareGroup{Title: v.Say(group.title)}
		for _, row := range rows {
			switch {
			case row.Rider != "" || !group.holds(&row):
			case row.Same():
				view.Same = append(view.Same, SameRow{Label: v.label(&row), Cell: v.cell(&row, 0)})
			default:
				g.Rows = append(g.Rows, v.row(&row))
			}
		}
		if len(g.Rows) > 0 {
			view.Groups = append(view.Groups, g)
		}
	}
	v.riders(rows, &view)
	var open []string
	for _, path := range c.Profile.OpenQuestions() {
		open = append(open, talk.Question(c, path))
	}
	if len(open) > 0 {
		view.Open = v.Say("Not known yet, and not counted for any: %v.", v.Speaker.Series(open))
	}
	return view
}

// ofWeight are the rows that are worked out of what a rider weighs, other than
// what is to spare.
var ofWeight = []string{"score", "carry_guideline", "rider_share", "climb"}

// seen are the rows that may be shown.
func (v *sideBySide) seen(rows []compare.Row) []compare.Row {
	if !v.Form.HidesWeights() {
		return rows
	}
	return slices.DeleteFunc(rows, func(r compare.Row) bool { return slices.Contains(ofWeight, r.Code) })
}

// heads are the frames over the columns.
func (v *sideBySide) heads(names []string) []Compared {
	var heads []Compared
	for i, f := range v.viewers {
		head := Compared{Name: v.Speaker.Frame(f.Frame), Glance: f.Glance(), Kind: talk.FrameKind(v.Speaker, f.Frame), Href: v.choices[i].Address(v.Consultation, "")}
		if v.choices[i].ByHand {
			head.Name = v.Say("%v, built by hand", head.Name)
		}
		if len(f.Relaxed) > 0 {
			var names []string
			for _, r := range f.Relaxed {
				names = append(names, v.Say(talk.RelaxedNames[r]))
			}
			head.Without = v.Say("* leaves out %v", v.Speaker.List(names))
		}
		if len(names) > fewestCompared {
			head.Remove = compared(v.Consultation, slices.Delete(slices.Clone(names), i, i+1))
		}
		heads = append(heads, head)
	}
	var drawn []*kit.Drawing
	for i := range heads {
		drawn = append(drawn, &heads[i].Glance)
	}
	kit.AtOneScale(drawn...)
	return heads
}

// today is the row of what can be ridden or taken home today.
func (v *sideBySide) today() compare.Row {
	row := compare.Row{Code: "today"}
	for _, f := range v.viewers {
		demos, stock := availableOf(v.Catalogue, f.Frame.Code)
		var words []string
		if len(demos) > 0 {
			words = append(words, strings.Join(demos, ", "))
		}
		if stock > 0 {
			words = append(words, v.Say("%v in stock", stock))
		}
		cell := compare.Cell{State: compare.None}
		if len(words) > 0 {
			cell = compare.Cell{State: compare.Stated, Words: v.Speaker.Series(words)}
		}
		row.Cells = append(row.Cells, cell)
	}
	return row
}

func (v *sideBySide) row(r *compare.Row) CompareRow {
	view := CompareRow{Code: r.Code, Label: v.label(r)}
	for i := range r.Cells {
		view.Cells = append(view.Cells, v.cell(r, i))
	}
	evenDecimals(view.Cells)
	if win, ok := r.Winner(); ok {
		view.Cells[win.Best].Win = v.lead(r, win)
	}
	return view
}

// rowLabels name the rows.
var rowLabels = map[string]string{
	"verdict": "Verdict", "score": "Score", "total_price": "Price, all in", "add_ons": "To add", "reasons": "Stops and cares",
	"spare": "To spare, heaviest rider", "first_limit": "First limit", "front_axle": "Front axle, to spare", "rear_axle": "Rear axle, to spare", "carry_guideline": "Under the carry guideline", "rider_height": "Rider’s height, to the nearer end",
	"horizon": "Lasts until the end of",
	"home":    "Tightest at home", "length": "Length as built", "width": "Width as built", "height": "Height as built",
	"upright": "Length standing upright", "handling_mass": "To lift and push", "wheels": "Tyres, front and rear", "brakes": "Brakes, front and rear",
	"assist": "Motor", "low_gear": "Lowest gear, a turn", "today": "Today in the shop", "rider_spare": "To spare", "rider_share": "Carries, of own weight",
}

func (v *sideBySide) label(r *compare.Row) string {
	if slope, asked := v.Profile.Hill.Get(); r.Code == "climb" && asked {
		return v.Say("Up the %v hill", slope)
	}
	return v.Say(cmp.Or(r.Label, rowLabels[r.Code]))
}

// riders adds the table with a column for each rider, and folds the measures
// that are the same for every frame.
func (v *sideBySide) riders(rows []compare.Row, view *Compare) {
	for _, code := range riderMeasures {
		m := RiderMeasure{Label: v.Say(rowLabels[code])}
		var cells [][]CompareCell // by rider, then by frame
		same := true
		for _, row := range rows {
			if row.Code == code && row.Rider != "" {
				m.Riders = append(m.Riders, row.Rider)
				cells = append(cells, v.row(&row).Cells)
				same = same && row.Same()
			}
		}
		switch {
		case len(cells) == 0:
		case same:
			for i, rider := range m.Riders {
				view.Same = append(view.Same, SameRow{Label: v.Say("%v, rider %v", m.Label, rider), Cell: cells[i][0]})
			}
		default:
			view.Measures = append(view.Measures, m)
			for _, column := range cells {
				for i := range view.Frames {
					view.Frames[i].Riders = append(view.Frames[i].Riders, column[i])
				}
			}
		}
	}
}
