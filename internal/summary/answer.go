package summary

import (
	"context"
	"fmt"
	"slices"

	"github.com/go-json-experiment/json"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

// answerVersion is the version of what Answer writes.
const answerVersion = 1

// Answer is what was told of a summary, whole: what a page says of it is in
// here, and no later program works it out again.
type Answer struct {
	Match *match.Match
	Why   map[string][]match.Message // what asked for each add-on of the build
	Parts []parking.Part             // of the way home
	// Plain is the same people, day and add-ons as if chosen by hand: what
	// later figures of the shop are held against.
	Plain *match.Match
	// Years are what it carries in the years ahead; nil where no rider's weight
	// may be told.
	Years *match.Years
	// Least is what a page without the riders' weights says is to spare, nil
	// where it says no figure.
	Least *measure.Mass
}

// Answer judges the summary on its day.
func (k *Kept) Answer(ctx context.Context) (*Answer, error) {
	m, err := k.judge(ctx)
	if err != nil {
		return nil, err
	}
	plain, err := k.In(ctx, k.Shop)
	if err != nil {
		return nil, err
	}
	a := &Answer{Match: m, Why: map[string][]match.Message{}, Plain: plain}
	for _, code := range m.Build.AddOns {
		a.Why[code] = m.Why(code)
	}
	if k.Hide {
		if a.Least, err = k.least(ctx, m); err != nil {
			return nil, err
		}
	} else {
		a.Years = match.YearsAhead(m, k.Customer, k.Shop.Settings, 12*k.Customer.Years.Or(match.YearsUnasked))
	}
	if m.Home != nil {
		a.Parts = parking.Explain(m.Bike, fitting.HomeOf(k.Customer))
	}
	return a, nil
}

// kept is an answer as it is stored.
type kept struct {
	Version int                  `json:"answer"`
	Match   *told                `json:"match"`
	Why     map[string][]message `json:"why"`
	Parts   []part               `json:"parts"`
	Plain   *told                `json:"plain"`
	Least   *measure.Mass        `json:"least,omitzero"`
	Years   *years               `json:"years,omitzero"` // none where none were kept yet, or they may not be told
}

// told is a match as it is stored: the interchange document has its sentences
// in one language only, and leaves out what a page draws.
type told struct {
	Verdict match.Verdict        `json:"verdict"`
	Relaxed []fitting.Relaxation `json:"relaxed"`
	Open    []string             `json:"open_questions"`
	Reasons []reason             `json:"reasons"`
	Build   *fitting.Build       `json:"build"`
	Seated  []seated             `json:"seated"`
	Loads   []load.Sheet         `json:"loads"`
	Limits  []limit              `json:"limits,omitzero"` // none where none were kept yet
	Horizon *fitting.Horizon     `json:"horizon"`
	Band    *fitting.Band        `json:"band,omitempty"`
	Home    *parking.Fit         `json:"parking"`
	Bike    *parking.Bike        `json:"bike,omitzero"` // none where none was kept yet
	Total   measure.Money        `json:"total_cents"`
	Change  *message             `json:"would_fit_if"`
	Stages  *stages              `json:"stages,omitzero"` // none where none were kept yet
}

type reason struct {
	Code      match.Code   `json:"code"`
	Weight    match.Weight `json:"weight"`
	Rider     string       `json:"rider,omitzero"`
	Passenger string       `json:"passenger,omitzero"`
	Day       measure.Date `json:"day,omitzero"` // none where none was kept yet
	Text      message      `json:"text"`
}

type limit struct {
	match.Limit
	Name message `json:"name"`
}

type seated struct {
	Passenger string         `json:"passenger"`
	AddOn     string         `json:"add_on"`
	Load      measure.Mass   `json:"kg"`
	Tall      measure.Length `json:"stature_cm,omitzero"`
	Estimated bool           `json:"estimated"`
	Place     catalog.Place  `json:"place"`
}

type part struct {
	Name  string         `json:"part"`
	How   parking.How    `json:"how"`
	Slack measure.Length `json:"slack_cm"`
}

// Document writes the answer as it is stored. The error is that of a sentence
// with a figure that is not known here.
func (a *Answer) Document() ([]byte, error) {
	k := kept{Version: answerVersion, Why: map[string][]message{}, Least: a.Least, Years: tellYears(a.Years)}
	var err error
	if k.Match, err = tell(a.Match); err != nil {
		return nil, err
	}
	if k.Plain, err = tell(a.Plain); err != nil {
		return nil, err
	}
	for code, list := range a.Why {
		for _, m := range list {
			written, err := messageOf(m)
			if err != nil {
				return nil, err
			}
			k.Why[code] = append(k.Why[code], written)
		}
	}
	for _, p := range a.Parts {
		k.Parts = append(k.Parts, part(p))
	}
	return json.Marshal(k, json.Deterministic(true))
}

func tell(m *match.Match) (*told, error) {
	t := &told{Verdict: m.Verdict, Relaxed: m.Relaxed, Open: m.Open, Build: m.Build, Loads: m.Sheets, Horizon: m.Horizon, Band: m.Band, Home: m.Home, Total: m.Total, Stages: tellStages(m.Stages)}
	if m.Home != nil {
		t.Bike = &m.Bike
	}
	for i := range m.Reasons {
		r := &m.Reasons[i]
		text, err := messageOf(r.Message)
		if err != nil {
			return nil, err
		}
		t.Reasons = append(t.Reasons, reason{r.Code, r.Weight, r.Rider, r.Passenger, r.Day, text})
	}
	for _, l := range m.Limits {
		name, err := messageOf(l.Name)
		if err != nil {
			return nil, err
		}
		t.Limits = append(t.Limits, limit{l, name})
	}
	for _, s := range m.Seated {
		t.Seated = append(t.Seated, seated{s.Passenger, s.AddOn, s.Standing.Load, s.Standing.Tall, s.Standing.Estimated, *s.Place})
	}
	if m.Change != nil {
		text, err := messageOf(m.Change.Message)
		if err != nil {
			return nil, err
		}
		t.Change = &text
	}
	return t, nil
}

// ReadAnswer reads what Document has written of the answer of a summary.
func (k *Kept) ReadAnswer(document []byte) (*Answer, error) {
	var written kept
	if err := json.Unmarshal(document, &written); err != nil {
		return nil, fmt.Errorf("read the answer of a fit summary: %w", err)
	}
	if written.Version != answerVersion || written.Match == nil || written.Plain == nil || written.Match.Build == nil {
		return nil, fmt.Errorf("the answer of a fit summary is of version %d, or not whole", written.Version)
	}
	a := &Answer{Why: map[string][]match.Message{}, Least: written.Least, Years: written.Years.years()}
	var err error
	if a.Match, err = written.Match.match(k); err != nil {
		return nil, err
	}
	if a.Plain, err = written.Plain.match(k); err != nil {
		return nil, err
	}
	for code, list := range written.Why {
		for _, m := range list {
			said, err := m.message()
			if err != nil {
				return nil, err
			}
			a.Why[code] = append(a.Why[code], said)
		}
	}
	for _, p := range written.Parts {
		a.Parts = append(a.Parts, parking.Part(p))
	}
	return a, nil
}

func (t *told) match(k *Kept) (*match.Match, error) {
	m := &match.Match{Frame: k.Frame(), Fitted: k.fitted(), Verdict: t.Verdict, Relaxed: t.Relaxed, Open: t.Open, Build: t.Build, Sheets: t.Loads, Horizon: t.Horizon, Band: t.Band, Home: t.Home, Total: t.Total, Stages: t.Stages.stages()}
	if t.Bike != nil {
		m.Bike = *t.Bike
	}
	for _, r := range t.Reasons {
		text, err := r.Text.message()
		if err != nil {
			return nil, err
		}
		m.Reasons = append(m.Reasons, match.Reason{Code: r.Code, Weight: r.Weight, Rider: r.Rider, Passenger: r.Passenger, Day: r.Day, Message: text})
	}
	for _, l := range t.Limits {
		name, err := l.Name.message()
		if err != nil {
			return nil, err
		}
		l.Limit.Name = name
		m.Limits = append(m.Limits, l.Limit)
	}
	for i := range t.Seated {
		s := &t.Seated[i]
		seat := fitting.Seat{Passenger: s.Passenger, AddOn: s.AddOn}
		if at := slices.IndexFunc(t.Build.Seating, func(o fitting.Seat) bool { return o.Passenger == s.Passenger && o.AddOn == s.AddOn }); at >= 0 {
			seat = t.Build.Seating[at]
		}
		m.Seated = append(m.Seated, fitting.Seated{Seat: seat,
			Standing: fitting.Standing{Load: s.Load, Tall: s.Tall, Estimated: s.Estimated}, Place: &s.Place})
	}
	if t.Change != nil {
		text, err := t.Change.message()
		if err != nil {
			return nil, err
		}
		m.Change = &match.Change{Message: text}
	}
	return m, nil
}
