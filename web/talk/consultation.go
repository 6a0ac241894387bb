package talk

import (
	"net/http"
	"net/url"
	"strings"

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
	Profile *profile.Profile // what can be judged; nil while that is nothing
	Faults  problem.List     // answers that cannot be right, which are not in it
	*advice.Shop
	Speaker *say.Speaker
}

// Address is the address of the consultation and what follows of it.
func (c *Consultation) Address(rest string) string { return kit.ConsultationAt(c.ID, rest) }

// System is the system of units in which the customer thinks.
func (c *Consultation) System() measure.System { return c.Speaker.Units }

// Say says a sentence in the language and the units of whom the page is for.
func (c *Consultation) Say(key string, args ...any) string { return c.Speaker.Say(key, args...) }

// In is the consultation as it is told in a language.
func (c *Consultation) In(l say.Language) *Consultation {
	told := *c
	told.Speaker = say.New(l, c.System())
	told.Speaker.AddOns = c.Catalogue.AddOnNames()
	return &told
}

// PaperLanguage is the language of what a customer is handed: as the address
// asks, else as they chose when they were asked, else that of the shop.
func PaperLanguage(r *http.Request, f form.Form) say.Language {
	for _, code := range [...]string{r.FormValue(LanguageField), f.Get(form.Language)} {
		if l, known := say.Known(code); known {
			return l
		}
	}
	return say.English
}

// Form reads the form of a consultation as it was saved.
func (o *Opener) Form(r *http.Request, consultation string) (form.Form, error) {
	saved, err := o.store.Consultation(r.Context(), consultation)
	if err != nil {
		return form.Form{}, err
	}
	return form.Decode(saved.Answers)
}

// LanguageField is the name of a language in an address and in a form that
// makes a paper.
const LanguageField = "lang"

// Tongues lead to the same page in other languages.
func Tongues(r *http.Request, now say.Language) []kit.Tongue {
	var tongues []kit.Tongue
	for _, l := range say.Languages {
		query := r.URL.Query()
		query.Set(LanguageField, string(l))
		tongues = append(tongues, kit.Tongue{Label: l.Name(), Lang: string(l), Href: r.URL.Path + "?" + query.Encode(), Current: l == now})
	}
	return tongues
}

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

// Whole opens a consultation of which something can be judged. Where not, the
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
	c.Profile, c.Faults, err = f.Judged(o.Today())
	return c, err
}

// Titled is the title of a page, which names the customer.
func (c *Consultation) Titled(title string) string {
	if name := strings.TrimSpace(c.Form.Get(form.Customer)); name != "" {
		title += ", " + name
	}
	return title
}

// Steps is the shell of a page of a consultation. Its title names the customer.
func (o *Opener) Steps(r *http.Request, c *Consultation, title, current string) kit.Shell {
	shell := o.Shell(r, c.Titled(title))
	shell.Steps = []kit.Step{
		{Label: "Profile", Href: c.Address(""), Current: current == "profile"},
		{Label: "Frames", Href: c.Address("/frames"), Current: current == "frames"},
		{Label: "Scan", Href: kit.UnitsAddress},
	}
	return shell
}
