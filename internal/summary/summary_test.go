package summary

import (
	"flag"
	"io/fs"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

var write = flag.Bool("write", false, "write the kept summary anew, when a version begins")

func demo(t *testing.T) *advice.Shop {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}
}

func customer(t *testing.T, name string) *profile.Profile {
	t.Helper()
	document, err := testdata.Profiles.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sentences writes every sentence of an answer in both systems of units.
func sentences(a *Answer) []string {
	var said []string
	say := func(m match.Message) { said = append(said, m.In(measure.Metric), m.In(measure.Imperial)) }
	for _, m := range [...]*match.Match{a.Match, a.Plain} {
		for i := range m.Reasons {
			say(m.Reasons[i].Message)
		}
		if m.Change != nil {
			say(m.Change.Message)
		}
		for _, code := range m.Build.AddOns {
			for _, why := range a.Why[code] {
				say(why)
			}
		}
	}
	return said
}

// figures are what a page draws of a match besides its sentences.
func figures(m *match.Match) any {
	type seat struct {
		Passenger, AddOn string
		Load             measure.Mass
		Estimated        bool
		Place            catalog.Place
	}
	var seats []seat
	for _, s := range m.Seated {
		seats = append(seats, seat{s.Passenger, s.AddOn, s.Standing.Load, s.Standing.Estimated, *s.Place})
	}
	return []any{m.Frame.Code, m.Verdict, m.Relaxed, m.Open, m.Build.AddOns, m.Build.TakenOff, m.Build.Price, m.Build.Labour, m.Total, m.Horizon, m.Home, seats, m.Sheets, tellStages(m.Stages)}
}

// TestAnswersAreReadAsTheyWereTold keeps the answer on every frame for every
// sample customer, with the best set and with the same by hand.
func TestAnswersAreReadAsTheyWereTold(t *testing.T) {
	shop := demo(t)
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d customers, %v", len(names), err)
	}
	told, planned := 0, 0
	for _, name := range names {
		p := customer(t, name)
		for i := range shop.Catalogue.Frames {
			m, err := shop.Best(t.Context(), &shop.Catalogue.Frames[i], p, match.Options{Changes: true})
			if err != nil {
				t.Fatal(err)
			}
			s, err := Of(shop, p, m, i%2 == 0)
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
			want, err := k.Answer(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			got, err := k.ReadAnswer(answer)
			if err != nil {
				t.Fatal(err)
			}
			for what, pair := range map[string][2]any{
				"sentences": {sentences(want), sentences(got)}, "figures": {figures(want.Match), figures(got.Match)},
				"figures by hand": {figures(want.Plain), figures(got.Plain)}, "the way home": {want.Parts, got.Parts}, "the years": {want.Years, got.Years},
			} {
				if diff := cmp.Diff(pair[0], pair[1], cmpopts.EquateEmpty()); diff != "" {
					t.Errorf("%s on %s: %s: %s", name, m.Frame.Code, what, diff)
				}
			}
			told += len(sentences(got))
			if got.Years != nil && got.Match.Stages != nil && i%2 != 0 {
				planned++
			}
		}
	}
	if told < 1000 || planned < 10 {
		t.Errorf("only %d sentences, and the years of %d", told, planned)
	}
}

// TestEarlierAnswersAreRead reads what was kept when the version began. Never
// write it anew: customers have links to such answers.
func TestEarlierAnswersAreRead(t *testing.T) {
	if *write {
		keep(t)
	}
	document, err := os.ReadFile("testdata/summary-1.json")
	if err != nil {
		t.Fatal(err)
	}
	answer, err := os.ReadFile("testdata/answer-1.json")
	if err != nil {
		t.Fatal(err)
	}
	k, err := Read(document)
	if err != nil {
		t.Fatal(err)
	}
	a, err := k.ReadAnswer(answer)
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile("testdata/answer-1.txt")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), inWords(a)); diff != "" {
		t.Error(diff)
	}
}

// TestWhatIsNoAnswerIsRefused reads answers of another version and damaged ones.
func TestWhatIsNoAnswerIsRefused(t *testing.T) {
	document, err := os.ReadFile("testdata/summary-1.json")
	if err != nil {
		t.Fatal(err)
	}
	k, err := Read(document)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"", "{", "{}", `{"answer": 2}`, `{"answer": 1}`, `{"answer": 1, "match": {"verdict": "fits"}, "plain": {}}`,
		`{"answer": 1, "match": {"build": {}, "reasons": [{"code": "grip", "text": {"says": "%v", "with": [{"kind": "wish"}]}}]}, "plain": {}}`} {
		if _, err := k.ReadAnswer([]byte(text)); err == nil {
			t.Errorf("%s is read", text)
		}
	}
	if _, err := messageOf(match.Message{Format: "%v", Args: []any{3.5}}); err == nil {
		t.Error("a figure of no kind is kept")
	}
}

// TestStagesThatTellAWeight holds that a page without the riders' weights has
// no years ahead, and of the stages those alone that stay as they are under
// riders of any weight that fits.
func TestStagesThatTellAWeight(t *testing.T) {
	shop := demo(t)
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil {
		t.Fatal(err)
	}
	shown, left := 0, 0
	for _, name := range names {
		p := customer(t, name)
		p.Years = profile.Given(10)
		for i := range shop.Catalogue.Frames {
			m, err := shop.Best(t.Context(), &shop.Catalogue.Frames[i], p, match.Options{Stages: true})
			if err != nil {
				t.Fatal(err)
			}
			if m.Stages == nil {
				continue
			}
			s, err := Of(shop, p, m, false)
			if err != nil {
				t.Fatal(err)
			}
			s.Hide = true
			s.Beside([]match.OverTheYears{{Frame: m.Frame, Until: 1, Total: 1}})
			document, err := s.Document()
			if err != nil {
				t.Fatal(err)
			}
			k, err := Read(document)
			if err != nil {
				t.Fatal(err)
			}
			told, err := k.judge(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if k.Cheaper != nil {
				t.Errorf("%s on %s: what else serves as long is told", name, m.Frame.Code)
			}
			if told.Stages == nil {
				left++
				continue
			}
			shown++
			for _, mass := range []measure.Mass{40_000, 50_000} {
				if under, err := k.stagesUnder(t.Context(), mass); err != nil || !cmp.Equal(under, tellStages(m.Stages)) {
					t.Errorf("%s on %s: other stages under a rider of %v, %v", name, m.Frame.Code, mass, err)
				}
			}
		}
	}
	t.Logf("%d shown, %d left out", shown, left)
	if shown < 10 || left == 0 {
		t.Errorf("%d shown, %d left out", shown, left)
	}
}
