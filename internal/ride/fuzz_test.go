package ride_test

import (
	"fmt"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
)

// What is read as a wheel is two whole figures, written again as they were but
// for zeros before them; it rolls further than its bead seat is round, and any
// pressure to start from is more than none.
func FuzzWheelOf(f *testing.F) {
	for _, text := range []string{"50-406", "23-622", "057-559", "50-4060", "0-406", "50-000", "20 x 2.0", "50-", "-406", "50-406-3", "+50-406", "５０-406", "50 - 406", ""} {
		f.Add(text, 60_000)
	}
	f.Fuzz(func(t *testing.T, text string, grams int) {
		w, ok := ride.WheelOf(text)
		if !ok {
			if w != (ride.Wheel{}) {
				t.Errorf("%q is none, yet %v", text, w)
			}
			return
		}
		if w.Bead != catalog.BeadSeat(text) || w.Width <= 0 || w.Bead <= 0 {
			t.Errorf("%q is %v", text, w)
		}
		if again, ok := ride.WheelOf(fmt.Sprintf("%02d-%03d", int(w.Width), int(w.Bead))); !ok || again != w {
			t.Errorf("%q is %v, and written again %v, %v", text, w, again, ok)
		}
		if round := w.Circumference(); 1000*int64(round) <= 3141*int64(w.Bead) {
			t.Errorf("%q rolls %d mm", text, round)
		}
		if p, ok := w.Start(measure.Mass(grams)); ok && p <= 0 || !ok && p != 0 {
			t.Errorf("%q under %d g starts from %d, %v", text, grams, p, ok)
		}
	})
}
