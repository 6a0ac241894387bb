package concern

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"strings"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/internal/summary"
)

// lookAt is said where nobody can be sure by these means.
const lookAt = "it could not be judged again: look at it by hand"

// judge holds what somebody was told against today, and returns what is another
// answer. An error is of the store or the context; what cannot be judged is
// marked.
func (w *Watch) judge(ctx context.Context, j store.Judging) ([]store.Mark, error) {
	p, err := w.against(ctx, j.Base)
	if err != nil {
		return nil, err
	}
	saved, err := w.Store.Consultation(ctx, j.Consultation)
	if store.CodeOf(err) == store.NotFound {
		return nil, nil // erased meanwhile
	}
	if err != nil {
		return nil, err
	}
	c := &customer{Watch: w, pair: p}
	if c.who, err = w.Profile(saved); err != nil {
		w.Fault("a consultation cannot be read", err)
		c.unread = true
	}
	switch {
	case j.Summary != 0:
		err = c.summary(ctx, j.Summary)
	case j.Quote != "":
		err = c.quote(ctx, j.Quote)
	case j.Ride != "":
		err = c.ride(ctx, j.Ride)
	default:
		err = c.answers(ctx)
	}
	return c.marks, errors.Join(err, ctx.Err())
}

// customer is one customer whose answers are judged again.
type customer struct {
	*Watch
	*pair
	who    *profile.Profile // nil: answers are missing
	unread bool             // the answers cannot be read
	marks  []store.Mark
}

// says notes what is another answer about a frame; nothing to say is no mark.
func (c *customer) says(what, frame string, parts []string, worse bool) {
	if len(parts) > 0 {
		c.marks = append(c.marks, store.Mark{Frame: frame, Text: what + ": " + strings.Join(parts, "; "), Worse: worse, Created: c.Now()})
	}
}

// byHand notes that somebody has to look.
func (c *customer) byHand(what, frame string) { c.says(what, frame, []string{lookAt}, true) }

// asked is what is judged, by one shop or the other.
type asked func(s *advice.Shop) (*match.Match, error)

// safely judges: there is nobody whose request a panic could end instead.
func (ask asked) safely(s *advice.Shop) (m *match.Match, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
		}
	}()
	return ask(s)
}

// differs judges by what was told and by today, and says what is another
// answer.
func (c *customer) differs(ctx context.Context, ask asked) (parts []string, worse bool) {
	old, err := ask.safely(c.old)
	if err != nil {
		return c.unjudged(ctx, err)
	}
	new, err := ask.safely(c.new)
	if err != nil {
		return c.unjudged(ctx, err)
	}
	if old.Verdict == match.NotJudged || new.Verdict == match.NotJudged {
		return []string{lookAt}, true
	}
	return differences(old, new, c.old.Catalogue.Shop.Currency, c.new.Catalogue.Shop.Currency)
}

// unjudged says that there is no answer. Where the program ends, what is said
// counts no more.
func (c *customer) unjudged(ctx context.Context, err error) ([]string, bool) {
	if ctx.Err() == nil {
		c.Fault("what was told could not be judged again", err)
	}
	return []string{lookAt}, true
}

// answers judges every frame of a consultation.
func (c *customer) answers(ctx context.Context) error {
	for _, code := range c.touched {
		frame := c.old.Catalogue.Frame(code)
		what := "the " + advice.FrameName(frame)
		if c.unread {
			c.byHand("the answers", code) // of all frames alike
			return nil
		}
		if c.who == nil {
			return nil // nothing was told
		}
		best := asked(func(s *advice.Shop) (*match.Match, error) {
			return s.Best(ctx, s.Catalogue.Frame(code), c.who, match.Options{})
		})
		if c.new.Catalogue.Frame(code) != nil {
			parts, worse := c.differs(ctx, best)
			c.says(what, code, parts, worse)
		} else if old, err := best.safely(c.old); err != nil {
			parts, worse := c.unjudged(ctx, err)
			c.says(what, code, parts, worse)
		} else if old.Fits() {
			c.says(what, code, []string{c.gone(code)}, true)
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

// gone says why a frame is not offered any more.
func (c *customer) gone(frame string) string {
	if c.retired[store.Thing{List: "frames", Code: frame}] {
		return "retired, and no longer offered"
	}
	return "no longer in the catalogue"
}

// summary judges the very add-ons of a fit summary, and those whom it is for as
// they were then.
func (c *customer) summary(ctx context.Context, id int64) error {
	f, err := c.Store.LiveFitSummary(ctx, id, c.Now())
	if store.CodeOf(err) == store.NotFound {
		return nil // nobody can open it any more
	}
	if err != nil || !slices.Contains(c.touched, f.Frame) {
		return err
	}
	what := "the " + advice.FrameName(c.old.Catalogue.Frame(f.Frame)) + ", as sent home"
	k, err := summary.Read(f.Document)
	if err != nil {
		c.Fault("a fit summary cannot be read", err)
		c.byHand(what, f.Frame)
		return nil
	}
	if frame, addOns := k.Gone(c.old.Catalogue); frame || len(addOns) > 0 {
		return nil // somebody has seen that it is gone
	}
	switch frame, addOns := k.Gone(c.new.Catalogue); {
	case frame:
		c.says(what, f.Frame, []string{c.gone(f.Frame)}, true)
	case len(addOns) > 0:
		c.says(what, f.Frame, []string{"the shop no longer has an add-on of it"}, true)
	default:
		parts, worse := c.differs(ctx, func(s *advice.Shop) (*match.Match, error) { return k.In(ctx, s) })
		c.says(what, f.Frame, parts, worse)
	}
	return nil
}
