package desk_test

import (
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/web/webtest"
)

// spared is what a page may say where nobody is to see what a rider weighs: what
// is to spare or missing, and until when, which follows from it.
var spared = regexp.MustCompile(`[0-9.,]+\s(kg|lb) (to spare|over the (gross )?rating|too much|more)` +
	`|(January|February|March|April|May|June|July|August|September|October|November|December) 20[0-9]{2}|[0-9]+ of the [0-9]+ months`)

// unseen returns what every page of a consultation says, by its address, where
// a rider was weighed unseen.
func unseen(v *webtest.Visitor, weight string) map[string]string {
	v.Helper()
	address := v.Interview([]byte(webtest.Family))
	f := v.Get(address).Form()
	f.Set("riders[0].weight_kg", weight)
	f.Values.Set("hide", "yes")
	f.Set("hill_percent", "6")
	v.Press(f, address, "save").Is(http.StatusOK, address)
	said := map[string]string{}
	look := func(path string) *webtest.Answer {
		v.Helper()
		a := v.Get(address + path)
		if a.Status != http.StatusOK && a.Status != http.StatusUnprocessableEntity { // what does not fit is not sold
			v.Fatalf("%s: %d", path, a.Status)
		}
		said[path] = strings.Join(slices.Sorted(texts(a)), "\n")
		return a
	}
	look("")
	ranking := look("/frames?ask=1")
	f = v.Get(address).Form()
	f.Set("cargo_kg", "14")
	live := v.Post(address+"/live", f.Values).Is(http.StatusOK, address+"/live")
	said["/live"] = strings.Join(slices.Sorted(texts(live)), "\n")
	ranked := webtest.ToldByRanking(ranking)
	for i, one := range ranked {
		look("/frames/" + one.Frame)
		if i < 2 {
			look("/frames/" + one.Frame + "/by-hand")
			look("/frames/" + one.Frame + "?more=5&child=4")
			look("/frames/" + one.Frame + "?tall=180&heavy=90")
			for _, page := range []string{"/ride", "/send"} {
				look("/frames/" + one.Frame + page)
			}
			if quote := look("/frames/" + one.Frame + "/quote"); quote.Status == http.StatusOK {
				paper := v.Quoted(address + "/frames/" + one.Frame)
				said[one.Frame+" quoted"] = strings.Join(slices.Sorted(texts(paper)), "\n")
			}
		}
	}
	look("/compare?frame=" + ranked[0].Frame + "&frame=" + ranked[1].Frame)
	look("/measure")
	look("/weigh/0?done=yes")
	return said
}

// texts are what a page says to who looks or listens, without what is spare.
func texts(a *webtest.Answer) func(func(string) bool) {
	for _, row := range [...]string{"spare", "first_limit", "front_axle", "rear_axle", "horizon"} {
		a.Page.Find(`.compare [data-row="` + row + `"] td`).Remove()
	}
	a.Page.Find(".compare.riders td").Remove()
	a.Page.Find(".years td, .years svg text").Remove() // the curve of what is spare
	return func(yield func(string) bool) {
		for text := range webtest.Texts(a.Page.Selection) {
			if !yield(spared.ReplaceAllString(strings.ReplaceAll(text, "\u00a0", " "), "#")) {
				return
			}
		}
	}
}

// TestWhoWasWeighedUnseenStaysUnseen holds that pages of a consultation with a
// rider who was weighed unseen say the same of one who is a little heavier, and
// of another a little heavier than that, but for what is spare. Where a page is
// another between two of them alone, a rule has its edge there. The rider is in
// the middle, the lightest, and too heavy for some frames.
func TestWhoWasWeighedUnseenStaysUnseen(t *testing.T) {
	t.Parallel()
	for _, weights := range [][3]string{{"82.3", "82.7", "83.1"}, {"52.3", "52.6", "52.9"}, {"131.5", "131.6", "131.7"}} {
		t.Run(weights[0], func(t *testing.T) {
			t.Parallel()
			var pages [3]map[string]string
			for i, weight := range weights {
				pages[i] = unseen(webtest.Open(t).Staff(), weight)
			}
			light, middle, heavy := pages[0], pages[1], pages[2]
			if len(middle) < 25 {
				t.Errorf("only %d pages", len(middle))
			}
			for path, says := range middle {
				if light[path] != says && says != heavy[path] {
					t.Errorf("%s: %s", path, cmp.Diff(strings.Split(light[path], "\n"), strings.Split(says, "\n")))
				}
			}
		})
	}
}
