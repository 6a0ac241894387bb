package catalog_test

import (
	"testing"

	"kinwain/internal/catalog"
	"kinwain/testdata"
)

// What is gone is gone with all that belongs to it, but what a bike carries
// stays on that bike, and the rest is a catalogue without a fault.
func TestWithout(t *testing.T) {
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	unit := c.Units[0]
	kept := unit.Fitted[0]
	gone := map[string]bool{"frames teasel": true, "add_ons " + kept: true, "add_ons crate-dog": true}
	left := c.Without(func(list, code string) bool { return gone[list+" "+code] })
	if left.Frame("teasel") != nil || left.AddOn("crate-dog") != nil {
		t.Error("what is gone is still there")
	}
	for _, u := range left.Units {
		if u.Frame == "teasel" {
			t.Errorf("unit %s of a frame that is gone is still there", u.Tag)
		}
	}
	if a := left.AddOn(kept); a == nil || len(a.Fits) == 0 {
		t.Errorf("%s is on %s and has to stay for its frame", kept, unit.Tag)
	}
	if err := left.Check(); err != nil {
		t.Error(err)
	}
	if len(left.Frames) != len(c.Frames)-1 {
		t.Errorf("%d of %d frames are left", len(left.Frames), len(c.Frames))
	}
}
