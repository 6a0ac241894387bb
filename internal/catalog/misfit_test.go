package catalog_test

import (
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/testdata"
)

func TestMisfits(t *testing.T) {
	c := small()
	seat := &c.AddOns[0]
	texts := func() string {
		var all []string
		for _, m := range c.Misfits() {
			word := "care "
			if m.Faulty {
				word = "fault "
			}
			all = append(all, word+m.AddOn+" "+m.Frame+": "+m.Text)
		}
		return strings.Join(all, "\n")
	}
	if got := texts(); got != "care seat-rear sedge: it needs two_leg_stand, and nothing that fits the frame gives that" {
		t.Errorf("%s", got)
	}
	c.Frames[0].Provides = []string{"two_leg_stand"} // and no wheel_guard any more
	seat.Fits = append(seat.Fits, "osier")
	want := `care seat-rear sedge: nobody can sit on it: that needs wheel_guard, and nothing that fits the frame gives that
fault seat-rear osier: it uses the mount deck_cm, which the frame does not have
care seat-rear osier: it needs two_leg_stand, and nothing that fits the frame gives that
care seat-rear osier: nobody can sit on it: that needs wheel_guard, and nothing that fits the frame gives that`
	if got := texts(); got != want {
		t.Errorf("%s", got)
	}
	seat.Zone, seat.Uses[0].Count = "front", 64
	if got := texts(); !strings.Contains(got, "fault seat-rear sedge: it takes 64 of the mount deck_cm, which holds 63") ||
		!strings.Contains(got, "fault seat-rear osier: it sits in the zone front, which the frame does not have") {
		t.Errorf("%s", got)
	}
}

// TestFaultyMisfitsAreFaults holds the two against each other: what the demo
// shop has is in order, and a pair that is called faulty is refused.
func TestFaultyMisfitsAreFaults(t *testing.T) {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	for i := range demo.AddOns {
		fits := demo.AddOns[i].Fits
		demo.AddOns[i].Evidence = nil // of what it fits, too
		for j := range demo.Frames {
			demo.AddOns[i].Fits = []string{demo.Frames[j].Code}
			faulty := false
			for _, m := range demo.Misfits() {
				faulty = faulty || m.Faulty
			}
			pairs := demo.AddOns[i].OnFrame
			demo.AddOns[i].OnFrame = nil
			if refused := demo.Check() != nil; refused != faulty {
				t.Errorf("%s on %s: faulty %v, refused %v", demo.AddOns[i].Code, demo.Frames[j].Code, faulty, refused)
			}
			demo.AddOns[i].OnFrame = pairs
		}
		demo.AddOns[i].Fits = fits
	}
}
