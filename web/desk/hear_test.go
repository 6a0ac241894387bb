package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestHearsALine types a line without script: what is understood is in the
// fields and said once, and what is not stays in the line.
func TestHearsALine(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("line", "5'11 84 kg and 163, kids 14 months and 4, dog 30, groceries 20, tuba, one on the way, no more than 5500")
	a := v.Press(f, address, "frames").Is(http.StatusOK, address)
	got := a.Form().Values
	for name, want := range map[string]string{
		"riders[0].height_cm": "5'11", "riders[0].weight_kg": "84 kg", "riders[1].height_cm": "163 cm", "passengers[0].born": "9.2025", "passengers[1].born": "5.2022",
		"pet_kg": "30 kg", "budget_cents": "5500", "line": "groceries 20, tuba, one on the way", "cargo_kg": "",
	} {
		if got.Get(name) != want {
			t.Errorf("%s is %q, want %q", name, got.Get(name), want)
		}
	}
	said := a.Text("[data-hearing]")
	for _, want := range []string{"Height (rider A): 5'11, 180.3 cm", "Birth month (second child): 5.2022, 4 years", "The budget: 5500", "groceries 20 may be", "Not understood: tuba", "one on the way: In which month?"} {
		if !strings.Contains(said, want) {
			t.Errorf("it is not said that %q: %s", want, said)
		}
	}
	v.Press(f, address, "hear") // once more on the page of before
	if n := v.Get(address).Page.Find(`[name$="].born"]`).Length(); n != 2 {
		t.Errorf("pressed twice, %d children come along", n)
	}
	again := v.Get(address).Text("[data-hearing]")
	if strings.Contains(again, "Understood:") || !strings.Contains(again, "tuba") {
		t.Errorf("loaded again it says %q", again)
	}
	a = v.Press(a.Form(), address, "mean cargo_litres groceries 20")
	if got := a.Form().Values; got.Get("cargo_litres") != "20" || got.Get("cargo_kg") != "" || got.Get("line") != "tuba, one on the way" {
		t.Errorf("chosen were litres: %v", got)
	}
	v.Press(a.Form(), address, "frames").Is(http.StatusOK, address+"/frames") // what nobody understands keeps nobody
}

// TestHearsACorner says of the widths of a corridor that they are those at a
// corner, and of which where there are two.
func TestHearsACorner(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("line", "corner 110 and 100")
	a := v.Press(f, address, "hear")
	if said := a.Text("[data-hearing]"); !strings.Contains(said, "Corridor before the corner: 110 cm") || !strings.Contains(said, "Corridor after the corner: 100 cm") {
		t.Errorf("it says: %s", said)
	}
	f = a.Form()
	f.Set("line", "corner 120 and 90")
	if said := v.Press(f, address, "hear").Text("[data-hearing]"); !strings.Contains(said, "Corridor before the corner (corner 2): 120 cm") {
		t.Errorf("it says: %s", said)
	}
}

// TestHearsWhileTyped asks by script: the line is read where it is asked for,
// and left alone while somebody types in it.
func TestHearsWhileTyped(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("line", "dog 30")
	if a := v.Post(address+"/live", f.Values); a.Page.Find("[data-hearing], [data-other]").Length() > 0 {
		t.Error("it is read while it is typed")
	}
	f.Values.Set("do", "hear")
	a := v.Post(address+"/live", f.Values)
	if a.One(`[data-other="pet_kg"]`).AttrOr("value", "") != "30 kg" || a.One(`[data-other="line"]`).AttrOr("value", "?") != "" {
		t.Error("the page is not told what was understood")
	}
	if got := a.Text("[data-hearing]"); !strings.Contains(got, "30 kg") {
		t.Errorf("it says %q", got)
	}
	if got := v.Get(address).Text("[data-hearing]"); got != "" {
		t.Errorf("the page says again %q", got)
	}
}

// TestTapsForTheUsual adds a week's groceries and a twin.
func TestTapsForTheUsual(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f = v.Press(f, address, "bring groceries").Form()
	f = v.Press(f, address, "add passengers").Form()
	f.Set("passengers[0].born", "5.2023")
	got := v.Press(f, address, "again passengers 0").Form().Values
	for name, want := range map[string]string{"cargo_kg": "20 kg", "cargo_litres": "60 l", "passengers[1].born": "5.2023", "passengers[1].label": "second child"} {
		if got.Get(name) != want {
			t.Errorf("%s is %q, want %q", name, got.Get(name), want)
		}
	}
}

// TestWhatIsHeardOpensWhatIsWanting opens the step of the riders as long as nobody
// is weighed, whatever else was heard, and then the first that was not spoken of.
func TestWhatIsHeardOpensWhatIsWanting(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, f := v.Consultation()
	f.Set("line", "5'11 and 163, boy 4, groceries 20 kg, 5500 at most")
	v.Press(f, address, "hear")
	a := v.Get(address)
	opens(t, a, "riders")
	f = a.Form()
	f.Set("riders[0].weight_kg", "84")
	v.Press(f, address, "save")
	opens(t, v.Get(address), "home")
}
