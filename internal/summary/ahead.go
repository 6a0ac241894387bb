package summary

import (
	"context"
	"reflect"
	"slices"
	"sync"

	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// stages are the stages of a match as they are stored: what a page says of
// them, and of a build what is on the bike.
type stages struct {
	List     []stage       `json:"list"`
	Asked    measure.Month `json:"asked_until"`
	Until    measure.Month `json:"until"`
	Total    measure.Money `json:"total_cents"`
	Now      *unchanged    `json:"buying_now"`
	Unproved bool          `json:"unproved,omitzero"`
	Cheaper  measure.Money `json:"cheaper_cents,omitzero"`
}

type unchanged struct {
	AddOns []string      `json:"add_ons"`
	Off    []string      `json:"off"`
	Total  measure.Money `json:"total_cents"`
}

type stage struct {
	From     measure.Month `json:"from"`
	To       measure.Month `json:"to"`
	AddOns   []string      `json:"add_ons"`
	Off      []string      `json:"off"`
	Seats    []seat        `json:"seats"`
	Bought   []string      `json:"bought"`
	PutOn    []string      `json:"put_on"`
	TakenOff []string      `json:"taken_off"`
	Price    measure.Money `json:"price_cents"`
	Labour   measure.Money `json:"labour_cents"`
}

// seat is who sits where when a stage begins, or from a day on.
type seat struct {
	Passenger string        `json:"passenger"`
	AddOn     string        `json:"add_on"`
	Joins     *measure.Date `json:"joins,omitzero"`
}

func tellStages(s *match.Stages) *stages {
	if s == nil {
		return nil
	}
	t := &stages{Asked: s.Asked, Until: s.Until, Total: s.Total, Unproved: s.Unproved, Cheaper: s.Cheaper}
	if s.Now != nil {
		t.Now = &unchanged{s.Now.Build.AddOns, s.Now.Build.TakenOff, s.Now.Total}
	}
	for i := range s.List {
		one := &s.List[i]
		kept := stage{From: one.From, To: one.To, AddOns: one.Build.AddOns, Off: one.Build.TakenOff, Bought: one.Bought, PutOn: one.PutOn,
			TakenOff: one.TakenOff, Price: one.Price, Labour: one.Labour}
		for _, at := range one.Seated {
			kept.Seats = append(kept.Seats, seat{at.Passenger, at.AddOn, nil})
		}
		for _, at := range one.Joining {
			kept.Seats = append(kept.Seats, seat{at.Passenger, at.AddOn, &at.On})
		}
		t.List = append(t.List, kept)
	}
	return t
}

func (t *stages) stages() *match.Stages {
	if t == nil {
		return nil
	}
	s := &match.Stages{Asked: t.Asked, Until: t.Until, Total: t.Total, Unproved: t.Unproved, Cheaper: t.Cheaper}
	if t.Now != nil {
		s.Now = &match.Unchanged{Build: onBike(t.Now.AddOns, t.Now.Off), Total: t.Now.Total}
	}
	for i := range t.List {
		one := &t.List[i]
		told := match.Stage{From: one.From, To: one.To, Build: onBike(one.AddOns, one.Off), Bought: one.Bought, PutOn: one.PutOn, TakenOff: one.TakenOff,
			Price: one.Price, Labour: one.Labour}
		for _, at := range one.Seats {
			seated := fitting.Seated{Seat: fitting.Seat{Passenger: at.Passenger, AddOn: at.AddOn}}
			if at.Joins == nil {
				told.Seated = append(told.Seated, seated)
			} else {
				told.Joining = append(told.Joining, match.Joining{On: *at.Joins, Seated: seated})
			}
		}
		s.List = append(s.List, told)
	}
	return s
}

// onBike is a build of which no more was kept than what is on the bike.
func onBike(addOns, off []string) *fitting.Build {
	return &fitting.Build{AddOns: addOns, TakenOff: off}
}

// years are the years ahead as they are stored: under each rider, what the
// bike carries at the end of each month where children grow slowly, as is
// planned with, and fast.
type years struct {
	Gross  measure.Mass        `json:"gross_rating_kg"`
	First  measure.Month       `json:"first"`
	Riders []string            `json:"riders"`
	Loads  [][][3]measure.Mass `json:"loads_kg"`
	Marks  []mark              `json:"marks"`
}

type mark struct {
	Kind      match.MarkKind `json:"kind"`
	On        measure.Date   `json:"on"`
	Stage     int            `json:"stage,omitzero"`
	Passenger string         `json:"passenger,omitzero"`
	AddOn     string         `json:"add_on,omitzero"`
	Limit     string         `json:"limit,omitzero"`
}

func tellYears(y *match.Years) *years {
	if y == nil || len(y.Months) == 0 {
		return nil
	}
	t := &years{Gross: y.Gross, First: y.Months[0].Month, Riders: y.Riders, Loads: make([][][3]measure.Mass, len(y.Riders))}
	for _, m := range y.Months {
		for k, l := range m.Loads {
			t.Loads[k] = append(t.Loads[k], [3]measure.Mass{l.Slow, l.Planned, l.Fast})
		}
	}
	for _, m := range y.Marks {
		t.Marks = append(t.Marks, mark(m))
	}
	return t
}

func (t *years) years() *match.Years {
	if t == nil {
		return nil
	}
	y := &match.Years{Gross: t.Gross, Riders: t.Riders}
	for k, months := range t.Loads {
		for n, l := range months {
			if n == len(y.Months) {
				y.Months = append(y.Months, match.MonthAhead{Month: t.First + measure.Month(n), Loads: make([]match.Range, len(t.Riders))})
			}
			y.Months[n].Loads[k] = match.Range{Slow: l[0], Planned: l[1], Fast: l[2]}
		}
	}
	for _, m := range t.Marks {
		y.Marks = append(y.Marks, match.Mark(m))
	}
	return y
}

// light is what a rider weighs for whom a bike leaves as much as for anybody.
const light = 30 * measure.Kilogram

// underLight are the stages under riders who weigh next to nothing, worked out
// once for all who weigh anything.
type underLight struct {
	once   sync.Once
	stages *stages
	err    error
}

// untold returns a match without its stages where they turn on what a rider
// weighs: a page that does not tell that shows those alone that are the same
// under riders who weigh next to nothing.
func (k *Kept) untold(ctx context.Context, m *match.Match) (*match.Match, error) {
	if m.Stages == nil {
		return m, nil
	}
	k.light.once.Do(func() { k.light.stages, k.light.err = k.stagesUnder(ctx, light) })
	if k.light.err != nil || reflect.DeepEqual(tellStages(m.Stages), k.light.stages) {
		return m, k.light.err
	}
	less := *m
	less.Stages = nil
	return &less, nil
}

// stagesUnder returns the stages where every rider who is weighed weighs so
// much.
func (k *Kept) stagesUnder(ctx context.Context, mass measure.Mass) (*stages, error) {
	p := *k.Customer
	p.Riders = slices.Clone(p.Riders)
	for i := range p.Riders {
		if r := &p.Riders[i]; r.Weight.IsGiven() {
			r.Weight = profile.Given(mass)
		}
	}
	m, err := k.Shop.Best(ctx, k.Frame(), &p, match.Options{Stages: true})
	if err != nil {
		return nil, err
	}
	return tellStages(m.Stages), nil
}
