package concern

import (
	"context"
	"slices"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
)

// veryBike is the bike that a quote is for, by what was told and today; was is
// nil where it is for none, or for one that is not there by both.
type veryBike struct{ was, is *catalog.Unit }

func (c *customer) veryBike(q *quote.Quote) veryBike {
	v := veryBike{c.old.Catalogue.Unit(q.Unit), c.new.Catalogue.Unit(q.Unit)}
	if v.was == nil || v.is == nil || v.was.Frame != q.Frame || v.is.Frame != q.Frame {
		return veryBike{}
	}
	return v
}

// another reports whether a build on it may be another answer though its frame
// is not.
func (v veryBike) another() bool {
	return v.was != nil && (v.was.Weighed != v.is.Weighed || v.was.Price != v.is.Price || !sameThings(v.was.Fitted, v.is.Fitted))
}

// bikesOf says what has become of the bike that a quote is for, and of those
// that are held for it. What is handed over is the customer's.
func (c *customer) bikesOf(ctx context.Context, q *quote.Quote) (parts []string, worse bool, err error) {
	if !q.HandedOver.IsZero() || c.new.Catalogue.Frame(q.Frame) == nil { // the bikes go with the frame
		return nil, false, nil
	}
	reserved, err := c.Store.Reservations(ctx)
	if err != nil {
		return nil, false, err
	}
	say := func(tag, how string) {
		was := c.old.Catalogue.Unit(tag)
		if was == nil {
			return // somebody has seen that it is gone
		}
		if text, bad := c.becameOf(was).promised(); text != "" {
			parts, worse = append(parts, "the bike "+tag+", "+how+", "+text), worse || bad
		}
	}
	if q.Unit != "" {
		say(q.Unit, "which it is for")
	}
	for _, r := range reserved {
		if r.Quote == q.ID && r.Unit != q.Unit && r.Holds(measure.DateOf(c.Now())) {
			say(r.Unit, "held for it")
		}
	}
	return parts, worse, nil
}

// fate is what has become of one bike since somebody was told of it.
type fate struct {
	was, is  *catalog.Unit
	old, new *catalog.Catalogue
	gone     string // why nobody is offered it any more; empty: it is
}

func (c *customer) becameOf(was *catalog.Unit) *fate {
	f := &fate{was: was, is: c.new.Catalogue.Unit(was.Tag), old: c.old.Catalogue, new: c.new.Catalogue}
	switch {
	case f.is == nil && c.retired[store.Thing{List: "units", Code: was.Tag}]:
		f.gone = "is retired"
	case f.is == nil:
		f.gone = "is no longer offered"
	case f.is.Frame != was.Frame:
		f.gone = "is another frame now"
	}
	return f
}

// said collects what is another fact of a bike.
type said struct {
	texts []string
	worse bool // for whom it was promised to
}

func (s *said) add(text string, worse bool) {
	if text != "" {
		s.texts, s.worse = append(s.texts, text), s.worse || worse
	}
}

func (s *said) words() (text string, worse bool) {
	if last := len(s.texts) - 1; last > 0 {
		return strings.Join(s.texts[:last], ", ") + " and " + s.texts[last], s.worse
	}
	return strings.Join(s.texts, ""), s.worse
}

// promised says what matters to whom it was promised to buy it.
func (f *fate) promised() (text string, worse bool) {
	if f.gone != "" {
		return f.gone, true
	}
	s := &said{}
	s.add(f.place())
	s.add(f.expected())
	s.add(f.price(), false) // what was quoted stays quoted
	s.add(f.weight())
	f.things(s)
	return s.words()
}

// ridden says what matters to whoever is to ride it.
func (f *fate) ridden() (text string, worse bool) {
	if f.gone != "" {
		return f.gone, true
	}
	s := &said{}
	s.add(f.place())
	if f.was.Kind != f.is.Kind && f.is.Kind != "demo" {
		s.add("is no demo any more", true)
	}
	s.add(f.weight())
	f.things(s)
	return s.words()
}

// places says where a bike is that nobody can have now.
var places = map[string]string{catalog.Ordered: "ordered", catalog.InRepair: "in repair", quote.Sold: "sold"}

func (f *fate) place() (text string, worse bool) {
	was, is := f.was.Away(), f.is.Away()
	switch {
	case was == is:
		return "", false
	case is == "":
		return "is in the shop now, and was " + places[was], false
	case is == catalog.Ordered && !f.is.Arrival.IsZero():
		return "is not in the shop yet, but expected " + day(f.is.Arrival), true
	case is == catalog.Ordered:
		return "is not in the shop yet, but ordered", true
	}
	return "is " + places[is], true
}

// expected says of what was ordered and still is when it comes.
func (f *fate) expected() (text string, worse bool) {
	was, is := f.was.Arrival, f.is.Arrival
	switch {
	case f.was.Status != catalog.Ordered || f.is.Status != catalog.Ordered || was == is:
		return "", false
	case is.IsZero():
		return "is not expected " + day(was) + " any more", true
	case was.IsZero():
		return "is expected " + day(is), false
	}
	return "is expected " + day(is) + " instead of " + day(was), was.Latest().Before(is.Latest())
}

// day writes a day, or a month where no day is said.
func day(d measure.Date) string {
	layout := "2 January 2006"
	if d.Day == 0 {
		layout = "January 2006"
	}
	return time.Date(d.Year, d.Month, max(d.Day, 1), 0, 0, 0, 0, time.UTC).Format(layout)
}

// price says what this very bike costs, where it is no longer what it did on
// its own: what its frame costs is judged with the whole.
func (f *fate) price() string {
	was := f.old.Frame(f.was.Frame).PriceOf(f.was).Show(f.old.Shop.Currency)
	is := f.new.Frame(f.is.Frame).PriceOf(f.is).Show(f.new.Shop.Currency)
	if f.was.Price == f.is.Price || was == is {
		return ""
	}
	return "costs " + is + " instead of " + was
}

func (f *fate) weight() (text string, worse bool) {
	if f.was.Weighed == f.is.Weighed {
		return "", false
	}
	was, _ := match.UnitWeight(f.old, f.was)
	is, _ := match.UnitWeight(f.new, f.is)
	shown := func(m measure.Mass) string { return m.Show(measure.Metric, measure.Up) }
	if shown(was) == shown(is) {
		return "", false
	}
	return "weighs " + shown(is) + " instead of " + shown(was), is > was
}

// things says what is on the bike now that was not, and the other way round.
func (f *fate) things(s *said) {
	s.add(having("no longer has on it: ", f.old, missing(f.was.Fitted, f.is.Fitted)), true)
	s.add(having("has on it now: ", f.new, missing(f.is.Fitted, f.was.Fitted)), false)
}

func having(words string, c *catalog.Catalogue, codes []string) string {
	var names []string
	for _, code := range codes {
		name := code
		if a := c.AddOn(code); a != nil {
			name = strings.ToLower(a.Name)
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return ""
	}
	return words + strings.Join(names, ", ")
}

// missing lists what is in one list and not in another, each as often as it is.
func missing(from, in []string) []string {
	left := slices.Clone(in)
	return slices.DeleteFunc(slices.Clone(from), func(code string) bool {
		at := slices.Index(left, code)
		if at >= 0 {
			left = slices.Delete(left, at, at+1)
		}
		return at >= 0
	})
}

func sameThings(a, b []string) bool { return len(missing(a, b))+len(missing(b, a)) == 0 }
