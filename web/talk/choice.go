package talk

import (
	"net/http"
	"net/url"
	"slices"

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

// Next lists what may be done with a choice, for the pages that show one. What
// does not do what was asked, or was not judged, is neither quoted nor sent
// home: nobody is to take it for what fits.
func (c *Choice) Next(consultation *Consultation) []kit.Step {
	steps := []kit.Step{
		{Label: "Choose add-ons by hand", Href: c.Address(consultation, "/by-hand")},
		{Label: "Test ride", Href: c.Address(consultation, "/ride")},
	}
	if c.Match.Offered() {
		steps = append(steps,
			kit.Step{Label: "Quote", Href: c.Address(consultation, "/quote")},
			kit.Step{Label: "Send home", Href: c.Address(consultation, "/send")})
	}
	return append(steps, kit.Step{Label: "Compare", Href: consultation.Ticked([]string{c.Match.Frame.Code})})
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
