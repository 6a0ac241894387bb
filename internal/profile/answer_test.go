package profile_test

import (
	"testing"

	"github.com/go-json-experiment/json"
	"pgregory.net/rapid"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// card is a document with one answer of each sort.
type card struct {
	Weight profile.Answer[measure.Mass]       `json:"weight_kg,omitzero"`
	Sits   profile.Answer[bool]               `json:"sits,omitzero"`
	Years  profile.Answer[int]                `json:"years,omitzero"`
	Born   profile.Answer[measure.Date]       `json:"born,omitzero"`
	Joins  profile.Answer[profile.Month]      `json:"joins,omitzero"`
	Doors  profile.Answer[[]profile.Doorway]  `json:"doors,omitzero"`
	Lift   profile.Answer[profile.Lift]       `json:"lift,omitzero"`
	Grip   profile.Answer[profile.Grip]       `json:"grip,omitzero"`
	Hill   profile.Answer[measure.Percentage] `json:"hill,omitzero"`
}

// TestAnswerStates holds the three states, and that a given zero is neither
// of the other two.
func TestAnswerStates(t *testing.T) {
	for _, c := range []struct {
		name                   string
		answer                 profile.Answer[int]
		given, unknown, absent bool
		or                     int
	}{
		{"absent", profile.Answer[int]{}, false, false, true, 9},
		{"unknown", profile.Unknown[int](), false, true, false, 9},
		{"given", profile.Given(4), true, false, false, 4},
		{"given zero", profile.Given(0), true, false, false, 0},
	} {
		value, ok := c.answer.Get()
		if c.answer.IsGiven() != c.given || ok != c.given || c.answer.IsUnknown() != c.unknown || c.answer.IsZero() != c.absent {
			t.Errorf("%s: given %v, get %v, unknown %v, absent %v", c.name, c.answer.IsGiven(), ok, c.answer.IsUnknown(), c.answer.IsZero())
		}
		if c.answer.Or(9) != c.or || ok && value != c.or || !ok && value != 0 {
			t.Errorf("%s: %d or %d", c.name, value, c.answer.Or(9))
		}
	}
}

// TestAnswerInDocuments holds that each state comes back as it was written.
func TestAnswerInDocuments(t *testing.T) {
	for _, document := range []string{
		`{}`,
		`{"weight_kg":null,"sits":null,"years":null,"born":null,"joins":null,"doors":null,"lift":null,"grip":null,"hill":null}`,
		`{"weight_kg":0,"sits":false,"years":0,"born":"","joins":"","doors":[],"lift":{},"grip":"","hill":0}`,
		`{"weight_kg":15.25,"sits":true,"years":4,"born":"2023-05","joins":"2027-03","doors":[{}],"lift":{"door_cm":80.5},"grip":"full","hill":7.5}`,
		`{"doors":[{"width_cm":null},{"width_cm":0,"height_cm":null}],"lift":{"length_cm":null,"door_cm":0}}`,
	} {
		var c card
		if err := json.Unmarshal([]byte(document), &c, json.RejectUnknownMembers(true)); err != nil {
			t.Errorf("%s: %v", document, err)
		}
		if back, err := json.Marshal(c); err != nil || string(back) != document {
			t.Errorf("%s became %s, %v", document, back, err)
		}
	}
}

// TestAnswerIsReplaced holds that nothing of an earlier answer shines through.
func TestAnswerIsReplaced(t *testing.T) {
	states := map[string]profile.Answer[int]{"null": profile.Unknown[int](), "3": profile.Given(3), "0": profile.Given(0)}
	texts := []string{"null", "3", "0"}
	rapid.Check(t, func(t *rapid.T) {
		var a profile.Answer[int]
		for range rapid.IntRange(1, 4).Draw(t, "answers") {
			text := rapid.SampledFrom(texts).Draw(t, "answer")
			if err := json.Unmarshal([]byte(text), &a); err != nil || a != states[text] {
				t.Errorf("%s: %+v, %v", text, a, err)
			}
			if back, err := json.Marshal(a); err != nil || string(back) != text {
				t.Errorf("%s became %s, %v", text, back, err)
			}
		}
	})
}

func TestAnswerRefuses(t *testing.T) {
	for _, document := range []string{
		`{"weight_kg":"15"}`, `{"weight_kg":NaN}`, `{"sits":"yes"}`, `{"sits":0}`, `{"years":1.5}`, `{"years":"null"}`, `{"born":2023}`, `{"born":"2023-02-30"}`,
		`{"joins":"2023-05-01"}`, `{"doors":{}}`, `{"doors":[{"wide":1}]}`, `{"lift":[]}`, `{"lift":{"door":1}}`, `{"lift":{"door_cm":1,"door_cm":1}}`, `{"hill":"7 %"}`,
	} {
		var c card
		if err := json.Unmarshal([]byte(document), &c, json.RejectUnknownMembers(true)); err == nil {
			t.Errorf("%s is read as %+v", document, c)
		}
	}
}

// TestNobodyJoinsBeforeTheFirstBirthday names the day from which a passenger
// rides along; a birth month alone counts as its last day.
func TestNobodyJoinsBeforeTheFirstBirthday(t *testing.T) {
	for _, c := range []struct{ born, joins, want string }{
		{"2025-11-30", "2026-11", "2026-11-30"}, {"2025-11-01", "2026-11", "2026-11-01"}, {"2025-11", "2026-11", "2026-11-30"},
		{"2025-10-31", "2026-11", "2026-11-01"}, {"2025-02", "2026-02", "2026-02-28"}, {"2024-02-29", "2025-02", "2025-02-28"},
		{"2020-05", "2027-03", "2027-03-01"}, {"", "2027-03", "2027-03-01"}, {"2020-05", "", ""},
	} {
		var p profile.Passenger
		if c.born != "" {
			d, err := measure.ParseDate(c.born)
			if err != nil {
				t.Fatal(err)
			}
			p.Born = profile.Given(d)
		}
		if c.joins != "" {
			m, err := measure.ParseMonth(c.joins)
			if err != nil {
				t.Fatal(err)
			}
			p.Joins = profile.Given(profile.Month{Month: m})
		}
		if day, ok := p.JoinsOn(measure.Date{Year: 2026, Month: 11, Day: 25}); ok != (c.want != "") || day.String() != c.want {
			t.Errorf("born %q, joins %q: %v, %v, want %q", c.born, c.joins, day, ok, c.want)
		}
	}
}

// A child that is expected joins on its first birthday, unless a later month is
// given.
func TestAnExpectedChildJoinsOnItsBirthday(t *testing.T) {
	asOf := measure.Date{Year: 2026, Month: 11, Day: 25}
	for _, c := range []struct{ born, joins, want string }{
		{"2026-11-25", "", ""}, {"2026-11", "", ""}, // born, or perhaps
		{"2026-11-26", "", "2027-11-26"}, {"2026-12", "", "2027-12-31"}, {"2027-02", "", "2028-02-28"}, {"2028-02-29", "", "2029-02-28"},
		{"2026-12", "2027-06", "2027-12-31"}, {"2026-12", "2027-12", "2027-12-31"}, {"2026-12", "2028-03", "2028-03-01"},
	} {
		d, err := measure.ParseDate(c.born)
		if err != nil {
			t.Fatal(err)
		}
		p := profile.Passenger{Born: profile.Given(d)}
		if c.joins != "" {
			m, err := measure.ParseMonth(c.joins)
			if err != nil {
				t.Fatal(err)
			}
			p.Joins = profile.Given(profile.Month{Month: m})
		}
		if day, ok := p.JoinsOn(asOf); ok != (c.want != "") || day.String() != c.want {
			t.Errorf("born %q, joins %q: %v, %v, want %q", c.born, c.joins, day, ok, c.want)
		}
	}
	unknown := profile.Passenger{Born: profile.Given(measure.Date{Year: 2026, Month: 12}), Joins: profile.Unknown[profile.Month]()}
	if day, ok := unknown.JoinsOn(asOf); !ok || day.String() != "2027-12-31" {
		t.Errorf("joins %v, %v, while nobody knows when", day, ok)
	}
}

func TestMonthMayBeNone(t *testing.T) {
	var p profile.Passenger
	if _, ok := p.JoinsIn(); ok {
		t.Error("nobody said when, yet there is a month")
	}
	for _, a := range []profile.Answer[profile.Month]{profile.Unknown[profile.Month](), profile.Given(profile.Month{})} {
		p.Joins = a
		if m, ok := p.JoinsIn(); ok {
			t.Errorf("%+v joins in %v", a, m)
		}
	}
	p.Joins = profile.Given(profile.Month{Month: measure.MonthOf(2027, 3)})
	if m, ok := p.JoinsIn(); !ok || m.String() != "2027-03" {
		t.Errorf("joins in %v, %v", m, ok)
	}
}
