package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/page"
)

// trial is the chosen build with the demos of its frame.
type trial struct {
	*consultation
	*choice
	demos  []demo
	coming []store.Ride // of anybody on these demos
	rides  []store.Ride // of this customer on any demo
	held   []quote.Reservation
}

// demo is one bike to ride, judged as it stands for a ride from the shop.
type demo struct {
	*catalog.Unit
	match  *match.Match
	behind []string // who joins in a later month and stays behind today
	alone  bool     // not everybody can ride along, but the rider alone can ride it
}

// carriesAll reports whether everybody who rides or rides along may be on it.
func (d *demo) carriesAll() bool { return d.match.Fits() }

// most rides that are listed for one bike, and on the start page.
const mostRides = 6

// trial judges the chosen build and the demos of its frame.
func (s *server) trial(r *http.Request) (*trial, error) {
	c, err := s.whole(r)
	if err != nil {
		return nil, err
	}
	chosen, err := s.chosen(r, c, match.Options{})
	if err != nil {
		return nil, err
	}
	t := &trial{consultation: c, choice: chosen}
	if t.held, err = s.Store.Reservations(r.Context()); err != nil {
		return nil, err
	}
	if t.rides, err = s.Store.Rides(r.Context(), c.id); err != nil {
		return nil, err
	}
	for i := range c.catalogue.Units {
		u := &c.catalogue.Units[i]
		if u.Frame != chosen.match.Frame.Code || u.Kind != "demo" || u.Status == "sold" {
			continue
		}
		d, err := judgeDemo(r, c, u)
		if err != nil {
			return nil, err
		}
		booked, err := s.Store.ComingRides(r.Context(), u.Tag, s.Now(), mostRides)
		if err != nil {
			return nil, err
		}
		t.demos, t.coming = append(t.demos, d), append(t.coming, booked...)
	}
	slices.SortStableFunc(t.coming, func(a, b store.Ride) int { return a.Starts.Compare(b.Starts) })
	return t, nil
}

func judgeDemo(r *http.Request, c *consultation, u *catalog.Unit) (demo, error) {
	ride, behind := match.TestRide(c.profile)
	d := demo{Unit: u, behind: behind}
	var err error
	d.match, err = match.OnUnit(r.Context(), c.catalogue, u, ride, c.settings)
	if err != nil || d.carriesAll() || len(ride.Passengers.Or(nil)) == 0 {
		return d, err
	}
	alone, err := match.OnUnit(r.Context(), c.catalogue, u, match.RideAlone(c.profile), c.settings)
	d.alone = err == nil && alone.Fits()
	return d, err
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
func (s *server) rideForm(w http.ResponseWriter, r *http.Request) error {
	t, err := s.trial(r)
	if err != nil {
		return err
	}
	soon := s.Now().Truncate(time.Minute)
	for soon.Minute()%15 != 0 {
		soon = soon.Add(time.Minute)
	}
	b := booking{date: soon.Format(time.DateOnly), clock: soon.Format("15:04"), minutes: "30"}
	if len(t.demos) > 0 { // one that is there, rather than one that is not
		b.unit = t.demos[max(0, slices.IndexFunc(t.demos, func(d demo) bool { return d.Status == quote.Available }))].Tag
	}
	return s.showRideForm(w, r, t, b, http.StatusOK)
}

func (s *server) showRideForm(w http.ResponseWriter, r *http.Request, t *trial, b booking, status int) error {
	view := rideFormView(t, b, s.Now())
	view.Shell = s.steps(r, t.consultation, "Test ride on the "+t.match.Frame.Name, "ride")
	return render(r.Context(), w, status, page.RideFormPage(view))
}

// bookRide books a ride, or shows the form again with what is wrong.
func (s *server) bookRide(w http.ResponseWriter, r *http.Request) error {
	t, err := s.trial(r)
	if err != nil {
		return err
	}
	typed := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	b := booking{unit: typed(unitField), date: typed(dateField), clock: typed(clockField), minutes: typed(minutesField), rider: typed(riderField),
		faults: map[string]string{}}
	starts, length := b.read(s.Now())
	at := slices.IndexFunc(t.demos, func(d demo) bool { return d.Tag == b.unit })
	if at < 0 {
		b.faults[unitField] = "choose a bike"
	}
	if len(b.faults) > 0 {
		return s.showRideForm(w, r, t, b, http.StatusUnprocessableEntity)
	}
	d := &t.demos[at]
	made, err := s.Store.BookRide(r.Context(), store.Ride{
		Consultation: t.id, Frame: d.Frame, FrameName: t.match.Frame.Name, Unit: d.Tag, Passengers: d.carriesAll() && len(d.match.Seated) > 0,
		Starts: starts, Ends: starts.Add(length), RideNotes: store.RideNotes{Rider: b.rider},
	}, s.Now())
	switch store.CodeOf(err) {
	case store.Overlap:
		b.faults[clockField] = d.Tag + " is booked for part of that time; see below when"
	case store.Conflict, store.NotFound:
		b.faults[unitField] = d.Tag + " cannot be ridden then: it is reserved, or no longer in the shop"
	}
	if len(b.faults) > 0 {
		return s.showRideForm(w, r, t, b, http.StatusConflict)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, "/rides/"+made.ID, http.StatusSeeOther)
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

func (s *server) ride(w http.ResponseWriter, r *http.Request) error {
	ride, err := s.Store.Ride(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	return s.showRide(w, r, &ride, http.StatusOK, "", nil)
}

func (s *server) showRide(w http.ResponseWriter, r *http.Request, ride *store.Ride, status int, alert string, faults map[string]string) error {
	c, _, err := s.shop(r.Context())
	if err != nil {
		return err
	}
	view := rideView(ride, c, s.Now().Location(), faults)
	view.Alert = alert
	view.Shell = s.steps(r, &consultation{id: ride.Consultation}, view.Title, "ride")
	return render(r.Context(), w, status, page.RidePage(view))
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
func (s *server) saveRide(w http.ResponseWriter, r *http.Request) error {
	ride, err := s.Store.Ride(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	posted, err := postedValues(r)
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
		return s.showRide(w, r, &ride, http.StatusUnprocessableEntity, "Not saved yet. What is wrong is marked below.", faults)
	}
	next := ride.Status
	if do := store.RideStatus(posted.Get("do")); slices.Contains(nextStatuses[ride.Status], do) {
		next = do
	}
	err = s.Store.SaveRide(r.Context(), ride.ID, ride.RideNotes, next, s.Now())
	if store.CodeOf(err) == store.Conflict {
		return s.showRide(w, r, &ride, http.StatusConflict, "Not saved: "+ride.Unit+" is not there to go out, or somebody has moved this ride on already. Open it again to see.", nil)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, "/rides/"+ride.ID, http.StatusSeeOther)
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
	if !slices.ContainsFunc(feels, func(o page.Option) bool { return o.Value == n.Feel }) {
		faults[feelField] = "choose one of these"
	}
	return faults
}

// rideCalendar answers with the ride for a calendar.
func (s *server) rideCalendar(w http.ResponseWriter, r *http.Request) error {
	ride, err := s.Store.Ride(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	c, _, err := s.shop(r.Context())
	if err != nil {
		return err
	}
	s.attach(w, "text/calendar; charset=utf-8", "test-ride-"+ride.Unit+".ics", calendar(&ride, c.Shop.Name))
	return nil
}
