package inventory_test

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/internal/catalog/sheet"
	"kinwain/web/webtest"
)

const (
	sedgePath = "/inventory/frames/sedge"
	grossOf   = "gross_rating_kg"
)

// saveWith saves a form with photos beside figures.
func saveWith(v *webtest.Visitor, path string, form url.Values, photos map[string][]byte) *webtest.Answer {
	v.Helper()
	form.Set("do", "save")
	return v.SendFiles(path, form, photos)
}

// TestPhotoBesideAFigure takes a photo beside a figure and does nothing else:
// that is a reading of the rating plate. It is shown to staff, from the load
// sheet on, and to nobody else; an undo brings it back.
func TestPhotoBesideAFigure(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	form := v.Get(sedgePath).Ware()
	input := v.Get(sedgePath).One(`form#ware[enctype="multipart/form-data"] input[type="file"][name="gross_rating_kg.source_photo"]`)
	if input.AttrOr("accept", "") != "image/*" || input.AttrOr("capture", "") != "environment" {
		t.Error("it does not open the camera")
	}
	a := saveWith(v, sedgePath, form.Values, map[string][]byte{grossOf + ".source_photo": webtest.PictureOf(t, 2000, 1000)})
	if a.Status != http.StatusOK || !strings.Contains(a.Text(".done"), "Saved: 1 field changed.") {
		t.Fatalf("%d %s %s", a.Status, a.Text(".done"), a.Text(".alert"))
	}
	got := noted(v, "sedge", grossOf)
	if got.Kind != "rating_plate" || got.On.String() != "2026-11-25" || got.By == "" || len(got.Photo) != 32 {
		t.Fatalf("%+v", got)
	}
	if words := a.One(`select[name="gross_rating_kg.source"] option[selected]`).Text(); !strings.HasSuffix(words, "with a photo") {
		t.Errorf("shown is %q", words)
	}
	page := a.One(`.source a[href="/sources/`+got.Photo+`"] img`).Parent().AttrOr("href", "")
	shown := v.Get(page).Is(http.StatusOK, page)
	if words := shown.Text(".source-of"); !strings.Contains(words, "Sedge") || !strings.Contains(words, "Gross rating") || !strings.Contains(words, "Rating plate, 25 November 2026") {
		t.Errorf("the page says %q", words)
	}
	for address, side := range map[string]int{shown.One("img.source-photo").AttrOr("src", ""): 1600, page + "/picture?size=small": 160} {
		picture := v.Get(address)
		config, err := jpeg.DecodeConfig(bytes.NewReader(picture.Body))
		if err != nil || config.Width != side || !strings.HasPrefix(picture.Header.Get("Cache-Control"), "private") {
			t.Errorf("%s: %v, %v, %v", address, config, err, picture.Header)
		}
		for _, at := range []string{address, page} {
			if b := v.Stranger().Get(at); b.Status != http.StatusForbidden {
				t.Errorf("a stranger gets %d from %s", b.Status, at)
			}
		}
	}
	form = v.Get(sedgePath).Ware()
	form.Set(grossOf, "179")
	if said := v.Save(sedgePath, form, "save").Text(".done"); !strings.Contains(said, "The source went") || noted(v, "sedge", grossOf).Photo != "" {
		t.Errorf("another figure: %q", said)
	}
	undo := v.Get("/inventory/history?list=frames&code=sedge").Page.Find(`form[action^="/inventory/history/"]`)
	v.Post(undo.First().AttrOr("action", ""), url.Values{"do": {"undo"}})
	if back := noted(v, "sedge", grossOf); back != got {
		t.Errorf("taken back: %+v", back)
	}
	at := v.Interview([]byte(webtest.Family))
	if v.Get(at+"/frames/sedge").Page.Find(`.waterline a[href="`+page+`"]`).Length() == 0 {
		t.Error("the load sheet does not lead to it")
	}
}

// TestPhotosAreNotLostOnAFault sends a good photo and a bad one with a figure
// that cannot be: each fault is at its field, all that was typed is there, and the
// good photo needs no second shot.
func TestPhotosAreNotLostOnAFault(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form := v.Get(sedgePath).Ware()
	form.Set("bare_weight_kg", "none")
	a := saveWith(v, sedgePath, form.Values, map[string][]byte{
		grossOf + ".source_photo": webtest.PictureOf(t, 20, 10), "rider_max_cm.source_photo": []byte("<html>"), "zones[0].rating_kg.source_photo": make([]byte, 12<<20+1)})
	a.Is(http.StatusUnprocessableEntity, sedgePath)
	for field, says := range map[string]string{"rider_max_cm.source_photo": "no JPEG, PNG or GIF", "zones[0].rating_kg.source_photo": "larger than 12 MB", "bare_weight_kg": ""} {
		if text := a.Text(webtest.ByID(field + "-error")); text == "" || !strings.Contains(text, says) {
			t.Errorf("%s: %q", field, text)
		}
	}
	again := a.Ware()
	if again.Values.Get("bare_weight_kg") != "none" || again.Values.Get(grossOf+".source") != "rating_plate" || len(again.Values.Get(grossOf+".source_photo")) != 32 {
		t.Errorf("lost: %v", again.Values)
	}
	again.Set("bare_weight_kg", "25")
	if b := saveWith(v, sedgePath, again.Values, nil); b.Status != http.StatusOK || noted(v, "sedge", grossOf).Photo != again.Values.Get(grossOf+".source_photo") {
		t.Errorf("%d %s, %+v", b.Status, b.Text(".alert"), noted(v, "sedge", grossOf))
	}
}

// TestOnePhotoOfSeveral takes one photo of all that is read from it; a figure
// with one of its own keeps that.
func TestOnePhotoOfSeveral(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form := v.Get(sedgePath).Ware()
	a := saveWith(v, sedgePath, form.Values, map[string][]byte{"source_photo": webtest.PictureOf(t, 20, 10)}).Is(http.StatusUnprocessableEntity, sedgePath)
	if a.Text(webtest.ByID("source_photo-error")) == "" {
		t.Errorf("of nothing: %s", a.Text(".alert"))
	}
	again := a.Ware()
	again.Set(grossOf+".source", "rating_plate")
	again.Set("bare_weight_kg.source", "own_measure")
	saveWith(v, sedgePath, again.Values, map[string][]byte{"bare_weight_kg.source_photo": webtest.PictureOf(t, 30, 10)}).Is(http.StatusOK, sedgePath)
	plate, scale := noted(v, "sedge", grossOf), noted(v, "sedge", "bare_weight_kg")
	if len(plate.Photo) != 32 || len(scale.Photo) != 32 || plate.Photo == scale.Photo || scale.Kind != "own_measure" {
		t.Errorf("%+v, %+v", plate, scale)
	}
}

// TestManyPhotosAtOnce sends more than are kept at once.
func TestManyPhotosAtOnce(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form, photos := v.Get(sedgePath).Ware(), map[string][]byte{}
	for i, name := range []string{grossOf, "bare_weight_kg", "rider_min_cm", "rider_max_cm", "rider_max_kg", "passengers_max", "front_axle_max_kg", "rear_axle_max_kg", "zones[0].rating_kg"} {
		photos[name+".source_photo"] = webtest.PictureOf(t, 10+i, 10)
	}
	a := saveWith(v, sedgePath, form.Values, photos).Is(http.StatusUnprocessableEntity, sedgePath)
	if kept := a.Page.Find(`input[type="hidden"][name$=".source_photo"]`).Length(); kept != 8 || !strings.Contains(a.Text(webtest.ByID("zones[0].rating_kg.source_photo-error")), "8 photos") {
		t.Errorf("%d are kept: %s", kept, a.Text(".alert"))
	}
}

// TestAFormOfManyParts sends a form of more fields than forms with files may have
// by default, as that of an add-on which fits hundreds of frames.
func TestAFormOfManyParts(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form := v.Get(sedgePath).Ware()
	for i := range 1500 {
		form.Values.Set(fmt.Sprintf("more[%d]", i), "kept")
	}
	if a := saveWith(v, sedgePath, form.Values, map[string][]byte{"rider_max_cm.source_photo": webtest.PictureOf(t, 20, 10)}); a.Status != http.StatusOK || noted(v, "sedge", "rider_max_cm").Photo == "" {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
}

// TestPhotoThatIsNotHere imports a source that names the photo of another shop:
// that is said before it is imported and wherever it is looked for, and no fault.
func TestPhotoThatIsNotHere(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const elsewhere = "00112233445566778899aabbccddeeff"
	table := "frame,figure,kind,on,photo\n"
	for _, e := range v.Catalogue().Frame("sedge").Evidence {
		table += fmt.Sprintf("sedge,%s,%s,%v,%s\n", e.Figure, e.Kind, e.On, map[bool]string{true: elsewhere}[e.Figure == grossOf])
	}
	a := v.Upload(sheet.File{Name: "evidence.csv", Data: []byte(table)})
	if words := a.Text("main"); !strings.Contains(words, "1 source names a photo that is not here") || !strings.Contains(words, "Gross rating") {
		t.Fatalf("the dry run: %s", words)
	}
	v.Confirm(a)
	if got := noted(v, "sedge", grossOf).Photo; got != elsewhere {
		t.Errorf("imported is %q", got)
	}
	if words := v.Get(sedgePath).One(`select[name="gross_rating_kg.source"]`).Parent().Text(); !strings.Contains(words, "not in this shop") {
		t.Errorf("the form: %s", words)
	}
	if b := v.Get("/sources/" + elsewhere); b.Status != http.StatusNotFound || !strings.Contains(b.Text("main"), "not here") {
		t.Errorf("%d %s", b.Status, b.Text("main"))
	}
}
