package catalog_test

import (
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/testdata"
)

// TestAlike copies every frame of the demo shop: whatever fits the one fits the
// other, in the same way, and nothing else changes.
func TestAlike(t *testing.T) {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	pairs := 0
	for _, f := range demo.Frames {
		c := *demo
		f.Code += "-next"
		c.Frames = append(slices.Clone(c.Frames), f)
		from := strings.TrimSuffix(f.Code, "-next")
		with, brought, left := c.Alike(from, f.Code)
		if err := with.CheckAfter(&c); err != nil || len(left) > 0 {
			t.Fatalf("%s: %v, left %v", from, err, left)
		}
		n := 0
		for i, a := range with.AddOns {
			was := &demo.AddOns[i]
			if slices.Contains(was.Fits, from) != slices.Contains(a.Fits, f.Code) {
				t.Errorf("%s: %s", from, a.Code)
			}
			if slices.Contains(a.Fits, f.Code) {
				n++
			}
			if pair, differs := was.OnFrame[from]; differs {
				if pairs++; a.OnFrame[f.Code] != pair {
					t.Errorf("%s: what differs of %s is lost", from, a.Code)
				}
			}
			if len(was.Fits) != len(demo.AddOns[i].Fits) || was.OnFrame[f.Code] != (catalog.Pair{}) {
				t.Fatalf("%s: the catalogue itself changes", from)
			}
		}
		if n != brought {
			t.Errorf("%s: %d brought, said %d", from, n, brought)
		}
		if _, again, _ := with.Alike(from, f.Code); again != 0 {
			t.Errorf("%s: %d once more", from, again)
		}
	}
	if pairs == 0 {
		t.Error("nothing of the demo shop differs on a frame")
	}
}

// TestNotWhollyAlike: what needs a zone that the other frame lacks stays.
func TestNotWhollyAlike(t *testing.T) {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	f := demo.Frames[0]
	in := func(zone string) (n int) {
		for _, a := range demo.AddOns {
			if slices.Contains(a.Fits, f.Code) && a.Zone == zone {
				n++
			}
		}
		return n
	}
	gone := f.Zones[0].Code
	if in(gone) == 0 {
		t.Fatalf("nothing sits in %s", gone)
	}
	f.Code, f.Zones = "next", slices.Clone(f.Zones[1:])
	demo.Frames = append(slices.Clone(demo.Frames), f)
	with, _, left := demo.Alike(demo.Frames[0].Code, f.Code)
	if len(left) < in(gone) {
		t.Errorf("%d left, %d sit in %s", len(left), in(gone), gone)
	}
	for _, m := range left {
		if slices.Contains(with.AddOn(m.AddOn).Fits, f.Code) || !m.Faulty {
			t.Errorf("%v", m)
		}
	}
}
