package recheck

import (
	"slices"
	"strconv"
	"time"
)

// The years ahead: the band around the horizon, and the stages.

type stage struct {
	From, To string
	AddOns   []string `json:"add_ons"`
	Off      []string
	Bought   []string
	PutOn    []string `json:"put_on"`
	TakenOff []string `json:"taken_off"`
	Seating  []struct {
		Passenger string
		AddOn     string `json:"add_on"`
		Place     int
		Joins     string
	}
	Price  int64 `json:"price_cents"`
	Labour int64 `json:"labour_cents"`
	Due    int64 `json:"due_cents"`
}

type ahead struct {
	Asked string `json:"asked_until"`
	Until string
	Total int64 `json:"total_cents"`
	Now   *struct {
		AddOns   []string `json:"add_ons"`
		TakenOff []string `json:"taken_off"`
		Total    int64    `json:"total_cents"`
	} `json:"buying_now"`
}

// paces are the percentiles by which children grow where no scale read them,
// and how far off their own z-score they do where it did.
var paces = map[string]struct{ z, apart float64 }{
	"":     {0.6744897501960817, 0},
	"fast": {1.6448536269514722, 0.67},
	"slow": {-0.6744897501960817, -0.67},
}

// lastMonth counts a month that is said from that of the profile; beyond the
// last that is looked at where none is.
func (r *recheck) lastMonth(said *string) int {
	if said == nil {
		return 121
	}
	return monthsBetween(r.asOf, dayOf(*said))
}

// band holds both ends: those of children who grow fast and slowly, in order
// with the horizon; lighter children may be harder to carry, where they hold
// down an axle. Of the months before an end only some are looked at.
func (r *recheck) band() {
	m := r.match
	early, horizon, late := r.lastMonth(m.Early), r.lastMonth(m.Horizon), r.lastMonth(m.Late)
	if r.stops() > 0 || m.Verdict == "not_judged" {
		if m.Early != nil || m.Late != nil {
			r.complain("a band of a frame that does not fit")
		}
		return
	}
	if early > horizon || horizon > late {
		r.complain("the horizon %s is not between %s and %s", text(m.Horizon), text(m.Early), text(m.Late))
	}
	holds := func(pace string, month int, bump grams) bool {
		paced := *r
		paced.pace = pace
		return month < 0 || month > 120 || paced.holds(paced.monthEnd(month), "", bump)
	}
	for _, n := range []int{0, early / 2, early} {
		if n <= min(early, 120) && !(holds("fast", n, -playing) && holds("slow", n, -playing)) {
			r.complain("it is outgrown in month %d, before %s", n, text(m.Early))
		}
	}
	if early < horizon && holds("fast", early+1, playing) && holds("slow", early+1, playing) {
		r.complain("it is not outgrown a month after %s", text(m.Early))
	}
	for _, n := range []int{0, late / 2, late} {
		if late > horizon && n <= 120 && !holds("slow", n, -playing) && !holds("fast", n, -playing) {
			r.complain("it is outgrown in month %d, before %s", n, text(m.Late))
		}
	}
	if late < 120 && (r.steady("slow", late+1) || r.steady("fast", late+1)) {
		r.complain("it is not outgrown a month after %s", text(m.Late))
	}
}

// steady reports whether the build lasts beyond a month with children who grow
// so.
func (r *recheck) steady(pace string, month int) bool {
	paced := *r
	paced.pace = pace
	for n := month; n >= 0; n-- { // the last is the likeliest not to hold
		if !paced.holds(paced.monthEnd(n), "", playing) {
			return false
		}
	}
	return true
}

// stages adds up what is bought and done from stage to stage, and holds each
// against who rides along in its months.
func (r *recheck) stages() {
	if r.match.Ahead == nil {
		if len(r.match.Stages) > 0 {
			r.complain("stages of nothing")
		}
		return
	}
	a, on, owned := r.match.Ahead, r.frame.ComesWith, slices.Clone(r.frame.ComesWith)
	total, from := r.frame.Price, r.asOf.Format("2006-01")
	for i := range r.match.Stages {
		s := &r.match.Stages[i]
		if s.From != from {
			r.complain("stage %d from %s, but %s", i, s.From, from)
		}
		from = monthsOn(dayOf(s.To), 1).Format("2006-01")
		now := r.fittedWith(s.AddOns, s.Off)
		putOn, takenOff, bought := beyond(now, on), beyond(on, now), beyond(now, owned)
		if !slices.Equal(putOn, s.PutOn) || !slices.Equal(takenOff, s.TakenOff) || !slices.Equal(bought, s.Bought) {
			r.complain("stage %d: %v bought, %v on, %v off, but %v, %v, %v", i, s.Bought, s.PutOn, s.TakenOff, bought, putOn, takenOff)
		}
		price, labour := r.dueFor(bought, putOn, beyond(on, now))
		if price != s.Price || labour != s.Labour || s.Due != price+labour {
			r.complain("stage %d: %d and %d, but %d and %d", i, s.Price, s.Labour, price, labour)
		}
		owned, on, total = append(owned, bought...), now, total+s.Due
		r.serves(s)
	}
	if n := len(r.match.Stages); n == 0 || r.match.Stages[n-1].To != a.Until || a.Until > a.Asked {
		r.complain("stages until %s of %s", a.Until, a.Asked)
	}
	if asked := monthsOn(dayOf(r.asOf.Format("2006-01")), 12*r.profile.Years.value-1).Format("2006-01"); asked != a.Asked {
		r.complain("asked until %s, but %s", a.Asked, asked)
	}
	if total != a.Total || a.Now != nil && a.Now.Total < total {
		r.complain("stages for %d, but %d; buying now %+v", a.Total, total, a.Now)
	}
	if a.Now != nil {
		price, labour := r.dueFor(a.Now.AddOns, a.Now.AddOns, a.Now.TakenOff)
		if r.frame.Price+price+labour != a.Now.Total {
			r.complain("buying now for %d, but %d", a.Now.Total, r.frame.Price+price+labour)
		}
		r.serves(&stage{From: r.asOf.Format("2006-01"), To: a.Until, AddOns: a.Now.AddOns, Off: a.Now.TakenOff})
	}
}

// beyond returns what one list has more than another, sorted.
func beyond(list, other []string) []string {
	rest := slices.Clone(other)
	more := []string{}
	for _, code := range list {
		if i := slices.Index(rest, code); i >= 0 {
			rest = slices.Delete(rest, i, i+1)
		} else {
			more = append(more, code)
		}
	}
	slices.Sort(more)
	return more
}

// dueFor is the price of what is bought, and the labour of what is put on and,
// of what came with the frame, taken off.
func (r *recheck) dueFor(bought, putOn, takenOff []string) (price, labour int64) {
	came := slices.Clone(r.frame.ComesWith)
	for _, code := range takenOff {
		// More of a kind may come off than came; only those that came are paid for.
		if i := slices.Index(came, code); i >= 0 {
			came = slices.Delete(came, i, i+1)
			labour += r.work(code)
		}
	}
	for _, code := range putOn {
		labour += r.work(code)
	}
	for _, code := range bought {
		price += r.addOn(code).Price
	}
	return price, labour
}

func (r *recheck) work(code string) int64 {
	minutes := int64(r.addOn(code).Minutes) * r.catalogue.Shop.Labour
	return (minutes + 30) / 60
}

// serves holds the build of a stage against who rides along on the first and
// the last day of each of its months.
func (r *recheck) serves(s *stage) {
	other := *r.match
	other.Build.AddOns, other.Build.TakenOff, other.Build.Seating, other.Build.Cargo, other.Build.Pet = s.AddOns, s.Off, nil, nil, ""
	o := &recheck{catalogue: r.catalogue, profile: r.profile, frame: r.frame, match: &other, asOf: r.asOf, joined: true}
	o.together(o.heres())
	for month := dayOf(s.From); !month.After(dayOf(s.To)); month = monthsOn(month, 1) {
		first := month
		if first.Before(r.asOf) {
			first = r.asOf
		}
		for _, day := range [...]time.Time{first, lastOf(month)} {
			if !o.holds(day, "", -playing) {
				o.complain("stage of %s does not hold on %s", s.From, day.Format("2006-01-02"))
			}
		}
	}
	for i, at := range s.Seating {
		if !slices.ContainsFunc(r.profile.Passengers.value, func(p passenger) bool { return p.Label == at.Passenger }) {
			o.complain("seat %s of %q", strconv.Itoa(i), at.Passenger)
		}
	}
	r.complaints = append(r.complaints, o.complaints...)
}
