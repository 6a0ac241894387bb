package desk_test

import (
	"net/http"
	"net/url"
	"slices"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// ticked lists the add-ons that are ticked on the page by hand.
func ticked(a *webtest.Answer) []string {
	var codes []string
	a.Page.Find(`.picks input[name="on"][checked]`).Each(func(_ int, box *goquery.Selection) { codes = append(codes, box.AttrOr("value", "")) })
	slices.Sort(codes)
	return codes
}

// TestByHandBeginsWithTheBestSet holds that before anything is changed by hand
// the frame is judged as on its own page.
func TestByHandBeginsWithTheBestSet(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	for _, one := range webtest.ToldByRanking(v.Get(address + "/frames")) {
		path := address + "/frames/" + one.Frame
		a := v.Get(path+"/by-hand").Is(http.StatusOK, path+"/by-hand")
		if got := webtest.VerdictOf(a.One("#result h2 .verdict")); got != one.Verdict {
			t.Errorf("%s: %s by hand, %s as ranked", one.Frame, got, one.Verdict)
		}
		if got := webtest.Amount(webtest.Words(a.One("#result > .figures tfoot td"))); got != one.Total {
			t.Errorf("%s: %s by hand, %s as ranked", one.Frame, got, one.Total)
		}
		again := v.Get(path + "/by-hand?" + url.Values{"chosen": {"yes"}, "on": ticked(a)}.Encode())
		if a.Text("#result") != again.Text("#result") || !slices.Equal(ticked(a), ticked(again)) {
			t.Errorf("%s: the same set again is another", one.Frame)
		}
	}
}

// TestByHandTakesAnyChoice ticks nothing, everything and nonsense.
func TestByHandTakesAnyChoice(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	path := address + "/frames/osier-m/by-hand"
	var all []string
	v.Get(path).Page.Find(`.picks input[name="on"]`).Each(func(_ int, box *goquery.Selection) { all = append(all, box.AttrOr("value", "")) })
	slices.Sort(all)
	if len(all) < 10 {
		t.Fatalf("there is a choice of %d", len(all))
	}
	for name, c := range map[string]struct{ on, want []string }{
		"nothing":    {nil, nil},
		"everything": {all, all},
		"nonsense":   {[]string{"no-such-thing", "", "\x00", "<b>", all[0]}, []string{all[0]}},
		"a thousand": {slices.Repeat([]string{"no-such-thing"}, 1000), nil},
	} {
		asked := path + "?" + url.Values{"chosen": {"yes"}, "on": c.on}.Encode()
		a := v.Get(asked).Is(http.StatusOK, asked)
		if got := ticked(a); !slices.Equal(got, c.want) {
			t.Errorf("%s: ticked are %v, want %v", name, got, c.want)
		}
		if verdict := webtest.VerdictOf(a.One("#result h2 .verdict")); verdict != "does_not_fit" || a.Page.Find("#result .reasons .stop").Length() == 0 {
			t.Errorf("%s: %s", name, verdict)
		}
	}
}

// TestOffersMeetTheNeed follows the link that a missing need offers.
func TestOffersMeetTheNeed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	path := address + "/frames/osier-m/by-hand"
	best := ticked(v.Get(path))
	offers := 0
	for _, code := range best {
		without := slices.DeleteFunc(slices.Clone(best), func(other string) bool { return other == code })
		a := v.Get(path + "?" + url.Values{"chosen": {"yes"}, "on": without}.Encode())
		a.Page.Find(".offers a").Each(func(_ int, link *goquery.Selection) {
			offers++
			next := v.Get(link.AttrOr("href", "")).Is(http.StatusOK, link.AttrOr("href", ""))
			if got := ticked(next); len(got) != len(without)+1 {
				t.Errorf("%s adds to %v: %v", webtest.Words(link), without, got)
			}
			next.Page.Find(".offers a").Each(func(_ int, still *goquery.Selection) {
				if webtest.Words(still) == webtest.Words(link) {
					t.Errorf("%s is offered again", webtest.Words(link))
				}
			})
		})
	}
	if offers == 0 {
		t.Error("nothing was offered")
	}
}
