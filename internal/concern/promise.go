package concern

import (
	"context"
	"fmt"
	"slices"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/quote"
	"kinwain/internal/store"
)

// quote judges the very add-ons of a quote for the customer as they are now, and
// the bike that is held for it.
func (c *customer) quote(ctx context.Context, id string) error {
	q, err := c.Store.Quote(ctx, id)
	if store.CodeOf(err) == store.NotFound {
		return nil
	}
	if err != nil {
		return err
	}
	parts, worse := c.quoted(ctx, &q)
	lost, err := c.heldFor(ctx, &q)
	c.says("the "+q.FrameName+", as quoted in "+q.Name(), q.Frame, append(parts, lost...), worse || len(lost) > 0)
	return err
}

func (c *customer) quoted(ctx context.Context, q *quote.Quote) (parts []string, worse bool) {
	old := c.old.Catalogue.Frame(q.Frame)
	if old == nil || !slices.Contains(c.touched, q.Frame) {
		return nil, false
	}
	on := onQuote(old, q)
	has := func(s *advice.Shop) bool {
		frame := s.Catalogue.Frame(q.Frame)
		return frame != nil && !slices.ContainsFunc(on, func(code string) bool { return !s.Catalogue.MayBeOn(code, frame) })
	}
	switch {
	case c.new.Catalogue.Frame(q.Frame) == nil:
		return []string{c.gone(q.Frame)}, true
	case !has(c.old):
		return nil, false // somebody has seen that
	case !has(c.new):
		return []string{"the shop no longer has an add-on of it"}, true
	case c.who == nil:
		return []string{lookAt}, true
	}
	return c.differs(ctx, func(s *advice.Shop) (*match.Match, error) {
		return s.ByHand(ctx, s.Catalogue.Frame(q.Frame), c.who, on)
	})
}

// onQuote lists the codes of all that a quote has on its bike.
func onQuote(f *catalog.Frame, q *quote.Quote) []string {
	on := slices.Clone(f.ComesWith)
	for _, l := range q.Lines {
		for range l.Quantity {
			switch l.Kind {
			case quote.AddOn:
				on = append(on, l.Code)
			case quote.TakingOff:
				if at := slices.Index(on, l.Code); at >= 0 {
					on = slices.Delete(on, at, at+1)
				}
			}
		}
	}
	return on
}

// heldFor says which bikes that are held for a quote are no longer what they
// were.
func (c *customer) heldFor(ctx context.Context, q *quote.Quote) ([]string, error) {
	reserved, err := c.Store.Reservations(ctx)
	if err != nil {
		return nil, err
	}
	var parts []string
	if c.new.Catalogue.Frame(q.Frame) == nil {
		return nil, nil // the bikes go with the frame
	}
	for _, r := range reserved {
		if was := unit(c.old, r.Unit); r.Quote == q.ID && was != nil {
			if text := c.bike(was); text != "" {
				parts = append(parts, "the bike "+r.Unit+", held for it, "+text)
			}
		}
	}
	return parts, nil
}

// bike says what has become of a bike, or nothing where it is as it was.
func (c *customer) bike(was *catalog.Unit) string {
	is := unit(c.new, was.Tag)
	switch {
	case is == nil && c.retired[store.Thing{List: "units", Code: was.Tag}]:
		return "is retired"
	case is == nil:
		return "is no longer offered"
	case is.Frame != was.Frame:
		return "is another frame now"
	case !slices.Equal(slices.Sorted(slices.Values(is.Fitted)), slices.Sorted(slices.Values(was.Fitted))):
		return "has other add-ons on it"
	}
	return ""
}

// ride judges the bike that is booked as it stands.
func (c *customer) ride(ctx context.Context, id string) error {
	r, err := c.Store.Ride(ctx, id)
	if store.CodeOf(err) == store.NotFound || r.Status == store.RideBack || r.Status == store.RideCancelled {
		return nil
	}
	if err != nil {
		return err
	}
	was := unit(c.old, r.Unit)
	if was == nil {
		return nil
	}
	what := fmt.Sprintf("the test ride on the %s, %s", r.FrameName, r.Unit)
	switch text := c.bike(was); {
	case c.new.Catalogue.Frame(r.Frame) == nil:
		c.says(what, r.Frame, []string{"the frame is " + c.gone(r.Frame)}, true)
	case unit(c.new, r.Unit) == nil || unit(c.new, r.Unit).Frame != was.Frame:
		c.says(what, r.Frame, []string{"the bike " + text}, true)
	case c.who == nil:
		c.byHand(what, r.Frame)
	default:
		parts, worse := c.ridden(ctx, &r)
		if text != "" {
			parts = append([]string{"the bike " + text}, parts...)
		}
		c.says(what, r.Frame, parts, worse)
	}
	return nil
}

// ridden says what is another answer about a bike as it stands: with everybody
// on it, or else under its rider alone.
func (c *customer) ridden(ctx context.Context, r *store.Ride) (parts []string, worse bool) {
	alone := map[*advice.Shop]bool{}
	parts, worse = c.differs(ctx, func(s *advice.Shop) (*match.Match, error) {
		d, err := s.Demo(ctx, unit(s, r.Unit), c.who)
		alone[s] = err == nil && d.Alone
		return d.Match, err
	})
	switch was, is := alone[c.old], alone[c.new]; {
	case len(parts) > 0 || was == is:
		return parts, worse
	case was:
		return []string{"it does not fit its rider alone any more"}, true
	}
	return []string{"it fits its rider alone now"}, false
}
