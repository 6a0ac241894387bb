package web_test

import (
	"net/http"
	"net/url"
	"testing"
)

// TestASaveSaysWhomItConcernsFirst lowers what a frame may weigh while a
// consultation is open.
func TestASaveSaysWhomItConcernsFirst(t *testing.T) {
	s := open(t)
	v := s.staff()
	const path = "/inventory/frames/osier-m"
	was := s.catalogue().Frame("osier-m").GrossRating
	form := v.get(path).ware()
	form.set("notes", "Nobody has been told of this frame yet.")
	if a := v.save(path, form, "save"); a.text(".done") != "Saved: 1 field changed." {
		t.Fatalf("%d %s", a.status, a.text("main"))
	}
	address := v.interview([]byte(family))
	form = v.get(path).ware()
	form.set("gross_rating_kg", "150")
	first := v.save(path, form, "save").is(http.StatusOK, path)
	first.count(".clashes .concerned li", 1)
	if got := s.catalogue().Frame("osier-m").GrossRating; got != was {
		t.Fatalf("it is saved before anybody has looked: %v", got)
	}
	again := first.ware()
	if again.values.Get("gross_rating_kg") != "150" {
		t.Fatalf("what was typed is lost: %q", again.values.Get("gross_rating_kg"))
	}
	other := url.Values{}
	for name, values := range again.values {
		other[name] = values
	}
	other.Set("price_cents", "1")
	other.Set("do", "save")
	if v.post(path, other); s.catalogue().Frame("osier-m").GrossRating != was {
		t.Error("other consequences than those looked at are taken for seen")
	}
	if a := v.save(path, again, "save"); a.text(".done") != "Saved: 1 field changed." {
		t.Errorf("%d %s", a.status, a.text("main"))
	}
	if got := s.catalogue().Frame("osier-m").GrossRating; got == was {
		t.Error("it is not saved though it was looked at")
	}
	v.get(address+"/frames").count(".marks li", 1)
}

// TestAskingWhomASaveConcerns presses the button for it: nothing is saved.
func TestAskingWhomASaveConcerns(t *testing.T) {
	s := open(t)
	v := s.staff()
	const path = "/inventory/frames/osier-m"
	form := v.get(path).ware()
	form.set("price_cents", "1")
	a := v.save(path, form, "consequences").is(http.StatusOK, path)
	a.count(".clashes .concerns", 1)
	if got := s.catalogue().Frame("osier-m").Price; got == 100 {
		t.Errorf("it is saved: %v", got)
	}
}
