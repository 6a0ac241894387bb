package browser_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

// TestPhotoBesideASourceInABrowser asks for a photo of a figure once somebody says
// where it was read, names the one that is chosen, and keeps it in sight after
// that, so that nothing is sent unseen.
func TestPhotoBesideASourceInABrowser(t *testing.T) {
	s := webtest.Open(t)
	b := browser(t).tab(s)
	b.signIn()
	b.visit("/inventory/frames/sedge")
	const shown = `document.querySelector('label[for="gross_rating_kg.source_photo"]').checkVisibility()`
	asks := func(when string, want bool) {
		t.Helper()
		if evaluate[bool](b, shown) != want {
			t.Errorf("%s it asks for a photo: %v", when, !want)
		}
	}
	asks("with the source of before", false)
	b.choose("gross_rating_kg.source", "rating_plate")
	asks("read now", true)
	if side := evaluate[float64](b, `(({width, height}) => Math.min(width, height))(document.querySelector('label[for="gross_rating_kg.source_photo"]').getBoundingClientRect())`); side < 43.5 {
		t.Errorf("what is touched is %.1f px", side)
	}
	b.choose("gross_rating_kg.source", "kept")
	asks("as it was", false)
	b.choose("gross_rating_kg.source", "rating_plate")

	file := filepath.Join(t.TempDir(), "plate-on-the-left.png")
	if err := os.WriteFile(file, webtest.PictureOf(t, 40, 30), 0o600); err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles(field("gross_rating_kg.source_photo"), []string{file}))
	b.until(`document.querySelector('output[for="gross_rating_kg.source_photo"]').textContent === "plate-on-the-left.png"`)
	b.choose("gross_rating_kg.source", "kept")
	asks("with a photo that would be sent", true)
	b.click(`.stuck button[value="save"]`)
	b.until(`document.querySelector(".done")`)
	if e := catalog.Source(s.Catalogue().Frame("sedge").Evidence, "gross_rating_kg"); e == nil || e.Photo == "" {
		t.Errorf("the photo is not kept: %+v", e)
	}
	asks("saved", false)
}
