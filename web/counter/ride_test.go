package counter_test

import (
	"bytes"
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // where the machine has no zones

	"github.com/emersion/go-ical"

	"kinwain/internal/catalog"
	"kinwain/web"
	"kinwain/web/webtest"
)

// TestRideFormBegins holds that the form begins with the next quarter of an
// hour by the shop's clock, and says what the demo is like.
func TestRideFormBegins(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	s.Passes(time.Minute)
	got := webtest.Sent(v.Get(frame + "/ride").One("form.book"))
	for name, want := range map[string]string{"unit": "D-014", "date": "2026-11-25", "time": "09:45", "minutes": "30", "rider": ""} {
		if got.Get(name) != want {
			t.Errorf("%s is %q, want %q", name, got.Get(name), want)
		}
	}
	text := v.Get(frame + "/ride").Text(".demos li")
	for _, want := range []string{"D-014", "chalk blue", "538 km", "It weighs 35.7 kg", "With two-leg stand; fabric wheel skirts, pair; harnessed child seat",
		"ride it without passengers", "without 2 × single pannier"} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q: %s", want, text)
		}
	}
}

// TestWhoCouldRide asks of demos of all kinds whether the passengers could
// come along.
func TestWhoCouldRide(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	one := `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed"}],
		"passengers": [{"label": "first child", "born": "2023-05", "weight_kg": 15, "sits_unaided": true}], "budget_cents": 100}`
	later := strings.Replace(one, `"born": "2023-05", "weight_kg": 15, "sits_unaided": true`, `"born": "2026-03", "joins": "2027-04"`, 1)
	unsure := strings.Replace(one, `"born": "2023-05", "weight_kg": 15, "sits_unaided": true`, `"born": "2025-08", "weight_kg": 11, "sits_unaided": null`, 1)
	alone := `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed"}]}`
	for name, test := range map[string]struct{ profile, frame, want string }{
		"a child on the seat that is fitted": {one, "osier-m", "As it stands, everyone can ride along, with care: first child on harnessed child seat.The maker does not state a rating for the front axle"},
		"a child, and no seat":               {one, "osier-l", "As it stands, not everyone has a place: ride it without passengers."},
		"a child who joins later":            {later, "osier-m", "As it stands, it suits whoever rides.Joining later, so not on this ride: first child."},
		"a child who may not sit yet":        {unsure, "osier-m", "with care: first child on harnessed child seat.See that first child sits unaided"},
		"nobody comes along":                 {alone, "osier-l", "As it stands, it suits whoever rides."},
	} {
		a := v.Get(v.Interview([]byte(test.profile)) + "/frames/" + test.frame + "/ride")
		if got := a.Text(".demos li"); !strings.Contains(got, test.want) {
			t.Errorf("%s: %s", name, got)
		}
	}
}

func TestBookRideFaults(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	v.Booked(frame, "D-014", "2026-11-26", "10:00")
	if err := s.Store.Reserve(t.Context(), "D-014", quoteID(v.Quoted(v.Interview([]byte(webtest.Family))+"/frames/osier-m")), date(t, "2026-12-03"), webtest.Morning.AddDate(0, 0, 0)); err != nil {
		t.Fatal(err)
	}
	good := url.Values{"unit": {"D-014"}, "date": {"2026-12-04"}, "time": {"10:00"}, "minutes": {"30"}, "rider": {"A, who came first"}}
	for name, test := range map[string]struct {
		field, value, fault string
		status              int
	}{
		"no bike":                 {"unit", "", "unit", 422},
		"a bike of another frame": {"unit", "D-011", "unit", 422},
		"a bike in stock":         {"unit", "S-105", "unit", 422},
		"no day":                  {"date", "", "date", 422},
		"no such day":             {"date", "2026-02-30", "date", 422},
		"yesterday":               {"date", "2026-11-24", "date", 422},
		"in two years":            {"date", "2028-12-04", "date", 422},
		"no time":                 {"time", "", "time", 422},
		"no such time":            {"time", "25:00", "time", 422},
		"no length":               {"minutes", "", "minutes", 422},
		"a length of our own":     {"minutes", "100000", "minutes", 422},
		"a name that is a novel":  {"rider", strings.Repeat("a", 121), "rider", 422},
		"while it is reserved":    {"date", "2026-12-03", "unit", 409},
	} {
		values := url.Values{}
		for name, list := range good {
			values[name] = list
		}
		values.Set(test.field, test.value)
		a := v.Post(frame+"/ride", values).Is(test.status, frame+"/ride")
		if a.Text(webtest.ByID(test.fault+"-error")) == "" {
			t.Errorf("%s: nothing is said at the field: %s", name, a.Text(".error"))
		}
		if kept := webtest.Sent(a.One("form.book")); test.field != "minutes" && test.field != "unit" && kept.Get(test.field) != test.value || test.field != "rider" && kept.Get("rider") != "A, who came first" {
			t.Errorf("%s: what was typed is lost: %v", name, kept)
		}
	}
	a := v.Post(frame+"/ride", good)
	if !strings.HasPrefix(a.Path, "/rides/") {
		t.Fatalf("in order, and yet %d: %s", a.Status, a.Text(".error"))
	}
	good.Set("time", "10:15")
	a = v.Post(frame+"/ride", good).Is(http.StatusConflict, frame+"/ride")
	if a.Text("#time-error") != "D-014 is booked for part of that time; see below when" || !strings.Contains(a.Text(".coming"), "Friday, 4 December 2026, 10:00 to 10:30") {
		t.Errorf("%q, and below %q", a.Text("#time-error"), a.Text(".coming"))
	}
	now := url.Values{"unit": {"D-014"}, "date": {"2026-11-25"}, "time": {"09:29"}, "minutes": {"15"}}
	if a := v.Post(frame+"/ride", now); a.Text("#time-error") != "that is over; choose a time to come" {
		t.Errorf("a minute ago: %q", a.Text("#time-error"))
	}
}

// TestHourThatIsLeftOut books in a shop where the clocks go forward on 28
// March 2027 at 02:00 (European Union directive 2000/84/EC).
func TestHourThatIsLeftOut(t *testing.T) {
	t.Parallel()
	zone, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	s := webtest.Open(t)
	now := time.Date(2027, 3, 20, 12, 0, 0, 0, zone)
	s.App = web.New(web.Options{Store: s.Store, Now: func() time.Time { return now }, Log: slog.New(slog.NewTextHandler(webtest.Complaints{T: t}, &slog.HandlerOptions{Level: slog.LevelError}))})
	s.Server.Config.Handler = s.App
	v := s.Stranger()
	if err := s.Store.ReplaceSignInLink(t.Context(), webtest.Token, now.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	v.Post("/sign-in/"+webtest.Token, nil).Is(http.StatusOK, "/")
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	ride := url.Values{"unit": {"D-014"}, "date": {"2027-03-28"}, "time": {"02:30"}, "minutes": {"30"}}
	if a := v.Post(frame+"/ride", ride); !strings.Contains(a.Text("#time-error"), "the clocks go forward") {
		t.Errorf("%d: %q", a.Status, a.Text("#time-error"))
	}
	for clock, utc := range map[string]string{"01:30": "2027-03-28T00:30:00Z", "03:30": "2027-03-28T01:30:00Z"} {
		a := v.Booked(frame, "D-014", "2027-03-28", clock)
		r, err := s.Store.Ride(t.Context(), strings.TrimPrefix(a.Path, "/rides/"))
		if err != nil || r.Starts.Format(time.RFC3339) != utc {
			t.Errorf("%s is stored as %v, %v", clock, r.Starts, err)
		}
		if !strings.Contains(a.Text(".line"), clock) {
			t.Errorf("%s is shown as %q", clock, a.Text(".line"))
		}
	}
}

// TestRideFromBookingToBack writes about a ride as it goes on.
func TestRideFromBookingToBack(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	a := v.Booked(address+"/frames/osier-m", "D-014", "2026-11-25", "09:30")
	path := a.Path
	if got := v.Get("/").Text(".coming li"); !strings.Contains(got, "Osier M, D-014") || !strings.Contains(got, "09:30 to 10:00") {
		t.Errorf("the start says %q", got)
	}
	do := func(a *webtest.Answer, button string, set url.Values) *webtest.Answer {
		t.Helper()
		values := webtest.Sent(a.One("form.book"))
		for name, list := range set {
			values[name] = list
		}
		if a.Page.Find(fmt.Sprintf(`button[name="do"][value="%s"]`, button)).Length() != 1 {
			t.Fatalf("there is no button %s", button)
		}
		values.Set("do", button)
		return v.Post(path, values)
	}
	a = do(a, "save", url.Values{"checked": {"helmet", "brakes", "nonsense"}, "rider": {"A"}}).Is(http.StatusOK, path)
	a.Count(`input[name="checked"][checked]`, 2)
	if got := a.Text(".book .hint"); !strings.Contains(got, "4 of 6 still to go through.") {
		t.Errorf("%q", got)
	}
	a = do(a, "out", nil).Is(http.StatusOK, path)
	if got := v.Get(address + "/frames/osier-m").Text(".ride"); got != "No demo can be ridden right now." {
		t.Errorf("while it is out: %q", got)
	}
	form := v.Get(address + "/frames/osier-m/ride")
	if got := form.Text(".demos .status"); got != "Out on a test ride, back at 10:00" {
		t.Errorf("the bike that is out is %q", got)
	}
	if got := form.Text("#rider"); got != "Not said yetRider ARider B" && got != "Not said yet Rider A Rider B" {
		t.Errorf("offered to ride are %q", got)
	}
	a.Count(`button[value="cancelled"]`, 0)
	stale := webtest.Sent(a.One("form.book"))
	a = do(a, "back", url.Values{"feel": {"good"}, "felt": {"Light.\r\nTurns <well>."}, "notes": {"Pump the tyres."}}).Is(http.StatusOK, path)
	if a.Text(".status") != "Back" || a.One("#felt").Text() != "Light.\nTurns <well>." || webtest.Sent(a.One("form.book")).Get("feel") != "good" {
		t.Errorf("%s: %q", a.Text(".status"), a.One("#felt").Text())
	}
	if got := v.Get(address + "/frames/osier-m").Text(".ride"); got != "Ride it now: D-014" {
		t.Errorf("when it is back: %q", got)
	}
	v.Get("/").Count(".coming", 0)
	if got := v.Get(address + "/frames/teasel/ride").Text("[aria-labelledby=rides] li"); !strings.Contains(got, "Osier M, D-014") || !strings.Contains(got, "A, back: felt good") {
		t.Errorf("the ride is found again as %q", got)
	}
	stale.Set("do", "out") // a tablet that still shows the ride as booked
	v.Post(path, stale).Is(http.StatusOK, path)
	if a = v.Get(path); a.Text(".status") != "Back" {
		t.Errorf("a ride that was back is %s", a.Text(".status"))
	}
	long := strings.Repeat("a", 2001)
	a = do(a, "save", url.Values{"felt": {long}}).Is(http.StatusUnprocessableEntity, path)
	if a.One("#felt").Text() != long || a.Text("#felt-error") == "" {
		t.Error("what is too long is lost, or not called so")
	}
}

// TestBikeThatIsGone sends a ride out on a bike that somebody else is riding.
func TestBikeThatIsGone(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	first, second := v.Booked(frame, "D-014", "2026-11-25", "10:00"), v.Booked(frame, "D-014", "2026-11-25", "10:30")
	v.Post(first.Path, url.Values{"do": {"out"}}).Is(http.StatusOK, first.Path)
	a := v.Post(second.Path, url.Values{"do": {"out"}, "notes": {"in a hurry"}}).Is(http.StatusConflict, second.Path)
	if !strings.HasPrefix(a.Text(".alert"), "Not saved: D-014 is not there") || a.One("#notes").Text() != "in a hurry" || a.Text(".status") != "Booked" {
		t.Errorf("%s, %q, %q", a.Text(".status"), a.Text(".alert"), a.One("#notes").Text())
	}
}

// TestRideInACalendar reads the file with another library than wrote it, and
// checks by hand what RFC 5545 asks of lines in section 3.1.
func TestRideInACalendar(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	a := v.Booked(v.Interview([]byte(webtest.Family))+"/frames/osier-m", "D-014", "2026-11-26", "10:15")
	rider := "Ä, who; rides\\slowly " + strings.Repeat("äöü ", 24)
	v.Post(a.Path, url.Values{"do": {"save"}, "rider": {rider}}).Is(http.StatusOK, a.Path)
	file := v.Get(a.Path + ".ics")
	if file.Header.Get("Content-Type") != "text/calendar; charset=utf-8" || file.Header.Get("Content-Disposition") != `attachment; filename="test-ride-D-014.ics"` {
		t.Errorf("%v", file.Header)
	}
	lines := strings.Split(string(file.Body), "\r\n")
	for _, line := range lines {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n") {
			t.Errorf("%d octets: %q", len(line), line)
		}
	}
	if !strings.HasSuffix(string(file.Body), "\r\n") || !bytes.Contains(file.Body, []byte("\r\n ")) || bytes.Contains(file.Body, []byte("TZID")) {
		t.Errorf("%s", file.Body)
	}
	read, err := ical.NewDecoder(bytes.NewReader(file.Body)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	events := read.Events()
	if len(events) != 1 {
		t.Fatalf("%d events", len(events))
	}
	text := func(name string) string {
		value, err := events[0].Props.Text(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		return value
	}
	starts, err := events[0].DateTimeStart(time.Local)
	ends, errEnd := events[0].DateTimeEnd(time.Local)
	if err != nil || errEnd != nil || starts.UTC() != time.Date(2026, 11, 26, 9, 15, 0, 0, time.UTC) || ends.Sub(starts) != 30*time.Minute {
		t.Errorf("from %v to %v, %v, %v", starts, ends, err, errEnd)
	}
	if got := events[0].Props.Get(ical.PropDateTimeStart).Value; got != "20261126T091500Z" {
		t.Errorf("it starts at %s", got)
	}
	stamp, err := events[0].Props.DateTime(ical.PropDateTimeStamp, time.Local)
	if err != nil || stamp.UTC() != webtest.Morning.UTC() {
		t.Errorf("stamped %v, %v", stamp, err)
	}
	if want := "Rider: " + strings.TrimSpace(rider) + "\n"; !strings.HasPrefix(text(ical.PropDescription), want) {
		t.Errorf("it is about %q", text(ical.PropDescription))
	}
	if text(ical.PropSummary) != "Test ride: Osier M (D-014)" || text(ical.PropLocation) != "Low Quay Load Works, Marrowhithe" || text(ical.PropStatus) != "CONFIRMED" {
		t.Errorf("%v", events[0].Props)
	}
	uid := text(ical.PropUID)
	v.Post(a.Path, url.Values{"do": {"cancelled"}}).Is(http.StatusOK, a.Path)
	again, err := ical.NewDecoder(bytes.NewReader(v.Get(a.Path + ".ics").Body)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	props := again.Events()[0].Props
	if props.Get(ical.PropUID).Value != uid || props.Get(ical.PropStatus).Value != "CANCELLED" || props.Get(ical.PropSequence).Value != "2" {
		t.Errorf("cancelled: %v", props)
	}
}

func TestFrameWithoutADemo(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	path := v.Interview([]byte(webtest.Plain)) + "/frames/knapweed-l/ride"
	a := v.Get(path).Is(http.StatusOK, path)
	a.Count("form.book", 0)
	a.One(".empty")
	v.Post(path, url.Values{"unit": {"D-014"}, "date": {"2026-11-26"}, "time": {"10:00"}, "minutes": {"30"}}).Is(http.StatusUnprocessableEntity, path)
}

// TestTheDemoThatCanBeRiddenIsChosen puts a second demo beside one that is not
// there, and another beside one that takes nobody along.
func TestTheDemoThatCanBeRiddenIsChosen(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	document := `{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed"}],
		"passengers": [{"label": "first child", "born": "2023-05", "weight_kg": 15, "sits_unaided": true}]}`
	frame := v.Interview([]byte(document)) + "/frames/osier-m"
	for _, step := range []struct {
		status string   // of D-014, which has a child seat
		fitted []string // on D-001, the first of the list
		want   string
	}{
		{"available", nil, "D-014"},
		{"on_test_ride", nil, "D-001"},
		{"available", []string{"seat-rear", "stand-two-leg", "guard-skirt"}, "D-001"},
	} {
		c := s.Catalogue()
		c.Units = slices.DeleteFunc(slices.Clone(c.Units), func(u catalog.Unit) bool { return u.Tag == "D-001" })
		at := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == "D-014" })
		c.Units[at].Status = step.status
		c.Units = slices.Insert(c.Units, at, catalog.Unit{Tag: "D-001", Frame: "osier-m", Kind: "demo", Status: "available", Fitted: step.fitted})
		if err := s.Store.ReplaceCatalogue(t.Context(), c); err != nil {
			t.Fatal(err)
		}
		form := webtest.Sent(v.Get(frame + "/ride").One("form.book"))
		if form.Get("unit") != step.want || form.Get("rider") != "Rider A" {
			t.Errorf("D-014 %s, D-001 with %v: chosen is %s, ridden by %q", step.status, step.fitted, form.Get("unit"), form.Get("rider"))
		}
	}
}
