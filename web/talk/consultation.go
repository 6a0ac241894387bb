package talk

import (
	"errors"
	"net/http"
	"net/url"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// Consultation is one customer's form and what follows from it.
type Consultation struct {
	ID      string
	Version int // how often it was saved
	Form    form.Form
	Profile *profile.Profile // nil while there are faults
	Faults  problem.List
	*advice.Shop
	Speaker *say.Speaker
}

// Address is the address of the consultation and what follows of it.
func (c *Consultation) Address(rest string) string { return kit.ConsultationAt(c.ID, rest) }

// System is the system of units in which the customer thinks.
func (c *Consultation) System() measure.System { return c.Speaker.Units }

// Say says a sentence in the language and the units of whom the page is for.
func (c *Consultation) Say(key string, args ...any) string { return c.Speaker.Say(key, args...) }

// Ticked is the address of the ranking with frames ticked.
func (c *Consultation) Ticked(codes []string) string {
	if len(codes) == 0 {
		return c.Address("/frames")
	}
	return c.Address("/frames?" + url.Values{"frame": codes}.Encode())
}

// Open reads the consultation of a request as it was saved.
func (o *Opener) Open(r *http.Request) (*Consultation, error) {
	saved, err := o.store.Consultation(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return nil, err
	}
	f, err := form.Decode(saved.Answers)
	if err != nil {
		return nil, err
	}
	return o.Consult(r, saved, f)
}

// Whole opens a consultation whose profile is whole. Where it is not, the
// error leads to where that is said.
func (o *Opener) Whole(r *http.Request) (*Consultation, error) {
	c, err := o.Open(r)
	if err != nil {
		return nil, err
	}
	if c.Profile == nil {
		return nil, kit.Elsewhere(c.Address("/frames"))
	}
	return c, nil
}

// Consult reads the profile out of a form.
func (o *Opener) Consult(r *http.Request, saved store.Consultation, f form.Form) (*Consultation, error) {
	c := &Consultation{ID: saved.ID, Version: saved.Version, Form: f, Speaker: say.New(say.English, f.System())}
	var err error
	if c.Shop, err = o.Advice.On(r.Context(), o.Today()); err != nil {
		return nil, err
	}
	c.Profile, err = f.Profile(o.Today())
	if err != nil && !errors.As(err, &c.Faults) {
		return nil, err
	}
	return c, nil
}

// Steps is the shell of a page of a consultation.
func (o *Opener) Steps(r *http.Request, c *Consultation, title, current string) kit.Shell {
	shell := o.Shell(r, title)
	shell.Steps = []kit.Step{
		{Label: "Profile", Href: c.Address(""), Current: current == "profile"},
		{Label: "Frames", Href: c.Address("/frames"), Current: current == "frames"},
	}
	return shell
}
