package desk

import "testing"

// TestWhatHelpsIsNotGuessed holds that of a frame of which nobody knows whether a
// change would help, the row says that and no more.
func TestWhatHelpsIsNotGuessed(t *testing.T) {
	t.Parallel()
	const open = "Whether a single change would make it fit was not settled in time."
	for settled, none := range map[bool]string{true: "No single change makes it fit.", false: "Looking for one change that makes it fit …"} {
		r := Ranking{Unfit: []Ranked{{Change: "Fits without the pet."}, {Unhelped: open}, {}}}
		r.unhelped(settled)
		for i, want := range []string{"", open, none} {
			if got := r.Unfit[i].Unhelped; got != want {
				t.Errorf("settled %t, row %d: %q, want %q", settled, i, got, want)
			}
		}
	}
}
