package web

import (
	"context"
	"reflect"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/parking"
)

// since says in plain words what the shop has changed since the snapshot: the
// same people, day and add-ons, judged by the figures of today.
func (v *fitViewer) since(ctx context.Context, today *catalog.Catalogue, settings match.Settings) ([]string, error) {
	if gone := v.gone(today); gone != "" {
		return []string{gone}, nil
	}
	then, err := v.kept.byHand(ctx, v.catalogue, v.settings)
	if err != nil {
		return nil, err
	}
	now, err := v.kept.byHand(ctx, today, settings)
	if err != nil {
		return nil, err
	}
	said := v.changedVerdict(then, now)
	if slices.Equal(then.Relaxed, now.Relaxed) { // what leaves something out cannot be compared with what does not
		said = append(said, v.changedSheets(then, now)...)
		said = append(said, v.changedHorizon(then.Horizon, now.Horizon)...)
		said = append(said, v.changedHome(then.Home, now.Home)...)
	}
	return append(said, v.changedPrice(then, now, &today.Shop)...), nil
}

// changedVerdict says another answer, and the first reason for it.
func (v *fitViewer) changedVerdict(then, now *match.Match) []string {
	if then.Verdict == now.Verdict && slices.Equal(then.Relaxed, now.Relaxed) {
		return nil
	}
	answer := v.say("By the shop’s figures of today the answer is: %v.", v.say(verdictWords[now.Verdict]))
	if len(now.Reasons) > 0 && now.Verdict != match.Fits {
		answer += " " + v.reason(&now.Reasons[0])
	}
	return []string{answer}
}

// gone says that the frame, or add-ons on it, can no longer be had.
func (v *fitViewer) gone(today *catalog.Catalogue) string {
	f := today.Frame(v.Frame.Code)
	if f == nil {
		return v.say("The shop no longer offers this bike. Ask before you rely on this page.")
	}
	var names []string
	for _, code := range v.kept.On {
		a, name := today.AddOn(code), v.addOnName(code)
		if (a == nil || !slices.Contains(a.Fits, f.Code) && !slices.Contains(f.ComesWith, code)) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return v.say("The shop no longer fits to this bike: %v. Ask before you rely on this page.", v.speaker.List(names))
}

func (v *fitViewer) changedSheets(then, now *match.Match) []string {
	var said []string
	differs := false
	for i := range then.Sheets {
		a, b := &then.Sheets[i], &now.Sheets[i]
		if a.Spare() != b.Spare() {
			said = append(said, v.say("By the shop’s figures of today, under rider %v: %v.", b.Rider.Label, v.spare(b)))
		} else if !reflect.DeepEqual(sums(a), sums(b)) {
			differs = true
		}
	}
	if differs {
		said = append(said, v.say("The shop has since changed weights or ratings of this bike. Ask for a new load sheet."))
	}
	return said
}

func (v *fitViewer) changedHorizon(then, now *fitting.Horizon) []string {
	if then == nil || now == nil || *then == *now {
		return nil // where only one of them is, the verdict tells
	}
	if !now.Ends {
		return []string{v.say("By the shop’s figures of today nothing is outgrown within ten years.")}
	}
	return []string{v.say("By the shop’s figures of today it lasts until the end of %v.", now.Month)}
}

func (v *fitViewer) changedHome(then, now *parking.Fit) []string {
	switch {
	case then == nil || now == nil || *then == *now:
		return nil
	case now.Fits:
		return []string{v.say("By the shop’s figures of today it gets home with %v to spare.", down(now.Slack))}
	}
	return []string{v.say("By the shop’s figures of today it does not get home.")}
}

func (v *fitViewer) changedPrice(then, now *match.Match, shop *catalog.Shop) []string {
	var said []string
	old := &v.catalogue.Shop
	if then.Total != now.Total || old.Currency != shop.Currency {
		said = append(said, v.say("The shop has since changed the price: now %v.", match.Cost{Amount: now.Total, Currency: shop.Currency}))
	}
	if old.Tax != shop.Tax || old.PricesIncludeTax != shop.PricesIncludeTax {
		said = append(said, v.say("The shop has since changed the tax: now %v.", shop.Tax))
	}
	return said
}

// sums are what a load sheet comes to.
func sums(sh *load.Sheet) load.Sheet {
	f := *sh
	f.Items, f.Rider = nil, load.Rider{}
	return f
}
