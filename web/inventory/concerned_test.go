package inventory_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// TestASaveSaysWhomItConcernsFirst lowers what a frame may weigh while a
// consultation is open.
func TestASaveSaysWhomItConcernsFirst(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	const path = "/inventory/frames/osier-m"
	was := s.Catalogue().Frame("osier-m").GrossRating
	form := v.Get(path).Ware()
	form.Set("notes", "Nobody has been told of this frame yet.")
	if a := v.Save(path, form, "save"); a.Text(".done") != "Saved: 1 field changed." {
		t.Fatalf("%d %s", a.Status, a.Text("main"))
	}
	address := v.Interview([]byte(webtest.Family))
	form = v.Get(path).Ware()
	form.Set("gross_rating_kg", "150")
	first := v.Save(path, form, "save").Is(http.StatusOK, path)
	if got := first.Text(".clashes .consequences"); !strings.Contains(got, "Osier M Gross rating"+strings.Join(strings.Fields(was.String()), " ")+"150 kgIt may concern 1 consultation of the last 60 days at the most.") {
		t.Errorf("it asks %q", got)
	}
	if got := s.Catalogue().Frame("osier-m").GrossRating; got != was {
		t.Fatalf("it is saved before anybody has looked: %v", got)
	}
	again := first.Ware()
	if again.Values.Get("gross_rating_kg") != "150" {
		t.Fatalf("what was typed is lost: %q", again.Values.Get("gross_rating_kg"))
	}
	first.Count(".clashes .changed tbody tr", 1)
	other := url.Values{}
	for name, values := range again.Values {
		other[name] = values
	}
	other.Set("price_cents", "1")
	other.Set("do", "save")
	if v.Post(path, other); s.Catalogue().Frame("osier-m").GrossRating != was {
		t.Error("another change than the one looked at is taken for seen")
	}
	a := v.Save(path, again, "save")
	if a.Text(".done") != "Saved: 1 field changed." || !strings.Contains(a.Text(".checking"), "0 of 1 judged") {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
	if got := s.Catalogue().Frame("osier-m").GrossRating; got == was {
		t.Error("it is not saved though it was looked at")
	}
	if got := v.Get(address + "/frames").Text(".marks li"); !strings.HasPrefix(got, "To be checked") {
		t.Errorf("before it is judged: %q", got)
	}
	s.Settle()
	v.Get(address+"/frames").Count(".marks li", 1)
}

// TestAskingWhomASaveConcerns presses the button for it: nothing is saved.
func TestAskingWhomASaveConcerns(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	const path = "/inventory/frames/osier-m"
	form := v.Get(path).Ware()
	form.Set("price_cents", "1")
	a := v.Save(path, form, "consequences").Is(http.StatusOK, path)
	if got := a.Text(".clashes .concerns"); got != "It concerns nobody who was told anything." {
		t.Errorf("%q", got)
	}
	if got := s.Catalogue().Frame("osier-m").Price; got == 100 {
		t.Errorf("it is saved: %v", got)
	}
}
