package talk

import (
	"slices"

	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// row is one mass of a load sheet: an item, or the bare frame or the rider,
// which are none.
type row struct {
	Mass measure.Mass
	Item *load.Item
}

// figures are a load sheet as it is shown. Its rows add up, so each may be
// rounded either way; wherever else the page speaks of one of them it takes
// the figure from here.
type figures struct {
	rows  []row
	rider int // the place of the rider among them
	measure.Tally
}

// figuresOf adds up a load sheet in the order in which it is shown. Only the
// rider's row differs between the sheets of a build, and it alone takes up the
// difference.
func figuresOf(sh *load.Sheet, s measure.System) *figures {
	f := &figures{rows: []row{{Mass: sh.Bare}}}
	for _, kind := range [...]load.Kind{load.TakenOff, load.Added, rider, load.Passenger, load.Pet, load.Cargo} {
		if kind == rider {
			f.rider = len(f.rows)
			f.rows = append(f.rows, row{Mass: sh.Rider.Riding})
		}
		for i := range sh.Items {
			if item := &sh.Items[i]; item.Kind == kind {
				r := row{item.Mass, item}
				if kind == load.TakenOff {
					r.Mass = -r.Mass
				}
				f.rows = append(f.rows, r)
			}
		}
	}
	masses := make([]measure.Mass, len(f.rows))
	for i := range f.rows {
		masses[i] = f.rows[i].Mass
	}
	f.Tally = measure.NewTally(masses, f.rider, sh.Rating, s)
	return f
}

// rider stands for the rider among the kinds of items.
const rider load.Kind = "rider"

// of returns what the items that are meant are shown as, in all, and how many
// there are.
func (f *figures) of(meant func(*load.Item) bool) (sum measure.Mass, n int) {
	for i, r := range f.rows {
		if r.Item != nil && meant(r.Item) {
			sum, n = sum+f.Shown[i], n+1
		}
	}
	return sum, n
}

// shownOf returns what the load sheets show n items as that are meant, or what
// they weigh where there is no sheet, or one of other things: of all that was
// asked for, where the build leaves something out.
func shownOf(m *match.Match, s measure.System, n int, weigh measure.Mass, meant func(*load.Item) bool) match.Rounded {
	if len(m.Sheets) > 0 {
		if shown, there := figuresOf(&m.Sheets[0], s).of(meant); there == n {
			return match.Rounded{Figure: shown, Rounding: measure.Nearest}
		}
	}
	return up(weigh)
}

// AsShown returns a sentence of a match with the figures of its load sheets
// where it speaks of a mass that stands there: of a passenger whom it names, of
// a whole, or of what an axle bears.
func AsShown(m *match.Match, said match.Message, s measure.System) match.Message {
	args := slices.Clone(said.Args)
	for i, a := range args {
		if within, ok := a.(match.Message); ok {
			args[i] = AsShown(m, within, s)
			continue
		}
		if r, ok := a.(match.Rounded); ok {
			a = r.Figure
		}
		if exact, ok := a.(measure.Mass); ok {
			if shown, stands := standing(m, exact, said.Args, s); stands {
				args[i] = shown
			}
		}
	}
	return match.Message{Format: said.Format, Args: args}
}

// standing finds a mass of a sentence in the load sheets.
func standing(m *match.Match, exact measure.Mass, args []any, s measure.System) (match.Rounded, bool) {
	for i := range m.Sheets {
		sh := &m.Sheets[i]
		if exact == sh.Total || sh.Axles && (exact == sh.Front || exact == sh.Rear) {
			return up(exact), true
		}
	}
	if len(m.Sheets) == 0 {
		return match.Rounded{}, false
	}
	for i := range m.Sheets[0].Items {
		item := &m.Sheets[0].Items[i]
		named := func(a any) bool { l, is := a.(match.Label); return is && l.Text == item.Label }
		if item.Kind == load.Passenger && item.Mass == exact && slices.ContainsFunc(args, named) {
			return shownOf(m, s, 1, exact, passenger(item.Label)), true
		}
	}
	return match.Rounded{}, false
}

// passenger means the item of a passenger.
func passenger(label string) func(*load.Item) bool {
	return func(item *load.Item) bool { return item.Kind == load.Passenger && item.Label == label }
}

// addOn means the items of an add-on that is fitted, or taken off.
func addOn(kind load.Kind, code string) func(*load.Item) bool {
	return func(item *load.Item) bool { return item.Kind == kind && item.Code == code }
}
