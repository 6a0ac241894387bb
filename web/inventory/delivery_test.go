package inventory_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/testdata"
	"kinwain/web/webtest"
)

// delivered fills in a delivery of ten bikes of one frame.
func delivered(a *webtest.Answer) url.Values {
	values := webtest.Sent(a.One("form.ware"))
	for name, value := range map[string]string{"count": "10", "frame": "osier-l", "colour": "rust", "status": "ordered", "arrival": "2027-01", "price_cents": "2199",
		"serials": "OL27-1\r\nOL27-2\r\n\r\nOL27-4\r\n"} {
		values.Set(name, value)
	}
	return values
}

// TestDeliveryOfTen adds ten bikes in one form, sends it twice, and undoes all of
// it at once.
func TestDeliveryOfTen(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Get("/inventory/delivery").Is(http.StatusOK, "/inventory/delivery")
	values := delivered(a)
	if values.Get("first") != "S-117" || values.Get("kind") != "stock" || a.One(`select[name="status"] option[selected]`).AttrOr("value", "") != "available" {
		t.Errorf("it begins with %v", values)
	}
	before := catalogueOf(t, s)
	for range 2 {
		done := v.Post("/inventory/delivery", values)
		if done.Status != http.StatusOK || done.Text(".done") != "10 bikes are in the inventory: S-117 to S-126." {
			t.Fatalf("%d, %q: %s", done.Status, done.Text(".done"), done.Text(".alert, .error, .file-faults"))
		}
		done.Count(".labels li", 10)
	}
	want := before.Units
	for i := range 10 {
		u := catalog.Unit{Tag: fmt.Sprintf("S-%d", 117+i), Frame: "osier-l", Kind: "stock", Colour: "rust", Fitted: []string{"stand-one-leg"}, Status: catalog.Ordered,
			Arrival: measure.Date{Year: 2027, Month: 1}, Price: 219_900}
		u.Serial = map[int]string{0: "OL27-1", 1: "OL27-2", 3: "OL27-4"}[i]
		want = append(want, u)
	}
	if diff := cmp.Diff(want, catalogueOf(t, s).Units); diff != "" {
		t.Error(diff)
	}
	history := v.Get("/inventory/history")
	history.Count("table.history", 1)
	if got := history.Text(`form[action="/inventory/history/1"]`); got != "Undo all 10 changes at once" {
		t.Errorf("the history offers %q", got)
	}
	if done := v.Post("/inventory/history/1", nil); done.Text(".done") != "Undone: 10 changes." {
		t.Errorf("%d, %s", done.Status, done.Text("main"))
	}
	if diff := cmp.Diff(before.Units, catalogueOf(t, s).Units); diff != "" {
		t.Error(diff)
	}
	if again := v.Post("/inventory/history/1", nil); again.Status != http.StatusConflict || !strings.Contains(again.Text(".alert"), "Nothing was undone") {
		t.Errorf("a second time: %d, %q", again.Status, again.Text(".alert"))
	}
}

func catalogueOf(t *testing.T, s *webtest.Shop) *catalog.Catalogue {
	t.Helper()
	c, err := s.Store.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestDeliveryLandsWholeOrNot has something wrong at single lines, or for all.
func TestDeliveryLandsWholeOrNot(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Get("/inventory/delivery")
	for name, test := range map[string]struct {
		change map[string]string
		at     string // a selector
		want   string
	}{
		"a tag that is there":     {map[string]string{"first": "S-109"}, "#lines", `Line 1, S-109 "S-109" is used twice`},
		"and one that is free":    {map[string]string{"first": "S-109"}, "#first-error", "the next that is free is S-117"},
		"a serial number twice":   {map[string]string{"serials": "A\nB\nA"}, "#lines", `Line 3, S-119 another bike of this frame has the serial number "A".`},
		"one known already":       {map[string]string{"serials": "\nOL26-0260"}, "#lines", "Line 2, S-118"},
		"a line too many":         {map[string]string{"count": "2", "serials": "A\nB\nC"}, "#lines", "Line 3, C there are only 2 bikes."},
		"no number":               {map[string]string{"count": "many"}, "#count-error", "write how many"},
		"too many":                {map[string]string{"count": "101"}, "#count-error", "1 to 100"},
		"a tag that has no count": {map[string]string{"first": "left"}, "#first-error", "end in a number"},
		"no frame":                {map[string]string{"frame": ""}, "#frame-error", "say which frame it is"},
		"no price":                {map[string]string{"price_cents": "cheap"}, "#price_cents-error", "cheap"},
		"no day":                  {map[string]string{"arrival": "soon"}, "#arrival-error", "soon"},
	} {
		values := delivered(a)
		for field, value := range test.change {
			values.Set(field, value)
		}
		got := v.Post("/inventory/delivery", values)
		if got.Status != http.StatusUnprocessableEntity || !strings.Contains(got.Text(test.at), test.want) {
			t.Errorf("%s: %d, %q; want %q", name, got.Status, got.Text(test.at), test.want)
		}
		if sent := webtest.Sent(got.One("form.ware")); sent.Get("serials") != strings.ReplaceAll(values.Get("serials"), "\r\n", "\n") || sent.Get("colour") != "rust" {
			t.Errorf("%s: what was typed is gone: %v", name, sent)
		}
	}
	if n := len(catalogueOf(t, s).Units); n != 30 {
		t.Errorf("there are %d bikes", n)
	}
}

// TestUndoAllNeedsNobody undoes a delivery of which one bike is held.
func TestUndoAllNeedsNobody(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	v.Post("/inventory/delivery", delivered(v.Get("/inventory/delivery")))
	v.Holds(v.Quoted(v.Interview([]byte(webtest.Plain))+"/frames/osier-l"), "S-119", "2026-11-28")
	if a := v.Post("/inventory/history/1", nil); a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "S-119 would be deleted, and is named by a quote that holds it.") {
		t.Errorf("%d, %q", a.Status, a.Text(".alert"))
	}
	if n := len(catalogueOf(t, s).Units); n != 40 {
		t.Errorf("there are %d bikes", n)
	}
}

// TestStockIsShown looks at the list and the page of an add-on that is counted,
// and at the form, where none is another thing than not counted.
func TestStockIsShown(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	query := "?" + url.Values{"chosen": {"yes"}, "on": {"stand-one-leg", "tray-front"}}.Encode()
	frame := v.Interview([]byte(webtest.Plain)) + "/frames/osier-m"
	v.Post(frame+"/quote", webtest.Sent(v.Get(frame+"/quote"+query).One("form.make")))
	if got := v.Get("/inventory/add-ons?q=tray-front").Text(`tbody tr[data-text*="tray-front "]`); !strings.HasSuffix(got, "110") {
		t.Errorf("the list ends with %q, want 1 counted, 1 promised, 0 free", got)
	}
	if got := v.Get("/inventory/add-ons/tray-front").Text("section:has(#promised)"); !strings.Contains(got, "1 counted, 1 promised, free: 0.") || !strings.Contains(got, "Q-2026-0001 1, open") {
		t.Errorf("its page says %q", got)
	}
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	const none = "stand-two-leg-wide"
	if n := demo.AddOn(none).Stock; n == nil || *n != 0 {
		t.Fatal("the demo shop counts no add-on of which there is none")
	}
	form := v.Get("/inventory/add-ons/" + none)
	if got := form.One(`input[name="stock"]`).AttrOr("value", ""); got != "0" {
		t.Errorf("none is shown as %q", got)
	}
	values := webtest.Sent(form.One("form.ware"))
	values.Set("do", "save")
	if done := v.Post("/inventory/add-ons/"+none, values); done.Text(".done") != "Saved. Nothing was different." {
		t.Errorf("saved as it is: %q", done.Text(".done"))
	}
	values.Set("stock", "")
	v.Post("/inventory/add-ons/"+none, values)
	if n := catalogueOf(t, s).AddOn(none).Stock; n != nil {
		t.Errorf("nobody counts it, and there are %d", *n)
	}
}

// TestNewUnitHasWhatIsUsual opens the form of a new unit of a frame.
func TestNewUnitHasWhatIsUsual(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	values := webtest.Sent(v.Get("/inventory/units/new?frame=osier-m").One("form.ware"))
	for name, want := range map[string]string{"tag": "S-117", "kind": "stock", "status": "available", "frame": "osier-m", "fitted": "stand-one-leg"} {
		if got := values.Get(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if like := webtest.Sent(v.Get("/inventory/units/new?from=S-106").One("form.ware")); like.Get("serial") != "" || like.Get("price_cents") != "2140" {
		t.Errorf("another like it: %v", like)
	}
}

// TestStockIsTypedInPlace counts in the list, where none is a count and an empty
// field is not, and sorts by it.
func TestStockIsTypedInPlace(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	const list = "/inventory/add-ons?edit=stock"
	values := webtest.Sent(v.Get(list).One("form#column"))
	values.Set("do", "save")
	for i, code := range values["code"] {
		switch code {
		case "seat-rear":
			values["to"][i] = "0"
		case "stand-two-leg":
			values["to"][i] = ""
		case "seat-front":
			values["to"][i] = "9"
		}
	}
	if done := v.Post(list, values); done.Text(".done") != "Saved: 3 figures of “In the store room” changed." {
		t.Fatalf("%d: %s %s", done.Status, done.Text(".done"), done.Text(".alert"))
	}
	c := catalogueOf(t, s)
	if n := c.AddOn("seat-rear").Stock; n == nil || *n != 0 || c.AddOn("stand-two-leg").Stock != nil || *c.AddOn("seat-front").Stock != 9 {
		t.Errorf("%v, %v, %v", n, c.AddOn("stand-two-leg").Stock, c.AddOn("seat-front").Stock)
	}
	if first := v.Get("/inventory/add-ons?sort=-stock").Text(".wares tbody tr:first-child .kind"); first != "lock-chain" {
		t.Errorf("most there are of %q", first)
	}
	if a := v.Post(list, url.Values{"do": {"sum"}, "percent": {"10"}}); a.Status == http.StatusInternalServerError {
		t.Error("a sum of what is not counted breaks")
	}
}
