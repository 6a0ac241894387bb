package concern

import (
	"context"
	"slices"

	"kinwain/internal/advice"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/parking"
	"kinwain/internal/summary"
)

// Since is what a shop has changed since a fit summary: the same people, day
// and add-ons, judged by the figures of today. What is as it was is zero.
type Since struct {
	FrameGone  bool
	AddOnsGone []string // codes

	Verdict *match.Match  // another answer, with its reasons
	Spare   []*load.Sheet // of the riders under whom something else is left
	Sheets  bool          // other weights or ratings, which leave the same
	Horizon *fitting.Horizon
	Home    *parking.Fit
	Price   *match.Cost
	Tax     bool
}

// Matters reports whether what was told no longer holds as it was told: more
// has changed than what the bike costs.
func (s *Since) Matters() bool {
	return s.FrameGone || len(s.AddOnsGone) > 0 || s.Verdict != nil || len(s.Spare) > 0 || s.Sheets || s.Horizon != nil || s.Home != nil
}

// SinceThen says what a shop has changed since a summary was made. then is
// what was judged when it was.
func SinceThen(ctx context.Context, k *summary.Kept, then *match.Match, today *advice.Shop) (*Since, error) {
	s := &Since{}
	if s.FrameGone, s.AddOnsGone = k.Gone(today.Catalogue); s.FrameGone || len(s.AddOnsGone) > 0 {
		return s, nil
	}
	now, err := k.In(ctx, today)
	if err != nil {
		return nil, err
	}
	if then.Verdict != now.Verdict || !slices.Equal(then.Relaxed, now.Relaxed) {
		s.Verdict = now
	}
	if slices.Equal(then.Relaxed, now.Relaxed) { // what leaves something out cannot be compared with what does not
		s.sheets(then, now)
		if then.Horizon != nil && now.Horizon != nil && *then.Horizon != *now.Horizon { // where only one of them is, the verdict tells
			s.Horizon = now.Horizon
		}
		if then.Home != nil && now.Home != nil && *then.Home != *now.Home {
			s.Home = now.Home
		}
	}
	old, shop := &k.Shop.Catalogue.Shop, &today.Catalogue.Shop
	if then.Total != now.Total || old.Currency != shop.Currency {
		s.Price = &match.Cost{Amount: now.Total, Currency: shop.Currency}
	}
	s.Tax = old.Tax != shop.Tax || old.PricesIncludeTax != shop.PricesIncludeTax
	return s, nil
}

func (s *Since) sheets(then, now *match.Match) {
	for i := range then.Sheets {
		a, b := &then.Sheets[i], &now.Sheets[i]
		if a.Spare() != b.Spare() {
			s.Spare = append(s.Spare, b)
		} else if !sameSums(a, b) {
			s.Sheets = true
		}
	}
}

// sameSums reports whether two load sheets come to the same.
func sameSums(a, b *load.Sheet) bool {
	return a.Bare == b.Bare && a.Total == b.Total && a.Rating == b.Rating && a.Carried == b.Carried && a.Guideline == b.Guideline &&
		a.Axles == b.Axles && a.Front == b.Front && a.Rear == b.Rear && slices.Equal(a.Zones, b.Zones) && slices.Equal(a.Combined, b.Combined)
}
