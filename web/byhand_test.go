package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// ticked lists the add-ons that are ticked on the page by hand.
func ticked(a *answer) []string {
	var codes []string
	a.page.Find(`.picks input[name="on"][checked]`).Each(func(_ int, box *goquery.Selection) { codes = append(codes, box.AttrOr("value", "")) })
	slices.Sort(codes)
	return codes
}

// TestByHandBeginsWithTheBestSet holds that before anything is changed by hand
// the frame is judged as on its own page.
func TestByHandBeginsWithTheBestSet(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	for _, one := range toldByRanking(v.get(address + "/frames")) {
		path := address + "/frames/" + one.Frame
		a := v.get(path+"/by-hand").is(http.StatusOK, path+"/by-hand")
		if got := verdictOf(a.one("#result h2 .verdict")); got != one.Verdict {
			t.Errorf("%s: %s by hand, %s as ranked", one.Frame, got, one.Verdict)
		}
		if got := amount(words(a.one("#result > .figures tfoot td"))); got != one.Total {
			t.Errorf("%s: %s by hand, %s as ranked", one.Frame, got, one.Total)
		}
		again := v.get(path + "/by-hand?" + url.Values{"chosen": {"yes"}, "on": ticked(a)}.Encode())
		if a.text("#result") != again.text("#result") || !slices.Equal(ticked(a), ticked(again)) {
			t.Errorf("%s: the same set again is another", one.Frame)
		}
	}
}

// TestByHandTakesAnyChoice ticks nothing, everything and nonsense.
func TestByHandTakesAnyChoice(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	path := address + "/frames/osier-m/by-hand"
	var all []string
	v.get(path).page.Find(`.picks input[name="on"]`).Each(func(_ int, box *goquery.Selection) { all = append(all, box.AttrOr("value", "")) })
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
		a := v.get(asked).is(http.StatusOK, asked)
		if got := ticked(a); !slices.Equal(got, c.want) {
			t.Errorf("%s: ticked are %v, want %v", name, got, c.want)
		}
		if verdict := verdictOf(a.one("#result h2 .verdict")); verdict != "does_not_fit" || a.page.Find("#result .reasons .stop").Length() == 0 {
			t.Errorf("%s: %s", name, verdict)
		}
	}
}

// TestOffersMeetTheNeed follows the link that a missing need offers.
func TestOffersMeetTheNeed(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	path := address + "/frames/osier-m/by-hand"
	best := ticked(v.get(path))
	offers := 0
	for _, code := range best {
		without := slices.DeleteFunc(slices.Clone(best), func(other string) bool { return other == code })
		a := v.get(path + "?" + url.Values{"chosen": {"yes"}, "on": without}.Encode())
		a.page.Find(".offers a").Each(func(_ int, link *goquery.Selection) {
			offers++
			next := v.get(link.AttrOr("href", "")).is(http.StatusOK, link.AttrOr("href", ""))
			if got := ticked(next); len(got) != len(without)+1 {
				t.Errorf("%s adds to %v: %v", words(link), without, got)
			}
			next.page.Find(".offers a").Each(func(_ int, still *goquery.Selection) {
				if words(still) == words(link) {
					t.Errorf("%s is offered again", words(link))
				}
			})
		})
	}
	if offers == 0 {
		t.Error("nothing was offered")
	}
}
