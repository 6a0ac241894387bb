package talk

import (
	"context"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/web/kit"
)

// Choice is a frame with a set of add-ons as an address names it: the best set
// where it names none, or the one that was put together by hand, which has
// "chosen" and for every add-on on the bike an "on".
type Choice struct {
	Match  *match.Match
	ByHand bool
}

// Query is what an address needs to name the same choice again.
func (c *Choice) Query() url.Values {
	if !c.ByHand {
		return url.Values{}
	}
	return url.Values{"chosen": {"yes"}, "on": advice.OnBike(c.Match)}
}

// Choice judges what a name of an address names. The frame is of the shop.
func (c *Consultation) Choice(ctx context.Context, name string) (*Choice, error) {
	code, on, byHand := ReadName(name)
	f := c.Catalogue.Frame(code)
	var m *match.Match
	var err error
	if byHand {
		m, err = c.ByHand(ctx, f, c.Profile, on)
	} else {
		m, err = c.Best(ctx, f, c.Profile, match.Options{})
	}
	return &Choice{m, byHand}, err
}

// Chosen judges the frame of a request for a consultation whose profile is
// whole, with the add-ons that the address or the posted form names.
func (o *Opener) Chosen(r *http.Request, c *Consultation, asked match.Options) (*Choice, error) {
	f := c.Catalogue.Frame(chi.URLParam(r, "code"))
	if f == nil {
		return nil, kit.ErrNotFound
	}
	if err := r.ParseForm(); err != nil {
		return nil, kit.ErrForm
	}
	var m *match.Match
	var err error
	byHand := r.Form.Has("chosen")
	if byHand {
		m, err = c.ByHand(r.Context(), f, c.Profile, r.Form["on"])
	} else {
		m, err = c.Best(r.Context(), f, c.Profile, asked)
	}
	return &Choice{m, byHand}, err
}

// Hidden is the same for a form that is posted.
func (c *Choice) Hidden() []kit.Hidden {
	var fields []kit.Hidden
	query := c.Query()
	for _, name := range [...]string{"chosen", "on"} {
		for _, value := range query[name] {
			fields = append(fields, kit.Hidden{Name: name, Value: value})
		}
	}
	return fields
}

// Address is where a page of the choice is found.
func (c *Choice) Address(consultation *Consultation, page string) string {
	address := consultation.Address("/frames/" + c.Match.Frame.Code + page)
	if c.ByHand {
		address += "?" + c.Query().Encode()
	}
	return address
}

// Page is where the choice is looked at: the page of the frame, or where the
// set was put together.
func (c *Choice) Page(consultation *Consultation) string {
	if c.ByHand {
		return c.Address(consultation, "/by-hand")
	}
	return c.Address(consultation, "")
}

// Named names the choice among several in an address: the code of the frame,
// and those of a set that was put together by hand after a colon.
func (c *Choice) Named() string {
	if !c.ByHand {
		return c.Match.Frame.Code
	}
	return c.Match.Frame.Code + ":" + strings.Join(advice.OnBike(c.Match), ",")
}

// ReadName takes apart what Named has put together.
func ReadName(name string) (frame string, on []string, byHand bool) {
	frame, list, byHand := strings.Cut(name, ":")
	if list != "" {
		on = strings.Split(list, ",")
	}
	return frame, on, byHand
}

// OnlyWhatFits is said where something is refused for what does not fit.
const OnlyWhatFits = "Only what fits is ridden, quoted or sent home."

// Refused says why a choice is neither ridden, quoted nor sent home: nobody is
// to take what does not do what was asked, or was not judged, for what fits. It
// returns nil where it may be.
func (c *Choice) Refused(consultation *Consultation) *kit.Failure {
	m := c.Match
	if m.Offered() {
		return nil
	}
	f := &kit.Failure{Status: http.StatusUnprocessableEntity, Code: "not_offered", Title: "The " + m.Frame.Called() + " does not fit",
		Back: c.Page(consultation), BackTo: "Back to the " + m.Frame.Called()}
	switch {
	case m.Verdict == match.NotJudged:
		f.Title = "The " + m.Frame.Called() + " is not judged"
	case c.ByHand:
		f.Title = "The " + m.Frame.Called() + " does not fit with these add-ons"
	}
	f.Text = Line(consultation, m, nil) + " " + OnlyWhatFits
	return f
}

// Done says of what may be done with a choice what was done already.
type Done struct{ Ride, Quote, Send string }

// Next lists what may be done with a choice, for the pages that show one. What
// is refused is not offered.
func (c *Choice) Next(consultation *Consultation, done Done) []kit.Step {
	var steps []kit.Step
	if c.Match.Offered() {
		steps = []kit.Step{
			{Label: "Test ride", Href: c.Address(consultation, "/ride"), Done: done.Ride},
			{Label: "Quote", Href: c.Address(consultation, "/quote"), Done: done.Quote},
			{Label: "Send home", Href: c.Address(consultation, "/send"), Done: done.Send},
		}
		if i := slices.IndexFunc(steps, func(s kit.Step) bool { return s.Done == "" }); i >= 0 {
			steps[i].Current = true
		}
	}
	return append(steps, kit.Step{Label: "Compare", Href: consultation.Ticked([]string{c.Named()})})
}

// MissingFrom returns the codes of a that b has fewer of.
func MissingFrom(a, b []string) []string {
	rest := slices.Clone(b)
	var missing []string
	for _, code := range a {
		if i := slices.Index(rest, code); i >= 0 {
			rest = slices.Delete(rest, i, i+1)
		} else {
			missing = append(missing, code)
		}
	}
	return missing
}
