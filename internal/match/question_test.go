package match_test

import (
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
)

// asked are the questions about a customer of the demo shop.
func asked(t testing.TB, p *profile.Profile) []match.Question {
	t.Helper()
	s := match.DefaultSettings()
	s.Patience = 0 // the same on a slow machine
	list, settled, err := match.Questions(t.Context(), demoShop(t), p, s)
	if err != nil || !settled {
		t.Fatalf("settled %v, %v", settled, err)
	}
	return list
}

// told are the verdicts of a ranking by frame, and the first five that fit.
type told struct {
	verdicts map[string]match.Verdict
	first    []string
}

// rankedWith ranks the demo shop anew with an answer given, without any of
// what Questions leaves out.
func rankedWith(t testing.TB, p *profile.Profile, path string, figure int64) told {
	t.Helper()
	if path != "" {
		var ok bool
		if p, ok = p.With(path, figure); !ok {
			t.Fatalf("no answer at %s", path)
		}
	}
	settings := match.DefaultSettings()
	settings.Patience = 0
	list, err := match.Rank(t.Context(), demoShop(t), p, settings, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := told{verdicts: map[string]match.Verdict{}}
	for _, m := range list {
		s.verdicts[m.Frame.Code] = m.Verdict
		if len(s.first) < 5 && m.Verdict != match.DoesNotFit {
			s.first = append(s.first, m.Frame.Code)
		}
	}
	return s
}

// verdictWith judges one frame anew with an answer given.
func verdictWith(t testing.TB, p *profile.Profile, path string, figure int64, f *catalog.Frame) match.Verdict {
	t.Helper()
	p, ok := p.With(path, figure)
	if !ok {
		t.Fatalf("no answer at %s", path)
	}
	settings := match.DefaultSettings()
	settings.Patience = 0
	m, err := match.One(t.Context(), demoShop(t), f, p, settings, match.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return m.Verdict
}

// implied is the verdict of a frame at a figure, from the edges and the
// verdict at the least figure.
func implied(q *match.Question, least match.Verdict, frame string, figure int64) match.Verdict {
	for _, e := range q.Edges {
		if e.Frame.Code == frame && e.Figure <= figure {
			least = e.From
		}
	}
	return least
}

// TestQuestionsTurnWhereTheySay ranks anew at every edge and one unit below
// it, and at figures between: verdicts turn there and nowhere else.
func TestQuestionsTurnWhereTheySay(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 11))
	edges, stretches := 0, 0
	for name, p := range customers(t) {
		for _, q := range asked(t, p) {
			least := rankedWith(t, p, q.Path, q.Span.Least)
			for _, e := range q.Edges {
				edges++
				if e.Under == e.From || e.Figure <= q.Span.Least || e.Figure > q.Span.Most {
					t.Errorf("%s, %s: no edge: %+v", name, q.Path, e)
				}
				if under, from := verdictWith(t, p, q.Path, e.Figure-1, e.Frame), verdictWith(t, p, q.Path, e.Figure, e.Frame); under != e.Under || from != e.From {
					t.Errorf("%s, %s: %s turns from %s to %s at %d, said %s to %s", name, q.Path, e.Frame.Code, under, from, e.Figure, e.Under, e.From)
				}
			}
			for _, figure := range []int64{q.Span.Most, q.Span.Least + r.Int64N(q.Span.Most-q.Span.Least+1), q.Span.Least + r.Int64N(q.Span.Most-q.Span.Least+1)} {
				stretches++
				for code, verdict := range rankedWith(t, p, q.Path, figure).verdicts {
					if want := implied(&q, least.verdicts[code], code, figure); verdict != want {
						t.Errorf("%s, %s at %d: %s is %s, the edges say %s", name, q.Path, figure, code, verdict, want)
					}
				}
			}
		}
	}
	if edges < 40 || stretches < 30 {
		t.Errorf("only %d edges and %d rankings", edges, stretches)
	}
}

// TestWorthOfAQuestion counts over a span, figure by figure where it is short
// and by samples else, how often something differs from now.
func TestWorthOfAQuestion(t *testing.T) {
	t.Parallel()
	for name, p := range customers(t) {
		now := rankedWith(t, p, "", 0)
		list := asked(t, p)
		if !slices.IsSortedFunc(list, func(a, b match.Question) int { return int(b.Worth - a.Worth) }) || len(list) > match.MostQuestions {
			t.Errorf("%s: %d questions, or out of order", name, len(list))
		}
		for _, q := range list {
			const samples = 10
			differing, n := 0, min(q.Span.Most-q.Span.Least+1, samples)
			for k := range n {
				figure := q.Span.Least + (q.Span.Most-q.Span.Least)*k/max(n-1, 1)
				s := rankedWith(t, p, q.Path, figure)
				same := slices.Equal(s.first, now.first)
				for code, v := range s.verdicts {
					same = same && v == now.verdicts[code]
				}
				if !same {
					differing++
				}
			}
			if got, want := float64(q.Worth)/10_000, float64(differing)/float64(n); got < want-0.15 || got > want+0.15 {
				t.Errorf("%s, %s: worth %.3f, %d of %d figures differ", name, q.Path, got, differing, n)
			}
		}
	}
}

// TestNothingLeftToAsk asks of a customer who said everything.
func TestNothingLeftToAsk(t *testing.T) {
	t.Parallel()
	p := parsed(t, full)
	p.Riders[0].Weighed, p.Riders[1].Inseam, p.Riders[1].Grip = profile.Given(profile.Dressed), p.Riders[0].Inseam, p.Riders[0].Grip
	if list := asked(t, p); len(list) > 0 {
		t.Errorf("%+v", list)
	}
}

// TestWhatChangesNothingIsNotAsked tries every answer that is not asked for
// although there was room for a question: nothing changes at either end, nor
// in the middle.
func TestWhatChangesNothingIsNotAsked(t *testing.T) {
	t.Parallel()
	tried := 0
	for name, p := range customers(t) {
		list := asked(t, p)
		if len(list) == match.MostQuestions {
			continue
		}
		now := rankedWith(t, p, "", 0)
		for _, u := range p.Unanswered() {
			if slices.ContainsFunc(list, func(q match.Question) bool { return q.Path == u.Path }) {
				continue
			}
			span := u.Question.Usual
			for _, figure := range []int64{span.Least, (span.Least + span.Most) / 2, span.Most} {
				with, ok := p.With(u.Path, figure)
				if !ok || with.Check() != nil {
					continue
				}
				tried++
				s := rankedWith(t, p, u.Path, figure)
				if !slices.Equal(s.first, now.first) {
					t.Errorf("%s: %s at %d changes the order, and is not asked", name, u.Path, figure)
				}
			}
		}
	}
	t.Logf("%d answers tried", tried)
}

// TestAskedOfALift asks of a lift that nobody spoke of as of one that there may
// not be.
func TestAskedOfALift(t *testing.T) {
	t.Parallel()
	p := customers(t)["two-parents"]
	const question = "How wide is the door of the lift?"
	for _, want := range []string{question + " Leave empty where there is none.", question} {
		list := asked(t, p)
		at := slices.IndexFunc(list, func(q match.Question) bool { return q.Path == "home.lift.door_cm" })
		if at < 0 {
			t.Fatalf("not asked: %v", list)
		}
		if got := list[at].Asked().In(measure.Metric); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		home := p.Home.Or(profile.Home{})
		home.Lift = profile.Given(profile.Lift{Height: profile.Given(220 * cm)})
		p.Home = profile.Given(home)
	}
}

// shop is the demo shop, read once: thousands of rankings are of it.
var shop = sync.OnceValues(func() (*catalog.Catalogue, error) { return catalog.Parse(testdata.Demo) })

func demoShop(t testing.TB) *catalog.Catalogue {
	t.Helper()
	c, err := shop()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func customers(t testing.TB) map[string]*profile.Profile {
	_, profiles := demo(t)
	return profiles
}

func BenchmarkQuestions(b *testing.B) {
	for name, p := range customers(b) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				asked(b, p)
			}
		})
	}
}
