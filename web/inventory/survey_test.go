package inventory

import (
	"fmt"
	"testing"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/testdata"
)

var surveyDay = measure.Date{Year: 2026, Month: 11, Day: 25}

// people are so many customers of whom only one figure differs.
func people(n int) [][]byte {
	var saved [][]byte
	for i := range n {
		saved = append(saved, fmt.Appendf(nil, `{"values":{"riders[0].height_cm":"%d.%d","riders[0].weight_kg":"70","passengers[0].born":"2022-03"},"unknown":[]}`, 160+i/10, i%10))
	}
	return saved
}

// surveyOf returns a surveyor and the demo shop.
func surveyOf(t *testing.T) (*surveyor, *advice.Shop) {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	shop, err := advice.NewAdvisor(nil).Of(c, match.DefaultSettings())
	if err != nil {
		t.Fatal(err)
	}
	return &surveyor{fault: func(what string, err error) { t.Errorf("%s: %v", what, err) }, idle: time.Hour}, shop
}

// looked looks until the work is done.
func (s *surveyor) looked(t *testing.T, shop *advice.Shop, saved [][]byte) *surveyed {
	t.Helper()
	for seen := 0; ; {
		now, err := s.look(t.Context(), shop, saved, surveyDay)
		if err != nil || now.seen < seen || now.seen > now.of || now.of != len(saved) {
			t.Fatalf("%d, then %d of %d, %v", seen, now.seen, now.of, err)
		}
		if seen = now.seen; now.done != nil {
			return now.done
		}
		time.Sleep(time.Millisecond)
	}
}

// TestSurveyGoesOnBesides looks again and again without waiting, and then with
// one customer more, of whom alone something has to be worked out.
func TestSurveyGoesOnBesides(t *testing.T) {
	t.Parallel()
	s, shop := surveyOf(t)
	first, err := s.look(t.Context(), shop, people(30), surveyDay)
	if err != nil || first.done != nil {
		t.Fatalf("%+v, %v: it was waited for", first, err)
	}
	done := s.looked(t, shop, people(30))
	if again, err := s.look(t.Context(), shop, people(30), surveyDay); err != nil || again.done != done || s.run != nil {
		t.Errorf("worked out again, %v", err)
	}
	known := s.known
	s.looked(t, shop, people(31))
	kept := 0
	for a, answer := range known {
		if s.known[a] == answer {
			kept++
		}
	}
	if kept != 30 || len(s.known) != 31 {
		t.Errorf("%d answers of 30 are kept, of %d", kept, len(s.known))
	}
	if s.looked(t, shop, people(12)); len(s.known) != 12 {
		t.Errorf("%d answers are known, of customers who are gone too", len(s.known))
	}
	_, other := surveyOf(t)
	if before := s.known; s.looked(t, other, people(12)) == done || len(s.known) != 12 || s.known[answersOf(people(1)[0])] == before[answersOf(people(1)[0])] {
		t.Error("the answers of another shop are kept")
	}
}

func answersOf(saved []byte) answers {
	each, _ := digests([][]byte{saved})
	return each[0]
}

// TestSurveyEndsWithWhoAsks looks once and goes away. Whoever comes later finds
// what was judged until then.
func TestSurveyEndsWithWhoAsks(t *testing.T) {
	t.Parallel()
	s, shop := surveyOf(t)
	s.idle = time.Millisecond
	saved := people(300)
	if _, err := s.look(t.Context(), shop, saved, surveyDay); err != nil {
		t.Fatal(err)
	}
	if run := s.now(); run != nil {
		<-run.over
		if run.err != nil {
			t.Error(run.err)
		}
	}
	if s.now() != nil || s.done != nil || len(s.known) == len(saved) {
		t.Errorf("it went on for nobody: %d of %d", len(s.known), len(saved))
	}
	s.idle = time.Hour
	if done := s.looked(t, shop, saved[:20]); done.judged != 20 {
		t.Errorf("%d judged", done.judged)
	}
}

// now is the work that goes on.
func (s *surveyor) now() *surveyRun {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.run
}

// TestSurveyThatBreaks has a shop that cannot be judged: whoever looks is told,
// and the next look begins anew.
func TestSurveyThatBreaks(t *testing.T) {
	t.Parallel()
	s, shop := surveyOf(t)
	other := &advice.Shop{} // without a catalogue
	faults := 0
	s.fault, s.wait = func(string, error) { faults++ }, time.Hour
	s.few = 3
	for n := 1; n <= 2; n++ {
		if _, err := s.look(t.Context(), other, people(3), surveyDay); err == nil || faults != n {
			t.Fatalf("no fault, or %d of them: %v", faults, err)
		}
	}
	if now, err := s.look(t.Context(), shop, people(3), surveyDay); err != nil || now.done == nil {
		t.Errorf("after that: %+v, %v", now, err)
	}
}
