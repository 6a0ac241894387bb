package inventory

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// sum is what is done to a whole column, as it is typed.
type sum struct{ how, much, round, list string }

func sumOf(posted url.Values) sum {
	return sum{posted.Get("how"), strings.TrimSpace(posted.Get("much")), posted.Get("round"), posted.Get("list")}
}

// What is done to a column.
var sums = []kit.Option{{Value: "percent", Label: "per cent more (less: with a minus)"}, {Value: "plus", Label: "more (less: with a minus)"}, {Value: "fixed", Label: "for all"}}

// roundings are those of prices, in cents.
var roundings = map[string]catalog.Rounding{"0.05": {Step: 5}, "0.10": {Step: 10}, "0.50": {Step: 50}, "1": {Step: 100}, "5": {Step: 500}, "10": {Step: 1000},
	"0.95": {Step: 100, Below: 5}, "9": {Step: 1000, Below: 100}}

var roundingWords = []kit.Option{{Label: "As it comes"}, {Value: "0.05", Label: "to 0.05"}, {Value: "0.10", Label: "to 0.10"}, {Value: "0.50", Label: "to 0.50"}, {Value: "1", Label: "to the whole"},
	{Value: "5", Label: "to 5"}, {Value: "10", Label: "to 10"}, {Value: "0.95", Label: "to end in .95"}, {Value: "9", Label: "to end in 9"}}

// revision reads what is typed as what it does.
func (s sum) revision(f *catalog.Field) (catalog.Revision, error) {
	var by catalog.Revision
	if f.Kind == catalog.Money {
		by.Round = roundings[s.round]
	}
	figure, less := s.much, int64(1)
	for _, minus := range [...]string{"-", "−"} {
		if rest, behind := strings.CutPrefix(figure, minus); behind {
			figure, less = strings.TrimSpace(rest), -1
		}
	}
	kind := f.Kind
	if s.how == "percent" {
		kind = catalog.Share
	}
	value, err := wares.Figure(figure, kind)
	switch v := value.(type) {
	case nil:
		if err == nil {
			err = fmt.Errorf("write how much")
		}
	case measure.Share:
		by.Percent = measure.Percentage(less * int64(v))
		if f.Kind == catalog.Share && s.how != "percent" {
			by.Percent, by.Plus = 0, less*int64(v)
		}
	default:
		by.Plus = less * smallest(v)
	}
	by.Fixed = s.how == "fixed"
	return by, err
}

// smallest is a figure in its smallest unit.
func smallest(value any) int64 {
	switch v := value.(type) {
	case measure.Mass:
		return int64(v)
	case measure.Length:
		return int64(v)
	case measure.Volume:
		return int64(v)
	case measure.Money:
		return int64(v)
	case int:
		return int64(v)
	}
	return 0
}

// mostPasted bounds the lines of a pasted list.
const mostPasted = 10_000

// pasted reads a list of codes with a figure behind each, and leaves what it
// cannot read among the faults.
func (t *typing) pasted() map[string]any {
	values, known := map[string]any{}, map[string]bool{}
	for _, thing := range t.current.Things(t.list) {
		known[thing.Code] = true
	}
	fault := func(line int, text string) {
		if len(t.faults) < shownNotices {
			t.faults = append(t.faults, fmt.Sprintf("Line %d: %s.", line+1, text))
		}
	}
	for i, line := range strings.Split(strings.TrimRight(t.sum.list, "\r\n"), "\n") {
		line = strings.TrimSpace(line)
		code, figure := line, ""
		if at := strings.IndexAny(line, "\t; "); at >= 0 {
			code, figure = line[:at], strings.TrimLeft(line[at:], "\t; ")
		}
		_, twice := values[code]
		value, err := wares.Figure(figure, t.field.Kind)
		switch {
		case line == "":
		case i >= mostPasted:
			fault(i, fmt.Sprintf("a list takes %d lines at most", mostPasted))
			return values
		case !known[code]:
			fault(i, fmt.Sprintf("no %s has the code “%s”", t.one, code))
		case twice:
			fault(i, fmt.Sprintf("“%s” stands here twice", code))
		case err != nil:
			fault(i, wares.Sentence(err))
		case value == nil:
			fault(i, fmt.Sprintf("no figure stands behind “%s”", code))
		default:
			values[code] = value
		}
	}
	if len(values) == 0 && len(t.faults) == 0 {
		fault(0, "write a code, a blank and a figure in each line")
	}
	return values
}

// reckoned returns what the sum makes of all that is offered and found.
func (t *typing) reckoned(found []WareRow) (map[string]any, error) {
	by, err := t.sum.revision(t.field)
	if err != nil {
		return nil, err
	}
	within := map[string]bool{}
	for _, row := range found {
		within[row.Code] = true
	}
	values := map[string]any{}
	for _, thing := range t.current.Things(t.list) {
		// What is not stated is not known: nothing can be added to it.
		if was := t.field.Figure(thing.Of); within[thing.Code] && (was != 0 || by.Fixed) {
			values[thing.Code] = by.Of(was)
		}
	}
	return values, nil
}

// saveAll shows what a sum or a list makes of a column, and stores it where the
// page that is sent showed that very change.
func (room *Room) saveAll(w http.ResponseWriter, r *http.Request, t *typing, do string) error {
	for range tries {
		c, revision, err := room.store.CatalogueAt(r.Context())
		if err != nil {
			return err
		}
		t.current, t.faults = c, nil
		values, err := room.allOf(r, t, do)
		if err != nil || len(t.faults) > 0 {
			if err != nil {
				t.faults = append(t.faults, say.Capital(wares.Sentence(err))+".")
			}
			return room.showColumn(w, r, t, http.StatusUnprocessableEntity)
		}
		candidate, err := t.with(values)
		if err != nil {
			return err
		}
		if err := candidate.CheckAfter(c); err != nil && t.take(err, candidate) {
			return room.showColumn(w, r, t, http.StatusUnprocessableEntity)
		}
		ask, changed, err := room.allAsked(r, c, candidate)
		if err != nil {
			return err
		}
		if changed > 0 && r.PostForm.Get(kit.SeenField) != ask.Digest {
			return room.showAll(w, r, t, do, ask, changed)
		}
		switch err = room.storeInventory(r, revision, c, candidate, store.ByEdit); {
		case err == nil:
			return room.columnSaved(w, r, t, changed)
		case store.CodeOf(err) != store.Conflict:
			return err
		}
	}
	return errBusy
}

func (room *Room) allOf(r *http.Request, t *typing, do string) (map[string]any, error) {
	if do == "list" {
		return t.pasted(), nil
	}
	list, err := room.wareList(r, t.shelf)
	if err != nil {
		return nil, err
	}
	return t.reckoned(list.Rows)
}

// shownSums bounds what is listed of a column before it is changed.
const shownSums = 300

// allAsked draws what changes in a column, and whom that may concern.
func (room *Room) allAsked(r *http.Request, before, after *catalog.Catalogue) (*kit.Asking, int, error) {
	changes, err := catalog.Edits(before, after)
	if err != nil {
		return nil, 0, err
	}
	reach, err := room.watch.Reach(r.Context(), before, after)
	if err != nil {
		return nil, 0, err
	}
	lines := fieldChanges(changes, before, after)
	for i := range lines {
		lines[i].Field = "" // the heading says it of all
	}
	ask := kit.AskingView(lines, reach, kit.Digest(changes))
	if ask.Changes, ask.More = lines[:min(len(lines), shownSums)], ""; len(lines) > shownSums {
		ask.More = fmt.Sprintf("And %d more, in the same way.", len(lines)-shownSums)
	}
	return ask, len(changes), nil
}

func (room *Room) showAll(w http.ResponseWriter, r *http.Request, t *typing, do string, ask *kit.Asking, changed int) error {
	var also []kit.Hidden
	for _, h := range []kit.Hidden{{Name: "do", Value: do}, {Name: "how", Value: t.sum.how}, {Name: "much", Value: t.sum.much}, {Name: "round", Value: t.sum.round}, {Name: "list", Value: t.sum.list}} {
		if h.Value != "" {
			also = append(also, h)
		}
	}
	figures := say.Counted(changed, "figure", "figures")
	return room.showAsked(w, r, ask, asked{title: t.many + ": " + strings.ToLower(t.field.Label), button: "Save " + figures, action: r.URL.RequestURI(), back: r.URL.RequestURI(), also: also})
}
