package talk

import (
	"kinwain/internal/load"
	"kinwain/internal/measure"
)

// row is one mass of a load sheet: an item, or the bare frame or the rider,
// which are none.
type row struct {
	Mass measure.Mass
	Item *load.Item
}

// figures are a load sheet as it is shown, its rows in order.
type figures struct {
	rows  []row
	rider int // the place of the rider among them
	measure.Tally
}

// figuresOf adds up a load sheet in the order in which it is shown.
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
	f.Tally = measure.NewTally(masses, sh.Rating, s)
	return f
}

// rider stands for the rider among the kinds of items.
const rider load.Kind = "rider"
