package wideshop_test

import (
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/wideshop"
	"kinwain/testdata"
)

func TestWideShops(t *testing.T) {
	t.Parallel()
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	plain, varied := wideshop.Of(demo, 100, 500), wideshop.Varied(demo, 100, 500)
	for _, c := range []*catalog.Catalogue{plain, varied} {
		if err := c.Check(); err != nil {
			t.Error(err)
		}
		if len(c.Frames) < 100 || len(c.AddOns) < 500 {
			t.Errorf("%d frames and %d add-ons", len(c.Frames), len(c.AddOns))
		}
	}
	same, n := 0, len(demo.Frames)
	for i := range varied.Frames[n:] {
		a, b := &varied.Frames[i], &varied.Frames[i+n]
		if a.GrossRating == b.GrossRating && a.BareWeight == b.BareWeight && a.Price == b.Price {
			same++
		}
		if plain.Frames[i].GrossRating != plain.Frames[i+n].GrossRating {
			t.Errorf("%s and its copy differ", plain.Frames[i].Code)
		}
	}
	if same > 0 {
		t.Errorf("%d frames are like their copy before", same)
	}
}
