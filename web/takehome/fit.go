package takehome

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"
	"strconv"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/figures"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/internal/summary"
	"kinwain/static"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// summaryDays returns for how many days a link opens a fit summary, 1 or more.
func (room *Room) summaryDays(ctx context.Context) (int, error) {
	changed, err := room.store.Settings(ctx)
	return figures.SummaryDays(changed), err
}

// openly makes a handler of a function that may fail, for who is not signed
// in: nothing is found again by a search engine, and no address is passed on.
func (room *Room) openly(handle func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("X-Robots-Tag", "noindex, nofollow")
		w.Header().Set("Referrer-Policy", "no-referrer")
		defer func() {
			if p := recover(); p != nil {
				room.FailOpenly(w, r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
			}
		}()
		if err := handle(w, r); err != nil {
			room.FailOpenly(w, r, err)
		}
	}
}

// openFailures are the heading and the text that a stranger is told of a
// failure, by its status; brokenOpenly are those of all others.
var (
	openFailures = map[int][2]string{
		http.StatusNotFound:              {"Nothing here", "This link opens nothing, or no longer does. Ask the shop for a new one."},
		http.StatusBadRequest:            {"That could not be read", "What you sent arrived damaged. Go back and send it again."},
		http.StatusRequestEntityTooLarge: {"Far too long", "More was sent than anybody types. Go back and write less."},
		http.StatusForbidden:             {"Not from here", "This was sent by a page of another site, so nothing was done. Open your link and type it there."},
		http.StatusTooManyRequests:       {"Too often", "This was asked for more often than anybody does by hand, so nothing was done. Wait a minute, then try again."},
	}
	brokenOpenly = [2]string{"Something broke on our side", "Try again in a while. If it happens twice, tell the shop."}
)

// FailOpenly answers whoever has a link, or none, with an error. What cannot be
// opened is the same page whatever the reason.
func (room *Room) FailOpenly(w http.ResponseWriter, r *http.Request, err error) {
	if kit.Gone(r) {
		return
	}
	r, err = kit.InTime(r, err)
	speaker := say.New(say.Accepted(r.Header.Get("Accept-Language")), measure.Metric)
	f := kit.FailureOf(err)
	status := f.Status
	said, known := openFailures[status]
	if !known {
		room.Log.ErrorContext(r.Context(), "request failed", "error", err)
		status, said = http.StatusInternalServerError, brokenOpenly
	}
	if f.Retry > 0 && known {
		w.Header().Set("Retry-After", strconv.Itoa(f.Retry))
	}
	view := FitNotice{FitShell: fitShell(speaker), Heading: speaker.Say(said[0]), Text: speaker.Say(said[1])}
	view.Title = view.Heading
	if err := kit.Render(r.Context(), w, status, FitNoticePage(view)); err != nil {
		room.Log.ErrorContext(r.Context(), "error page failed", "error", err)
		http.Error(w, said[1], status)
	}
}

func (room *Room) noFit(http.ResponseWriter, *http.Request) error { return kit.ErrNotFound }

func fitShell(speaker *say.Speaker) FitShell {
	return FitShell{Lang: string(speaker.Language), Say: speaker.Say, CSS: static.Address("app.css"), Own: static.Address("fit.css"), JS: static.Address("fit.js"), Icon: static.Address("icon-192.png")}
}

// fit shows a fit summary.
func (room *Room) fit(w http.ResponseWriter, r *http.Request) error {
	saved, err := room.summary(r)
	if err != nil {
		return err
	}
	k, told, err := room.read(r.Context(), &saved)
	if err != nil {
		return err
	}
	today, err := room.Advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	c := &talk.Consultation{Profile: k.Customer, Shop: k.Shop, Speaker: speakerOf(r, k)}
	view, err := fitView(r.Context(), c, k, told, today)
	if err != nil {
		return err
	}
	view.FitShell = fitShell(c.Speaker)
	view.Title = view.Name
	zone := room.Now().Location()
	view.Made, view.Until = dates(c, saved.Created.In(zone), saved.Expires.In(zone))
	if view.Ask != "" {
		view.Title = c.Say("%v: %v", view.Name, view.Ask)
		view.Was = c.Say("Told on %v: %v.", measure.DateOf(saved.Created.In(zone)), view.Verdict.Word)
	}
	view.Address = room.fitAddress(chi.URLParam(r, "token"))
	view.Code = "/fit/" + chi.URLParam(r, "token") + "/qr.svg"
	if told.Match.Fits() {
		view.Lives = (&livesViewer{fitViewer{talk.Told(c, told), k, told.Least}, measure.DateOf(saved.Created.In(zone)), room.Today()}).form("/fit/" + chi.URLParam(r, "token"))
	}
	if len(openAtHome(c.Profile)) > 0 {
		view.Measure = "/fit/" + chi.URLParam(r, "token") + "/measure?lang=" + string(c.Speaker.Language)
	}
	view.Languages, view.Units = switchesTo(c.Speaker)
	return kit.Render(r.Context(), w, http.StatusOK, FitPage(view))
}

// asTold is a summary with what was told of it.
type asTold struct {
	*summary.Kept
	told *summary.Answer
}

// readBytes is how many bytes of memory a byte of a document becomes, at most.
const readBytes = 16

// read reads a summary and what was told of it, once for as long as that is
// looked at. One that was issued before answers were kept is judged as on its
// day.
func (room *Room) read(ctx context.Context, saved *store.FitSummary) (*summary.Kept, *summary.Answer, error) {
	if saved.Answer == nil {
		k, err := summary.Read(saved.Document)
		if err != nil {
			return nil, nil, err
		}
		told, err := k.Answer(ctx)
		return k, told, err
	}
	whole, err := advice.Remember(ctx, room.Advice, "fit summary", readBytes*(len(saved.Document)+len(saved.Answer)), func() (asTold, error) {
		k, err := summary.Read(saved.Document)
		if err != nil {
			return asTold{}, err
		}
		told, err := k.ReadAnswer(saved.Answer)
		return asTold{k, told}, err
	}, saved.Document, saved.Answer)
	return whole.Kept, whole.told, err
}

// summary finds the summary of a link.
func (room *Room) summary(r *http.Request) (store.FitSummary, error) {
	return room.store.FitSummary(r.Context(), chi.URLParam(r, "token"), room.Now())
}

// fitCode draws the link as a code for the camera of a phone.
func (room *Room) fitCode(w http.ResponseWriter, r *http.Request) error {
	if _, err := room.summary(r); err != nil {
		return err
	}
	drawn, err := kit.QRCode(room.fitAddress(chi.URLParam(r, "token")))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	_, _ = w.Write(drawn) // fails where the browser went away: there is nobody to tell
	return nil
}

// fitAddress is the link to a fit summary.
func (room *Room) fitAddress(token string) string { return room.PublicURL + "/fit/" + token }

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
	speaker := say.New(language, systemOf(units))
	speaker.AddOns = k.Shop.Catalogue.AddOnNames()
	return speaker
}

// metric is the other value of form.Units, the usual one.
const metric = "metric"

func systemOf(units string) measure.System {
	if units == form.Imperial {
		return measure.Imperial
	}
	return measure.Metric
}

// switchesTo link to the same page in other languages and units. Each keeps
// what the other has set.
func switchesTo(speaker *say.Speaker) (languages, units []Switch) {
	href := func(l say.Language, u measure.System) string {
		return "?" + url.Values{"lang": {string(l)}, "units": {unitsOf[u]}}.Encode()
	}
	for _, l := range say.Languages {
		languages = append(languages, Switch{Label: l.Name(), Lang: string(l), Href: href(l, speaker.Units), Current: l == speaker.Language})
	}
	for _, u := range [...]measure.System{measure.Metric, measure.Imperial} {
		in := say.New(speaker.Language, u)
		units = append(units, Switch{Label: u.MassUnit() + ", " + in.LengthUnit(), Href: href(speaker.Language, u), Current: u == speaker.Units})
	}
	return languages, units
}
