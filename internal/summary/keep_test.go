package summary

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// keep writes a summary and its answer, and what they say, to be read by every
// program that follows.
func keep(t *testing.T) {
	t.Helper()
	shop := demo(t)
	p := customer(t, "profiles/twins.json")
	m, err := shop.Best(t.Context(), shop.Catalogue.Frame("osier-m"), p, match.Options{Changes: true})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Of(shop, p, m, false)
	if err != nil {
		t.Fatal(err)
	}
	document, answer, err := s.Write(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	k, err := Read(document)
	if err != nil {
		t.Fatal(err)
	}
	a, err := k.Answer(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{"summary-1.json": document, "answer-1.json": answer, "answer-1.txt": []byte(inWords(a))} {
		if err := os.WriteFile("testdata/"+name, content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// inWords writes an answer so that a person can hold it against another one.
func inWords(a *Answer) string {
	var b strings.Builder
	for _, m := range [...]*match.Match{a.Match, a.Plain} {
		fmt.Fprintln(&b, m.Frame.Code, m.Verdict, m.Relaxed, m.Total, m.Build.AddOns, m.Build.TakenOff)
		for i := range m.Sheets {
			sh := &m.Sheets[i]
			fmt.Fprintln(&b, sh.Rider.Label, sh.Total, sh.Rating, sh.Carried, sh.Guideline, sh.Zones, sh.Axles, sh.Front, sh.Rear, len(sh.Items))
		}
		for _, s := range m.Seated {
			fmt.Fprintln(&b, s.Passenger, "on", s.AddOn, s.Standing.Load.Show(measure.Metric, measure.Up), s.Place.MaxMass)
		}
		if m.Horizon != nil {
			fmt.Fprintln(&b, "until", m.Horizon.Month, m.Horizon.Limit)
		}
		if m.Home != nil {
			fmt.Fprintln(&b, "home", m.Home.Fits, m.Home.How, m.Home.Tightest, m.Home.Slack)
		}
	}
	for _, p := range a.Parts {
		fmt.Fprintln(&b, p.Name, p.How, p.Slack)
	}
	fmt.Fprintln(&b, strings.Join(sentences(a), "\n"))
	return b.String()
}
