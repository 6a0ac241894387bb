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
// the bikes that it is for or that are held for it.
func (c *customer) quote(ctx context.Context, id string) error {
	q, err := c.Store.Quote(ctx, id)
	if store.CodeOf(err) == store.NotFound {
		return nil
	}
	if err != nil {
		return err
	}
	parts, worse := c.quoted(ctx, &q)
	bikes, bad, err := c.bikesOf(ctx, &q)
	c.says("the "+q.FrameName+", as quoted in "+q.Name(), q.Frame, append(parts, bikes...), worse || bad)
	return err
}

func (c *customer) quoted(ctx context.Context, q *quote.Quote) (parts []string, worse bool) {
	old, very := c.old.Catalogue.Frame(q.Frame), c.veryBike(q)
	touched := slices.Contains(c.touched, q.Frame)
	if old == nil || !touched && (c.who == nil || !very.another()) {
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
		if very.was != nil {
			return s.ByHandOn(ctx, s.Catalogue.Unit(q.Unit), c.who, on)
		}
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

// ride judges the bike that is booked as it stands.
func (c *customer) ride(ctx context.Context, id string) error {
	r, err := c.Store.Ride(ctx, id)
	if store.CodeOf(err) == store.NotFound || r.Status == store.RideBack || r.Status == store.RideCancelled {
		return nil
	}
	if err != nil {
		return err
	}
	was, is := c.old.Catalogue.Unit(r.Unit), c.new.Catalogue.Unit(r.Unit)
	if was == nil {
		return nil
	}
	what := fmt.Sprintf("the test ride on the %s, %s", r.FrameName, r.Unit)
	switch text, bad := c.becameOf(was).ridden(); {
	case c.new.Catalogue.Frame(r.Frame) == nil:
		c.says(what, r.Frame, []string{"the frame is " + c.gone(r.Frame)}, true)
	case is == nil || is.Frame != was.Frame:
		c.says(what, r.Frame, []string{"the bike " + text}, true)
	case c.who == nil:
		c.byHand(what, r.Frame)
	default:
		parts, worse := c.ridden(ctx, &r)
		if text != "" {
			parts = append([]string{"the bike " + text}, parts...)
		}
		c.says(what, r.Frame, parts, worse || bad)
	}
	return nil
}

// ridden says what is another answer about a bike as it stands: with everybody
// on it, or else under its rider alone.
func (c *customer) ridden(ctx context.Context, r *store.Ride) (parts []string, worse bool) {
	alone := map[*advice.Shop]bool{}
	parts, worse = c.differs(ctx, func(s *advice.Shop) (*match.Match, error) {
		d, err := s.Demo(ctx, s.Catalogue.Unit(r.Unit), c.who)
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
