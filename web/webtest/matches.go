package webtest

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

// Told is what every way in says of one frame.
type Told struct{ Frame, Verdict, Score, Total string }

// ToldByDocument reads the interchange document.
func ToldByDocument(t *testing.T, body []byte) []Told {
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
	var list []Told
	for _, m := range document.Matches {
		one := Told{Frame: m.Frame, Verdict: m.Verdict, Total: fmt.Sprintf("%d.%02d", m.Total/100, m.Total%100)}
		if m.Score != nil {
			one.Score = fmt.Sprintf("%.1f", *m.Score)
		}
		list = append(list, one)
	}
	return list
}

// ToldByRanking reads the page of the ranking: the order is that of the page,
// first what fits, then what is folded below.
func ToldByRanking(a *Answer) []Told {
	var list []Told
	a.Page.Find(".ranked > li[data-frame]").Each(func(_ int, li *goquery.Selection) {
		list = append(list, Told{
			Frame: li.AttrOr("data-frame", ""), Verdict: VerdictOf(li.Find(".what .verdict")),
			Score: Words(li.Find(".points tfoot td:last-child")), Total: Amount(Words(li.Find(".price"))),
		})
	})
	return list
}

// VerdictOf returns the code of a verdict whose word says the same.
func VerdictOf(verdict *goquery.Selection) string {
	for code, word := range map[string]string{"fits": "Fits", "fits_with_care": "Fits with care", "does_not_fit": "Does not fit"} {
		if verdict.HasClass(code) && Words(verdict) == word && verdict.Find("svg").Length() == 1 {
			return code
		}
	}
	return "no verdict: " + Words(verdict)
}

// Amount turns €3,777.00 into 3777.00.
func Amount(shown string) string {
	return strings.ReplaceAll(strings.ReplaceAll(shown, "€", ""), ",", "")
}

// wrong is what the API answers where it does not answer with matches.
type wrong struct {
	Error struct {
		Code, Text string
		Problems   []struct{ Path, Code, Text string }
	}
}

// Wrong reads what the API answers where it does not answer with matches.
func (a *Answer) Wrong() wrong {
	a.Helper()
	var w wrong
	decoder := json.NewDecoder(strings.NewReader(string(a.Body)))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&w); err != nil || a.Header.Get("Content-Type") != "application/json" || w.Error.Code == "" || w.Error.Text == "" {
		a.Fatalf("%s %s, %v", a.Header.Get("Content-Type"), a.Body, err)
	}
	return w
}

// Plain is a customer of whom nothing is known but height and weight.
const Plain = `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`
