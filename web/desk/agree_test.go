package desk_test

import (
	"bytes"
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/web/webtest"
)

// postProfile sends a profile document to the app.
func postProfile(v *webtest.Visitor, document []byte) *webtest.Answer {
	r := v.Request(http.MethodPost, "/matches", bytes.NewReader(document))
	r.Header.Set("Content-Type", "application/json")
	return v.Send(r)
}

// ranked judges the demo shop for a profile document, without the app.
func ranked(s *webtest.Shop, document []byte) (matches []*match.Match, written []byte) {
	s.Helper()
	p, err := profile.Parse(document)
	if err != nil {
		s.Fatal(err)
	}
	c, err := s.Store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	if matches, err = match.Rank(s.Context(), c, p, match.DefaultSettings(), match.Options{Changes: true, Stages: true}); err != nil {
		s.Fatal(err)
	}
	asked, _, err := match.Questions(s.Context(), c, p, match.DefaultSettings())
	if err != nil {
		s.Fatal(err)
	}
	if written, err = match.Document(matches, asked); err != nil {
		s.Fatal(err)
	}
	return matches, append(written, '\n')
}

// beforeQuestions is a document up to its questions, of which a slow machine
// finds fewer in the time that there is.
func beforeQuestions(t *testing.T, document []byte) string {
	t.Helper()
	matches, _, found := bytes.Cut(document, []byte("\n  \"questions\": "))
	if !found {
		t.Fatalf("no questions: %.300s", document)
	}
	return string(matches)
}

// TestAPIAndPagesAgree asks for every sample customer by document and by
// form. The document answers byte for byte what the match sub-command writes;
// the ranking shows the same frames in the same order with the same verdicts,
// scores and totals. That the page of each frame does is held with its sums.
func TestAPIAndPagesAgree(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	for name, document := range webtest.Customers(t) {
		t.Run(name, func(t *testing.T) {
			matches, written := ranked(s, document)
			posted := postProfile(v, document).Is(http.StatusOK, "/matches")
			if diff := cmp.Diff(beforeQuestions(t, written), beforeQuestions(t, posted.Body)); diff != "" {
				t.Fatal(diff)
			}
			want := webtest.ToldByDocument(t, posted.Body)
			if len(want) != len(matches) || len(want) == 0 {
				t.Fatalf("%d frames of %d", len(want), len(matches))
			}
			address := v.Interview(document)
			if diff := cmp.Diff(want, webtest.ToldByRanking(v.Get(address+"/frames"))); diff != "" {
				t.Errorf("the ranking: %s", diff)
			}
			if diff := cmp.Diff(briefly(want), toldByList(v.Get(address))); diff != "" {
				t.Errorf("the list beside the form: %s", diff)
			}
		})
	}
}

func toldByList(a *webtest.Answer) []webtest.Told {
	var list []webtest.Told
	a.Page.Find("#ranking .short > li[data-frame]").Each(func(_ int, li *goquery.Selection) {
		list = append(list, webtest.Told{Frame: li.AttrOr("data-frame", ""), Verdict: webtest.VerdictOf(li.Find(".verdict"))})
	})
	return list
}

func briefly(list []webtest.Told) []webtest.Told {
	var brief []webtest.Told
	for _, one := range list {
		brief = append(brief, webtest.Told{Frame: one.Frame, Verdict: one.Verdict})
	}
	return brief
}

func toldByFrame(a *webtest.Answer, code string) webtest.Told {
	a.Helper()
	return webtest.Told{
		Frame: code, Verdict: webtest.VerdictOf(a.One(".frame > header .verdict")), Score: strings.TrimPrefix(a.Text("#score"), "Score "),
		Total: webtest.Amount(webtest.Words(a.One(`section[aria-labelledby="price"] tfoot td`))),
	}
}
