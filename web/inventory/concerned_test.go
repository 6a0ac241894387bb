package inventory_test

import (
	"net/http"
	"net/url"
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
	first.Count(".clashes .concerned li", 1)
	if got := s.Catalogue().Frame("osier-m").GrossRating; got != was {
		t.Fatalf("it is saved before anybody has looked: %v", got)
	}
	again := first.Ware()
	if again.Values.Get("gross_rating_kg") != "150" {
		t.Fatalf("what was typed is lost: %q", again.Values.Get("gross_rating_kg"))
	}
	other := url.Values{}
	for name, values := range again.Values {
		other[name] = values
	}
	other.Set("price_cents", "1")
	other.Set("do", "save")
	if v.Post(path, other); s.Catalogue().Frame("osier-m").GrossRating != was {
		t.Error("other consequences than those looked at are taken for seen")
	}
	if a := v.Save(path, again, "save"); a.Text(".done") != "Saved: 1 field changed." {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
	if got := s.Catalogue().Frame("osier-m").GrossRating; got == was {
		t.Error("it is not saved though it was looked at")
	}
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
	a.Count(".clashes .concerns", 1)
	if got := s.Catalogue().Frame("osier-m").Price; got == 100 {
		t.Errorf("it is saved: %v", got)
	}
}
