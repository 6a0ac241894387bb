package web_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/match"
	"kinwain/testdata"
	"kinwain/web/webtest"
)

// notOfFigures are the reasons that no figure of a shop brings about: they come
// of time being over, or of an address that names more of an add-on than a page
// lets tick. Other tests show them.
var notOfFigures = []match.Code{match.ReasonUnsettled, match.ReasonUnproved, match.ReasonUnverified, match.ReasonTooMany}

// sentences turn what a rule says into patterns of what a page shows.
func sentences(rule *match.Rule) []*regexp.Regexp {
	var formats []string
	for _, said := range rule.Says {
		formats = append(formats, said.English)
	}
	for _, c := range rule.Counts {
		formats = append(formats, c.English.One, c.English.Other)
	}
	var list []*regexp.Regexp
	for _, f := range formats {
		if strings.TrimSpace(strings.ReplaceAll(f, "%v", "")) == "" {
			continue // nothing of its own
		}
		pattern := strings.ReplaceAll(regexp.QuoteMeta(regexp.MustCompile(`%\[[0-9]\]v`).ReplaceAllString(f, "%v")), "%v", ".+?")
		list = append(list, regexp.MustCompile(`(?i)`+strings.Join(strings.Fields(pattern), `\s+`)))
	}
	return list
}

// TestEveryReasonIsThreeTapsAway walks the demo shop from its first page: to a
// customer, to the frames, to one of them, and there by hand. Every reason that
// there is stands on a page on the way, as far as figures bring it about.
func TestEveryReasonIsThreeTapsAway(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	var figures map[string]int64
	if err := json.Unmarshal(testdata.Settings, &figures); err != nil {
		t.Fatal(err)
	}
	if err := s.Store.SetSettings(t.Context(), figures); err != nil {
		t.Fatal(err)
	}
	v := s.Staff()
	for _, document := range webtest.Customers(t) {
		v.Interview(document)
	}
	said := map[string]string{} // a reason as it stands, and where
	note := func(path string, a *webtest.Answer) {
		a.Page.Find(".reasons li").Each(func(_ int, li *goquery.Selection) { said[webtest.Words(li)] = path })
	}
	hrefs := func(a *webtest.Answer, selector string) []string {
		var list []string
		a.Page.Find(selector).Each(func(_ int, e *goquery.Selection) { list = append(list, e.AttrOr("href", "")) })
		return list
	}
	customers := hrefs(v.Get("/"), ".resume a")
	if len(customers) < 8 {
		t.Fatalf("%d customers on the first page", len(customers))
	}
	for _, customer := range customers {
		for _, frame := range hrefs(v.Get(customer+"/frames"), ".ranked h3 a") {
			page := v.Get(frame).Is(http.StatusOK, frame)
			note(frame, page)
		}
	}
	ticks(v, customers, note)
	for i := range match.Rules {
		rule := &match.Rules[i]
		if slices.Contains(notOfFigures, rule.Code) {
			continue
		}
		shown := ""
		for text, path := range said {
			for _, pattern := range sentences(rule) {
				if pattern.MatchString(text) {
					shown = path
				}
			}
		}
		if shown == "" {
			t.Errorf("%s is nowhere in the demo shop", rule.Code)
		}
	}
}

// ticks chooses by hand: a tray on one side alone and, for one customer, all
// there is and each thing alone.
func ticks(v *webtest.Visitor, customers []string, note func(string, *webtest.Answer)) {
	for i, customer := range customers {
		path := customer + "/frames/osier-assist/by-hand"
		choices := [][]string{{"tray-side-left"}}
		var all []string
		v.Get(path).Is(http.StatusOK, path).Page.Find(`.picks input[name="on"]`).Each(func(_ int, box *goquery.Selection) { all = append(all, box.AttrOr("value", "")) })
		if i == 0 {
			choices = append(choices, all)
			for _, code := range slices.Compact(slices.Sorted(slices.Values(all))) {
				choices = append(choices, []string{code})
			}
		}
		for _, on := range choices {
			note(path, v.Get(path+"?"+url.Values{"chosen": {"yes"}, "on": on}.Encode()))
		}
	}
}
