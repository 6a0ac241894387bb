package takehome

import (
	"context"

	"kinwain/internal/match"
	"kinwain/internal/summary"
	"kinwain/web/talk"
)

// beside keeps with a summary which other frames cost less over the years: of a
// set that was chosen by hand there are none, as it is not planned for.
func (room *Room) beside(ctx context.Context, c *talk.Consultation, chosen *talk.Choice, kept *summary.Summary) error {
	if chosen.ByHand || kept.Hide {
		return nil
	}
	m, err := c.Best(ctx, chosen.Match.Frame, c.Profile, match.Options{Stages: true})
	if err != nil {
		return err
	}
	cheaper, err := c.Cheaper(ctx, m, c.Profile)
	kept.Beside(cheaper)
	return err
}
