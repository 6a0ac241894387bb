package counter

import (
	"cmp"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// trial is the chosen build with the demos of its frame.
type trial struct {
	*talk.Consultation
	*talk.Choice
	demos  []advice.Demo
	coming []store.Ride // of anybody on these demos
	rides  []store.Ride // of this customer on any demo
	held   []quote.Reservation
	unseen map[string]time.Time // when a stocktake did not see them, by tag
}

// trial judges the chosen build and the demos of its frame.
func (room *Room) trial(r *http.Request) (*trial, error) {
	c, err := room.Whole(r)
	if err != nil {
		return nil, err
	}
	chosen, err := room.Chosen(r, c, match.Options{})
	if err != nil {
		return nil, err
	}
	if refused := chosen.Refused(c); refused != nil {
		return nil, refused
	}
	t := &trial{Consultation: c, Choice: chosen}
	if t.held, err = room.store.Reservations(r.Context()); err != nil {
		return nil, err
	}
	if t.rides, err = room.store.Rides(r.Context(), c.ID); err != nil {
		return nil, err
	}
	if t.demos, err = c.Demos(r.Context(), chosen.Match.Frame.Code, c.Profile); err != nil {
		return nil, err
	}
	var tags []string
	for i := range t.demos {
		tags = append(tags, t.demos[i].Tag)
		booked, err := room.store.ComingRides(r.Context(), t.demos[i].Tag, room.Now(), talk.MostRides)
		if err != nil {
			return nil, err
		}
		t.coming = append(t.coming, booked...)
	}
	slices.SortStableFunc(t.coming, func(a, b store.Ride) int { return a.Starts.Compare(b.Starts) })
	t.unseen, err = room.store.Unseen(r.Context(), tags)
	return t, err
}

// booking is the form that books a ride, as typed, and what is wrong with it.
type booking struct {
	unit, date, clock, minutes, rider string
	faults                            map[string]string // by field
}

// The fields of a booking.
const (
	unitField    = "unit"
	dateField    = "date"
	clockField   = "time"
	minutesField = "minutes"
	riderField   = "rider"
)

// rideMinutes are how long a ride may be booked for.
var rideMinutes = []string{"15", "30", "45", "60", "90", "120", "180"}

// rideForm shows the demos and a form that begins with the next quarter of an
// hour.
func (room *Room) rideForm(w http.ResponseWriter, r *http.Request) error {
	t, err := room.trial(r)
	if err != nil {
		return err
	}
	soon := room.Now().Truncate(time.Minute)
	for soon.Minute()%15 != 0 {
		soon = soon.Add(time.Minute)
	}
	b := booking{date: soon.Format(time.DateOnly), clock: soon.Format("15:04"), minutes: "30"}
	if len(t.demos) > 0 {
		b.unit = slices.MinFunc(t.demos, func(a, b advice.Demo) int { return cmp.Compare(readiness(a), readiness(b)) }).Tag
	}
	if tag := r.URL.Query().Get(unitField); slices.ContainsFunc(t.demos, func(d advice.Demo) bool { return d.Tag == tag }) {
		b.unit = tag
	}
	if len(t.Profile.Riders) == 1 {
		b.rider = riderName(&t.Profile.Riders[0])
	}
	return room.showRideForm(w, r, t, b, http.StatusOK)
}

// readiness orders demos by who could ride them right now: everyone, the rider
// alone, nobody yet.
func readiness(d advice.Demo) int {
	switch there := d.Status == quote.Available; {
	case there && d.CarriesAll():
		return 0
	case there && d.Alone:
		return 1
	case there:
		return 2
	}
	return 3
}

// riderName is what a rider is called where somebody is to ride.
func riderName(r *profile.Rider) string { return "Rider " + r.Label }

func (room *Room) showRideForm(w http.ResponseWriter, r *http.Request, t *trial, b booking, status int) error {
	view := rideFormView(t, b, room.Now())
	view.Shell = room.Steps(r, t.Consultation, "Test ride on the "+t.Match.Frame.Called(), "ride")
	return kit.Render(r.Context(), w, status, RideFormPage(view))
}

// bookRide books a ride, or shows the form again with what is wrong.
func (room *Room) bookRide(w http.ResponseWriter, r *http.Request) error {
	t, err := room.trial(r)
	if err != nil {
		return err
	}
	typed := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	b := booking{unit: typed(unitField), date: typed(dateField), clock: typed(clockField), minutes: typed(minutesField), rider: typed(riderField),
		faults: map[string]string{}}
	starts, length := b.read(room.Now())
	at := slices.IndexFunc(t.demos, func(d advice.Demo) bool { return d.Tag == b.unit })
	if at < 0 {
		b.faults[unitField] = "choose a bike"
	}
	if len(b.faults) > 0 {
		return room.showRideForm(w, r, t, b, http.StatusUnprocessableEntity)
	}
	d := &t.demos[at]
	made, err := room.store.BookRide(r.Context(), store.Ride{
		ID: kit.Once(r), Consultation: t.ID, Frame: d.Frame, FrameName: t.Match.Frame.Called(), Unit: d.Tag, Passengers: d.CarriesAll() && len(d.Match.Seated) > 0,
		Starts: starts, Ends: starts.Add(length), RideNotes: store.RideNotes{Rider: b.rider},
	}, room.Now())
	switch store.CodeOf(err) {
	case store.Overlap:
		b.faults[clockField] = d.Tag + " is booked for part of that time; see below when"
	case store.Conflict, store.NotFound:
		b.faults[unitField] = d.Tag + " cannot be ridden then: it is reserved, in repair, still to come or no longer in the shop"
	}
	if len(b.faults) > 0 {
		return room.showRideForm(w, r, t, b, http.StatusConflict)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.RideAt(made.ID), http.StatusSeeOther)
	return nil
}

// read notes what is wrong with a booking, and returns when it starts, in the
// zone of now, and how long it lasts.
func (b *booking) read(now time.Time) (time.Time, time.Duration) {
	if !slices.Contains(rideMinutes, b.minutes) {
		b.faults[minutesField] = "choose how long"
	}
	if len([]rune(b.rider)) > mostName {
		b.faults[riderField] = "that is too long for a name"
	}
	length, _ := time.ParseDuration(b.minutes + "m") // of a choice that is checked above
	if _, err := time.Parse(time.DateOnly, b.date); err != nil {
		b.faults[dateField] = "not a day; write it like " + now.Format(time.DateOnly)
	}
	if _, err := time.Parse("15:04", b.clock); err != nil {
		b.faults[clockField] = "not a time of day; write it like 15:30"
	}
	starts, err := time.ParseInLocation(time.DateOnly+" 15:04", b.date+" "+b.clock, now.Location())
	if err != nil {
		return starts, length // said above
	}
	switch {
	case starts.Format("15:04") != b.clock:
		b.faults[clockField] = "the clocks go forward that day, and this time is left out"
	case starts.Before(now.Truncate(time.Minute)):
		name := clockField
		if b.date < now.Format(time.DateOnly) {
			name = dateField
		}
		b.faults[name] = "that is over; choose a time to come"
	case starts.After(now.AddDate(1, 0, 0)):
		b.faults[dateField] = "at most a year ahead"
	}
	return starts, length
}

func (room *Room) ride(w http.ResponseWriter, r *http.Request) error {
	ride, err := room.store.Ride(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	return room.showRide(w, r, &ride, http.StatusOK, "", nil)
}

func (room *Room) showRide(w http.ResponseWriter, r *http.Request, ride *store.Ride, status int, alert string, faults map[string]string) error {
	shop, err := room.Advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	f, err := room.Form(r, ride.Consultation)
	if err != nil {
		return err
	}
	language := talk.PaperLanguage(r, f)
	view := rideView(ride, say.New(language, measure.Metric), shop.Catalogue, room.Now().Location(), faults)
	if view.Since, err = room.sinceRide(r.Context(), ride); err != nil {
		return err
	}
	view.Alert, view.Tongues = alert, talk.Tongues(r, language)
	view.Shell = room.Steps(r, &talk.Consultation{ID: ride.Consultation, Form: f}, "Test ride on the "+ride.FrameName, "ride")
	return kit.Render(r.Context(), w, status, RidePage(view))
}

// The fields of a ride, beside riderField.
const (
	feelField  = "feel"
	feltField  = "felt"
	notesField = "notes"
	checkField = "checked"
	mostNotes  = 2000 // characters
)

// saveRide saves what is written about a ride and moves it on.
func (room *Room) saveRide(w http.ResponseWriter, r *http.Request) error {
	ride, err := room.store.Ride(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	typed := func(name string) string {
		return strings.TrimSpace(strings.ReplaceAll(posted.Get(name), "\r\n", "\n"))
	}
	ride.RideNotes = store.RideNotes{Rider: typed(riderField), Feel: typed(feelField), Felt: typed(feltField), Notes: typed(notesField)}
	for _, check := range rideChecks {
		if slices.Contains(posted[checkField], check.code) {
			ride.Checks = append(ride.Checks, check.code)
		}
	}
	if faults := notesFaults(&ride.RideNotes); len(faults) > 0 {
		return room.showRide(w, r, &ride, http.StatusUnprocessableEntity, "Not saved yet. What is wrong is marked below.", faults)
	}
	next := ride.Status
	if do := store.RideStatus(posted.Get("do")); slices.Contains(nextStatuses[ride.Status], do) {
		next = do
	}
	err = room.store.SaveRide(r.Context(), ride.ID, ride.RideNotes, next, room.Now())
	if store.CodeOf(err) == store.Conflict {
		return room.showRide(w, r, &ride, http.StatusConflict, "Not saved: "+ride.Unit+" is not there to go out, or somebody has moved this ride on already. Open it again to see.", nil)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.RideAt(ride.ID), http.StatusSeeOther)
	return nil
}

func notesFaults(n *store.RideNotes) map[string]string {
	faults := map[string]string{}
	for name, typed := range map[string]string{feltField: n.Felt, notesField: n.Notes} {
		if len([]rune(typed)) > mostNotes {
			faults[name] = "that is too long to keep"
		}
	}
	if len([]rune(n.Rider)) > mostName {
		faults[riderField] = "that is too long for a name"
	}
	if !slices.ContainsFunc(talk.Feels, func(o kit.Option) bool { return o.Value == n.Feel }) {
		faults[feelField] = "choose one of these"
	}
	return faults
}

// rideCalendar answers with the ride for a calendar.
func (room *Room) rideCalendar(w http.ResponseWriter, r *http.Request) error {
	ride, err := room.store.Ride(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	shop, err := room.Advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	f, err := room.Form(r, ride.Consultation)
	if err != nil {
		return err
	}
	language := talk.PaperLanguage(r, f)
	room.Attach(w, "text/calendar; charset=utf-8", "test-ride-"+ride.Unit+".ics", calendar(&ride, say.New(language, measure.Metric), shop.Catalogue.Shop.Name))
	return nil
}
