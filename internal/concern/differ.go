package concern

import (
	"context"
	"strings"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
)

// compare judges a frame by both catalogues and says what differs.
func (a *answer) compare(ctx context.Context, before, after *advice.Shop) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if a.gone(before.Catalogue) != "" { // there is no answer that could change
		a.judged = true
		return nil
	}
	old, err := a.judge(ctx, before)
	if err != nil {
		return err
	}
	if gone := a.gone(after.Catalogue); gone != "" {
		a.judged = true
		if a.row.Sent || old.Fits() {
			a.row.Parts, a.row.Worse = []string{gone}, true
		}
		return nil
	}
	new, err := a.judge(ctx, after)
	if err != nil {
		return err
	}
	a.judged = true
	a.row.Parts, a.row.Worse = differences(old, new, before.Catalogue.Shop.Currency, after.Catalogue.Shop.Currency)
	return nil
}

// gone says that the frame, or an add-on of the set that was sent home, can no
// longer be had.
func (a *answer) gone(c *catalog.Catalogue) string {
	frame := c.Frame(a.row.Frame) == nil
	var addOns []string
	if a.kept != nil {
		frame, addOns = a.kept.Gone(c)
	}
	switch {
	case frame:
		return "no longer in the catalogue"
	case len(addOns) > 0:
		return "the shop no longer has an add-on of it"
	}
	return ""
}

// differences says in words which verdict, horizon or total is another one.
// Where a frame does not fit before and after there is nothing to tell.
func differences(old, new *match.Match, oldCurrency, newCurrency string) (parts []string, worse bool) {
	if !old.Fits() && !new.Fits() {
		return nil, false
	}
	if old.Verdict != new.Verdict {
		parts = append(parts, verdictWords(old.Verdict)+" → "+verdictWords(new.Verdict))
		worse = !new.Fits() || old.Verdict == match.Fits
	}
	if old.Horizon != nil && new.Horizon != nil && horizonWords(old) != horizonWords(new) {
		parts = append(parts, horizonWords(old)+" → "+strings.TrimPrefix(horizonWords(new), "until "))
		worse = worse || new.Horizon.Months < old.Horizon.Months
	}
	if was, is := old.Total.Show(oldCurrency), new.Total.Show(newCurrency); was != is {
		parts = append(parts, was+" → "+is)
	}
	return parts, worse
}

func verdictWords(v match.Verdict) string { return strings.ReplaceAll(string(v), "_", " ") }

func horizonWords(m *match.Match) string {
	if !m.Horizon.Ends {
		return "for ten years"
	}
	return "until " + m.Horizon.Month.String()
}
