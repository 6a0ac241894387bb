package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/figures"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/internal/summary"
	"kinwain/static"
	"kinwain/web/form"
	"kinwain/web/page"
	"kinwain/web/say"
)

// summaryDays returns for how many days a link opens a fit summary, 1 or more.
func (s *server) summaryDays(ctx context.Context) (int, error) {
	changed, err := s.Store.Settings(ctx)
	return figures.SummaryDays(changed), err
}

// fitRoutes are for anybody with a link. They know no session.
func (s *server) fitRoutes(r chi.Router) {
	r.Get("/fit/{token}", s.openly(s.fit))
	r.Get("/fit/{token}/qr.svg", s.openly(s.fitCode))
	r.Get("/fit", s.openly(s.noFit))
	r.Get("/fit/*", s.openly(s.noFit))
}

// openly makes a handler of a function that may fail, for who is not signed
// in: nothing is found again by a search engine, and no address is passed on.
func (s *server) openly(handle func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("X-Robots-Tag", "noindex, nofollow")
		w.Header().Set("Referrer-Policy", "no-referrer")
		defer func() {
			if p := recover(); p != nil {
				s.failOpenly(w, r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
			}
		}()
		if err := handle(w, r); err != nil {
			s.failOpenly(w, r, err)
		}
	}
}

// failOpenly answers with an error. What cannot be opened is the same page
// whatever the reason.
func (s *server) failOpenly(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // nobody is waiting any more
	}
	speaker := say.New(say.Accepted(r.Header.Get("Accept-Language")), measure.Metric)
	status, heading, text := http.StatusNotFound, "Nothing here", "This link opens nothing, or no longer does. Ask the shop for a new one."
	if failureOf(err) != errNotFound {
		s.Log.Error("request failed", "method", r.Method, "error", err) // the path holds a secret
		status, heading, text = http.StatusInternalServerError, "Something broke on our side", "Try again in a while. If it happens twice, tell the shop."
	}
	view := page.FitNotice{FitShell: fitShell(speaker), Heading: speaker.Say(heading), Text: speaker.Say(text)}
	view.Title = view.Heading
	if err := render(r.Context(), w, status, page.FitNoticePage(view)); err != nil {
		s.Log.Error("error page failed", "error", err)
		http.Error(w, text, status)
	}
}

func (s *server) noFit(http.ResponseWriter, *http.Request) error { return errNotFound }

func fitShell(speaker *say.Speaker) page.FitShell {
	return page.FitShell{Lang: string(speaker.Language), Say: speaker.Say, CSS: static.Address("app.css"), JS: static.Address("fit.js"), Icon: static.Address("icon.svg")}
}

// fit shows a fit summary.
func (s *server) fit(w http.ResponseWriter, r *http.Request) error {
	saved, err := s.summary(r)
	if err != nil {
		return err
	}
	k, err := summary.Read(saved.Document)
	if err != nil {
		return err
	}
	today, err := advice.On(r.Context(), s.Store, s.today())
	if err != nil {
		return err
	}
	c := &consultation{profile: k.Customer, Shop: k.Shop, speaker: speakerOf(r, k)}
	view, err := fitView(r.Context(), c, k, today)
	if err != nil {
		return err
	}
	view.FitShell = fitShell(c.speaker)
	view.Title = view.Name
	zone := s.Now().Location()
	view.Made, view.Until = c.dates(saved.Created.In(zone), saved.Expires.In(zone))
	view.Address = s.fitAddress(chi.URLParam(r, "token"))
	view.Code = "/fit/" + chi.URLParam(r, "token") + "/qr.svg"
	view.Languages, view.Units = switches(c.speaker)
	return render(r.Context(), w, http.StatusOK, page.FitPage(view))
}

// summary finds the summary of a link.
func (s *server) summary(r *http.Request) (store.FitSummary, error) {
	return s.Store.FitSummary(r.Context(), chi.URLParam(r, "token"), s.Now())
}

// fitCode draws the link as a code for the camera of a phone.
func (s *server) fitCode(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.summary(r); err != nil {
		return err
	}
	drawn, err := qrCode(s.fitAddress(chi.URLParam(r, "token")))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	_, _ = w.Write(drawn) // fails where the browser went away: there is nobody to tell
	return nil
}

// fitAddress is the link to a fit summary.
func (s *server) fitAddress(token string) string { return s.PublicURL + "/fit/" + token }

// speakerOf speaks as the address asks, else as the shop chose, else as the
// browser asks.
func speakerOf(r *http.Request, k *summary.Kept) *say.Speaker {
	asked := r.URL.Query()
	language, ok := say.Known(asked.Get("lang"))
	if !ok {
		language, ok = say.Known(k.Language)
	}
	if !ok {
		language = say.Accepted(r.Header.Get("Accept-Language"))
	}
	units := asked.Get("units")
	if units != metric && units != form.Imperial {
		units = k.Units
	}
	return say.New(language, systemOf(units))
}

// metric is the other value of form.Units, the usual one.
const metric = "metric"

func systemOf(units string) measure.System {
	if units == form.Imperial {
		return measure.Imperial
	}
	return measure.Metric
}

// switches link to the same page in other languages and units. Each keeps
// what the other has set.
func switches(speaker *say.Speaker) (languages, units []page.Switch) {
	unit := [...]string{measure.Metric: metric, measure.Imperial: form.Imperial}
	href := func(l say.Language, u measure.System) string {
		return "?" + url.Values{"lang": {string(l)}, "units": {unit[u]}}.Encode()
	}
	for _, l := range say.Languages {
		languages = append(languages, page.Switch{Label: l.Name(), Lang: string(l), Href: href(l, speaker.Units), Current: l == speaker.Language})
	}
	for _, u := range [...]measure.System{measure.Metric, measure.Imperial} {
		units = append(units, page.Switch{Label: u.MassUnit() + ", " + u.LengthUnit(), Href: href(speaker.Language, u), Current: u == speaker.Units})
	}
	return languages, units
}
