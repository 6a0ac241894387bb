package takehome

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"runtime"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/concern"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/internal/summary"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// What a family reads off its own scale is nobody's business but theirs. It
// comes in the body of a request, where no log of addresses has it, is worked
// out by a shop without a memory, and is gone with the answer.

// livesAt is the page of the form, under the link of a summary.
const livesAt = "/weigh"

// weighAgain shows the form by itself.
func (room *Room) weighAgain(w http.ResponseWriter, r *http.Request) error {
	return room.lives(w, r, nil)
}

// weighed shows what comes of new weights and heights.
func (room *Room) weighed(w http.ResponseWriter, r *http.Request) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = unsaid(p)
		}
	}()
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	// A build that fails its check is told without what led to it.
	quiet := match.Reporting(r.Context(), func(*match.Fault) {
		room.Log.ErrorContext(r.Context(), "frame not judged for what was weighed at home", "path", r.URL.Path)
	})
	return room.lives(w, r.WithContext(quiet), posted)
}

// unsaid is the error of a panic: of what kind it was and where, and none of
// the figures that a trace of the stack has.
func unsaid(p any) error {
	calls := make([]uintptr, 32)
	frames := runtime.CallersFrames(calls[:runtime.Callers(3, calls)])
	text := fmt.Sprintf("panic of type %T", p)
	for {
		f, more := frames.Next()
		text += fmt.Sprintf("\n%s:%d", f.Function, f.Line)
		if !more {
			return errors.New(text)
		}
	}
}

// lives draws the page. Nothing posted is the form alone.
func (room *Room) lives(w http.ResponseWriter, r *http.Request, posted url.Values) error {
	saved, err := room.summary(r)
	if err != nil {
		return err
	}
	k, told, err := room.read(r.Context(), &saved)
	if err != nil {
		return err
	}
	back := "/fit/" + chi.URLParam(r, "token")
	if !told.Match.Fits() { // there is no set-up that could still hold
		http.Redirect(w, r, back, http.StatusSeeOther)
		return nil
	}
	c := &talk.Consultation{Profile: k.Customer, Shop: k.Shop, Speaker: speakerOf(r, k)}
	today, err := room.Advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	changed, err := concern.SinceThen(r.Context(), k, told.Plain, today)
	if err != nil {
		return err
	}
	v := &livesViewer{fitViewer{talk.Told(c, told), k, told.Least}, measure.DateOf(saved.Created.In(room.Now().Location())), room.Today()}
	view := v.page(back)
	if changed.Matters() {
		view.Ask = v.Say("Ask the shop before you rely on this")
	}
	if posted != nil {
		if err := v.answer(r.Context(), &view.Lives, posted); err != nil {
			return err
		}
	}
	return kit.RenderPart(w, r, http.StatusOK, LivesPageOf(view))
}

// livesViewer makes the form and what comes of it.
type livesViewer struct {
	fitViewer
	made  measure.Date // the day of the summary
	today measure.Date
}

// answer works out what was typed, or says at the fields why not.
func (v *livesViewer) answer(ctx context.Context, l *Lives, posted url.Values) error {
	anew, faults := v.readings(posted)
	l.People = v.people(posted, faults)
	if len(faults) > 0 {
		return nil
	}
	if len(anew.Riders)+len(anew.Passengers) == 0 {
		l.Fault = v.Say("Type at least one new weight or height.")
		return nil
	}
	p, err := v.kept.Anew(anew)
	var list problem.List
	if errors.As(err, &list) {
		for _, f := range list {
			faults[f.Path] = v.Say("This cannot be right. Check the figure and its unit.")
		}
		l.People = v.people(posted, faults)
		return nil
	}
	if err != nil {
		return err
	}
	now, err := v.kept.Still(ctx, p)
	if err != nil {
		return err
	}
	l.Moved = v.moved(p, now, v.kept.Adds(anew))
	return nil
}

// readings reads what was typed; faults are by the names of the fields.
func (v *livesViewer) readings(posted url.Values) (summary.Anew, map[string]string) {
	anew, faults := summary.Anew{Day: v.today, Riders: map[int]summary.RiderAnew{}, Passengers: map[int]summary.PassengerAnew{}}, map[string]string{}
	weight := func(name string) measure.Mass {
		return typed(posted, name, faults, v.Say("This is not a weight. Write it like 18.4 kg, 40 lb or 12 st 4."), func(s string) (measure.Mass, error) { return measure.ParseMass(s, v.System()) })
	}
	for i := range v.kept.Customer.Riders {
		if mass := weight(form.At(form.Riders, i, weightField)); mass > 0 {
			anew.Riders[i] = summary.RiderAnew{Weight: mass, Weighed: howWeighed(posted.Get(form.At(form.Riders, i, weighedField)))}
		}
	}
	for i := range v.kept.Customer.Passengers.Or(nil) {
		c := summary.PassengerAnew{Weight: weight(form.At(form.Passengers, i, weightField))}
		c.Stature = typed(posted, form.At(form.Passengers, i, statureField), faults, v.Say("This is not a height. Write it like 104 cm, 1.04 m or 3 ft 5."),
			func(s string) (measure.Length, error) { return measure.ParseLength(s, v.System()) })
		if c != (summary.PassengerAnew{}) {
			anew.Passengers[i] = c
		}
	}
	return anew, faults
}

// The fields of a person, as a profile names them.
const (
	weightField  = "weight_kg"
	weighedField = "weighed"
	statureField = "stature_cm"
)

// typed reads one field: 0 where nothing was typed, or nothing that can be
// read.
func typed[Q measure.Mass | measure.Length](posted url.Values, name string, faults map[string]string, fault string, parse func(string) (Q, error)) Q {
	text := strings.TrimSpace(posted.Get(name))
	if text == "" {
		return 0
	}
	q, err := parse(text)
	if err != nil || q <= 0 {
		faults[name] = fault
		return 0
	}
	return q
}

// howWeighed reads a choice. What is none of them gets the larger allowance.
func howWeighed(posted string) profile.Weighed {
	switch w := profile.Weighed(posted); w {
	case profile.Dressed, profile.Undressed:
		return w
	}
	return profile.Stated
}
