package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// told is what every way in says of one frame.
type told struct{ Frame, Verdict, Score, Total string }

// postProfile sends a profile document to the app.
func (v *visitor) postProfile(document []byte) *answer {
	r := v.request(http.MethodPost, "/matches", bytes.NewReader(document))
	r.Header.Set("Content-Type", "application/json")
	return v.send(r)
}

// ranked judges the demo shop for a profile document, without the app.
func ranked(s *shop, document []byte) (matches []*match.Match, written []byte) {
	s.Helper()
	p, err := profile.Parse(document)
	if err != nil {
		s.Fatal(err)
	}
	c, err := s.store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	if matches, err = match.Rank(s.Context(), c, p, match.DefaultSettings(), match.Options{Changes: true}); err != nil {
		s.Fatal(err)
	}
	if written, err = match.Document(matches); err != nil {
		s.Fatal(err)
	}
	return matches, append(written, '\n')
}

// TestAPIAndPagesAgree asks for every sample customer by document and by
// form. The document answers byte for byte what the match sub-command writes;
// the ranking shows the same frames in the same order with the same verdicts,
// scores and totals. That the page of each frame does is held with its sums.
func TestAPIAndPagesAgree(t *testing.T) {
	s := open(t)
	v := s.staff()
	for name, document := range customers(t) {
		t.Run(name, func(t *testing.T) {
			matches, written := ranked(s, document)
			posted := v.postProfile(document).is(http.StatusOK, "/matches")
			if !bytes.Equal(posted.body, written) {
				t.Fatal(cmp.Diff(string(written), string(posted.body)))
			}
			want := toldByDocument(t, posted.body)
			if len(want) != len(matches) || len(want) == 0 {
				t.Fatalf("%d frames of %d", len(want), len(matches))
			}
			address := v.interview(document)
			if diff := cmp.Diff(want, toldByRanking(v.get(address+"/frames"))); diff != "" {
				t.Errorf("the ranking: %s", diff)
			}
			if diff := cmp.Diff(briefly(want), toldByList(v.get(address))); diff != "" {
				t.Errorf("the list beside the form: %s", diff)
			}
		})
	}
}

func toldByDocument(t *testing.T, body []byte) []told {
	t.Helper()
	var document struct {
		Matches []struct {
			Frame, Verdict string
			Score          *float64
			Total          int64 `json:"total_cents"`
		}
	}
	if err := json.Unmarshal(body, &document); err != nil {
		t.Fatal(err)
	}
	var list []told
	for _, m := range document.Matches {
		one := told{Frame: m.Frame, Verdict: m.Verdict, Total: fmt.Sprintf("%d.%02d", m.Total/100, m.Total%100)}
		if m.Score != nil {
			one.Score = fmt.Sprintf("%.1f", *m.Score)
		}
		list = append(list, one)
	}
	return list
}

// toldByRanking reads the page of the ranking: the order is that of the page,
// first what fits, then what is folded below.
func toldByRanking(a *answer) []told {
	var list []told
	a.page.Find(".ranked > li[data-frame]").Each(func(_ int, li *goquery.Selection) {
		list = append(list, told{
			Frame: li.AttrOr("data-frame", ""), Verdict: verdictOf(li.Find(".what .verdict")),
			Score: strings.TrimSuffix(words(li.Find(".points > summary")), " points"), Total: amount(words(li.Find(".price"))),
		})
	})
	return list
}

func toldByList(a *answer) []told {
	var list []told
	a.page.Find("#ranking .short > li[data-frame]").Each(func(_ int, li *goquery.Selection) {
		list = append(list, told{Frame: li.AttrOr("data-frame", ""), Verdict: verdictOf(li.Find(".verdict"))})
	})
	return list
}

func briefly(list []told) []told {
	var brief []told
	for _, one := range list {
		brief = append(brief, told{Frame: one.Frame, Verdict: one.Verdict})
	}
	return brief
}

func toldByFrame(a *answer, code string) told {
	a.Helper()
	return told{
		Frame: code, Verdict: verdictOf(a.one(".frame > header .verdict")), Score: strings.TrimPrefix(a.text("#score"), "Score "),
		Total: amount(words(a.one(`section[aria-labelledby="price"] tfoot td`))),
	}
}

// verdictOf returns the code of a verdict whose word says the same.
func verdictOf(verdict *goquery.Selection) string {
	for code, word := range map[string]string{"fits": "Fits", "fits_with_care": "Fits with care", "does_not_fit": "Does not fit"} {
		if verdict.HasClass(code) && words(verdict) == word && verdict.Find("svg").Length() == 1 {
			return code
		}
	}
	return "no verdict: " + words(verdict)
}

// amount turns EUR 3,777.00 into 3777.00.
func amount(shown string) string {
	return strings.ReplaceAll(strings.TrimPrefix(strings.ReplaceAll(shown, "\u00a0", " "), "EUR "), ",", "")
}
