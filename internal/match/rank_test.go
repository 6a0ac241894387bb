// Ranking many frames: how long it takes, and that it stops when told to.
package match_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
)

// stocked returns the demo shop with so many frames: its own over and over,
// each copy with a code of its own and other figures, always the same ones.
// Add-ons fit a copy as they fit its model.
func stocked(t testing.TB, n int) *catalog.Catalogue {
	c, _ := demo(t)
	models, copies := c.Frames, map[string][]string{}
	c.Frames, c.Units = nil, nil
	for i := range n {
		f := models[i%len(models)]
		if lot := i / len(models); lot > 0 {
			f.Code = fmt.Sprintf("%s-%d", f.Code, lot)
			f.Price += measure.Money(lot%97) * 1300
			f.BareWeight += measure.Mass(lot%23) * 150 * g
			f.GrossRating += measure.Mass(lot%11-5) * 1500 * g
			f.Length += measure.Length(lot%13-6) * 9
		}
		copies[models[i%len(models)].Code] = append(copies[models[i%len(models)].Code], f.Code)
		c.Frames = append(c.Frames, f)
	}
	for i := range c.AddOns {
		refit(&c.AddOns[i], copies)
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func refit(a *catalog.AddOn, copies map[string][]string) {
	var fits []string
	for _, model := range a.Fits {
		fits = append(fits, copies[model]...)
	}
	pairs := map[string]catalog.Pair{}
	for model, pair := range a.OnFrame {
		for _, code := range copies[model] {
			pairs[code] = pair
		}
	}
	a.Fits, a.OnFrame = fits, pairs
}

// The copies are ranked like their models where nothing differs.
func TestStockedShopsAreJudgedLikeTheirModels(t *testing.T) {
	t.Parallel()
	c, profiles := demo(t)
	many := stocked(t, 3*len(c.Frames))
	for i := range c.Frames {
		k := &counter{c, &c.Frames[i], profiles["twins"], match.DefaultSettings(), nil}
		like := &counter{many, &many.Frames[i], profiles["twins"], match.DefaultSettings(), nil}
		a, b := k.judge(t), like.judge(t)
		if a.Verdict != b.Verdict || a.Total != b.Total || a.Count(stop) != b.Count(stop) {
			t.Errorf("%s: %s for %v alone, %s for %v among many", k.f.Code, a.Verdict, a.Total, b.Verdict, b.Total)
		}
	}
}

// Called off before or in the middle, ranking answers with the context's error
// long before it would have been done.
func TestRankStopsWithTheContext(t *testing.T) {
	c, profiles := demo(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if list, err := match.Rank(ctx, c, profiles["twins"], match.DefaultSettings(), match.Options{}); !errors.Is(err, context.Canceled) || list != nil {
		t.Errorf("called off before: %d matches, %v", len(list), err)
	}
	many := stocked(t, 4_000)
	ctx, cancel = context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	began := time.Now()
	list, err := match.Rank(ctx, many, profiles["two-parents"], match.DefaultSettings(), match.Options{Changes: true})
	if took := time.Since(began); !errors.Is(err, context.DeadlineExceeded) || list != nil || took > 2*time.Second {
		t.Errorf("called off after 50 ms: %d matches, %v, after %v", len(list), err, took)
	}
}
