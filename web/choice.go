package web

import (
	"net/http"
	"net/url"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/web/page"
)

// choice is a frame with a set of add-ons as an address names it: the best set
// where it names none, or the one that was put together by hand, which has
// "chosen" and for every add-on on the bike an "on".
type choice struct {
	match  *match.Match
	byHand bool
}

// query is what an address needs to name the same choice again.
func (c *choice) query() url.Values {
	if !c.byHand {
		return url.Values{}
	}
	return url.Values{"chosen": {"yes"}, "on": advice.OnBike(c.match)}
}

// chosen judges the frame of a request for a consultation whose profile is
// whole, with the add-ons that the address or the posted form names.
func (s *server) chosen(r *http.Request, c *consultation, o match.Options) (*choice, error) {
	f := c.Catalogue.Frame(chi.URLParam(r, "code"))
	if f == nil {
		return nil, errNotFound
	}
	if err := r.ParseForm(); err != nil {
		return nil, errForm
	}
	var m *match.Match
	var err error
	byHand := r.Form.Has("chosen")
	if byHand {
		m, err = c.ByHand(r.Context(), f, c.profile, r.Form["on"])
	} else {
		m, err = c.Best(r.Context(), f, c.profile, o)
	}
	return &choice{m, byHand}, err
}

// hidden is the same for a form that is posted.
func (c *choice) hidden() []page.Hidden {
	var fields []page.Hidden
	query := c.query()
	for _, name := range [...]string{"chosen", "on"} {
		for _, value := range query[name] {
			fields = append(fields, page.Hidden{Name: name, Value: value})
		}
	}
	return fields
}

// address is where a page of the choice is found.
func (c *choice) address(consultation *consultation, page string) string {
	address := consultation.address("/frames/" + c.match.Frame.Code + page)
	if c.byHand {
		address += "?" + c.query().Encode()
	}
	return address
}

// next lists what may be done with a choice, for the pages that show one.
func (c *choice) next(consultation *consultation) []page.Step {
	return []page.Step{
		{Label: "Choose add-ons by hand", Href: c.address(consultation, "/by-hand")},
		{Label: "Test ride", Href: c.address(consultation, "/ride")},
		{Label: "Quote", Href: c.address(consultation, "/quote")},
		{Label: "Send home", Href: c.address(consultation, "/send")},
		{Label: "Compare", Href: consultation.ticked([]string{c.match.Frame.Code})},
	}
}
