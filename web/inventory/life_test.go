package inventory_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

func TestNewDuplicateRetireDelete(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	_, _, tag := v.AnyCode()
	a := v.Get("/inventory/units/new?from=" + tag)
	form := a.Ware()
	if form.Values.Get("tag") != "" || form.Values.Get("frame") == "" {
		t.Errorf("a copy: %v", form.Values)
	}
	// The tag of another one, and then one of its own.
	form.Set("tag", tag)
	if a := v.Save("/inventory/units/new", form, "save"); a.Status != http.StatusUnprocessableEntity || a.Text(webtest.ByID("tag-error")) == "" {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
	form.Set("tag", "Z-1/2")
	at := "/inventory/units/Z-1%2F2"
	v.Save("/inventory/units/new", form, "save").Is(http.StatusOK, at)
	units := len(v.Catalogue().Units)
	a = v.Post(at+"/retire", url.Values{"do": {"retire"}}).Is(http.StatusOK, at)
	if !strings.Contains(a.Text("h1"), "Retired") {
		t.Error(a.Text("h1"))
	}
	v.Get("/inventory/units").Count("details .wares tbody tr", 1)
	v.Post(at+"/retire", url.Values{"do": {"back"}}).Is(http.StatusOK, at)
	v.Post(at+"/delete", url.Values{"do": {"delete"}}).Is(http.StatusOK, "/inventory/units")
	if len(v.Catalogue().Units) != units-1 {
		t.Error("not deleted")
	}
	// What something names is not.
	code, _, _ := v.AnyCode()
	a = v.Get("/inventory/frames/" + code)
	if a.Page.Find(`form[action$="/delete"]`).Length() != 0 {
		t.Error("a frame that is named may be deleted")
	}
	a = v.Post("/inventory/frames/"+code+"/delete", url.Values{"do": {"delete"}}).Is(http.StatusOK, "/inventory/frames/"+code)
	if !strings.Contains(a.Text(".done"), "named by") || v.Catalogue().Frame(code) == nil {
		t.Errorf("%s", a.Text(".done"))
	}
}

// TestRetiredIsNotOffered ranks before and after a frame is retired.
func TestRetiredIsNotOffered(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, form := v.Consultation()
	form.Set("riders[0].height_cm", "178")
	form.Set("riders[0].weight_kg", "80")
	a := v.Press(form, address, "frames")
	code, _ := a.Page.Find("[data-frame], .ranked a").First().Attr("href")
	frame := code[strings.LastIndexByte(code, '/')+1:]
	if frame == "" || v.Catalogue().Frame(frame) == nil {
		frame = v.Catalogue().Frames[0].Code
	}
	has := func() bool { return strings.Contains(string(v.Get(address+"/frames").Body), "/frames/"+frame+`"`) }
	if !has() {
		t.Fatalf("%s is not ranked", frame)
	}
	v.Sure("/inventory/frames/"+frame+"/retire", url.Values{"do": {"retire"}})
	if has() {
		t.Errorf("%s is still offered", frame)
	}
	v.Sure("/inventory/frames/"+frame+"/retire", url.Values{"do": {"back"}})
	if !has() {
		t.Errorf("%s does not come back", frame)
	}
	// Whatever add-on is retired, the ranking goes on.
	for _, addOn := range v.Catalogue().AddOns {
		v.Sure("/inventory/add-ons/"+addOn.Code+"/retire", url.Values{"do": {"retire"}})
	}
	if !has() {
		t.Errorf("nothing is ranked without add-ons")
	}
}

// TestRetiredPartsOfABikeStillWeigh retires what a frame comes with: it is
// still there to be taken off, and its weight still counts.
func TestRetiredPartsOfABikeStillWeigh(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	sheet := func() string { return v.Get(address + "/frames/osier-m").Text(".sheet") }
	before := sheet()
	if !strings.Contains(before, "Taken off: One-leg stand") {
		t.Fatalf("%s", before)
	}
	v.Post("/inventory/add-ons/stand-one-leg/retire", url.Values{"do": {"retire"}})
	if after := sheet(); after != before {
		t.Errorf("before: %s\nafter: %s", before, after)
	}
}
