package match

import (
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// stage is one build of the stages, and how the bike comes to it.
type stage struct {
	From     string        `json:"from"` // a month; To is the last one
	To       string        `json:"to"`
	AddOns   []string      `json:"add_ons"` // on the bike then, beyond what it comes with
	Off      []string      `json:"off"`     // of what it comes with
	Bought   []string      `json:"bought"`
	PutOn    []string      `json:"put_on"`
	TakenOff []string      `json:"taken_off"`
	Seating  []stageSeat   `json:"seating"`
	Price    measure.Money `json:"price_cents"`
	Labour   measure.Money `json:"labour_cents"`
	Due      measure.Money `json:"due_cents"`
}

// stageSeat is a place as the stage begins, or from the day on which somebody
// joins within it.
type stageSeat struct {
	fitting.Seat
	Joins *measure.Date `json:"joins,omitzero"`
}

// yearsAhead is what all stages come to together.
type yearsAhead struct {
	Asked    string        `json:"asked_until"`
	Until    string        `json:"until"` // the last month that any build of the frame serves, or the last asked for
	Total    measure.Money `json:"total_cents"`
	Now      *unchanged    `json:"buying_now"` // null where no single build serves as long
	Unproved *unproved     `json:"unproved,omitzero"`
}

type unchanged struct {
	AddOns   []string      `json:"add_ons"`
	TakenOff []string      `json:"taken_off"`
	Total    measure.Money `json:"total_cents"`
}

// stagesOf writes the stages, which are none where they were not asked for.
func stagesOf(s *Stages) ([]stage, *yearsAhead) {
	if s == nil {
		return nil, nil
	}
	ahead := &yearsAhead{Asked: s.Asked.String(), Until: s.Until.String(), Total: s.Total}
	if s.Now != nil {
		ahead.Now = &unchanged{s.Now.Build.AddOns, s.Now.Build.TakenOff, s.Now.Total}
	}
	if s.Unproved {
		ahead.Unproved = &unproved{&s.Cheaper}
	}
	list := make([]stage, len(s.List))
	for i := range s.List {
		one := &s.List[i]
		list[i] = stage{From: one.From.String(), To: one.To.String(), AddOns: one.Build.AddOns, Off: one.Build.TakenOff, Bought: one.Bought,
			PutOn: one.PutOn, TakenOff: one.TakenOff, Seating: []stageSeat{}, Price: one.Price, Labour: one.Labour, Due: one.Due()}
		for _, at := range one.Seated {
			list[i].Seating = append(list[i].Seating, stageSeat{Seat: at.Seat})
		}
		for _, at := range one.Joining {
			list[i].Seating = append(list[i].Seating, stageSeat{at.Seat, &at.On})
		}
	}
	return list, ahead
}

// monthOf writes the month of a horizon, null where it has none.
func monthOf(h *fitting.Horizon) *string {
	if h == nil || !h.Ends {
		return nil
	}
	month := h.Month.String()
	return &month
}
