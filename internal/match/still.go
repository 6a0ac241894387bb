package match

import (
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Held is from when until when a stage that was told serves a family as it is
// by now. Both are zero where it serves in none of the months that are left
// for it.
type Held struct{ From, To measure.Month }

// Serves reports whether the stage serves at all.
func (h Held) Serves() bool { return h.From != 0 }

// Still goes through the stages of a plan as they were told, for a family as it
// is by now: each stage serves for as long as its own add-ons carry everyone,
// and the next begins when they no longer do. Stages that were over by the day
// of the profile are past, and zero as well; begins is the first that is not.
// Until is the last month that is served; nothing else is searched for.
func (r *Ready) Still(f *catalog.Frame, p *profile.Profile, s Settings, told *Stages) (held []Held, begins int, until measure.Month) {
	j := r.judge(p, s)
	whole := j.shelf.Problem(f, j.demand)
	month := j.demand.Day.InMonth()
	begins = slices.IndexFunc(told.List, func(one Stage) bool { return month <= one.To })
	if begins < 0 {
		begins = len(told.List)
	}
	held = make([]Held, len(told.List))
	for i := begins; i < len(told.List); i++ {
		only, _ := whole.Only(onBike(f, told.List[i].Build))
		if last := only.Through(month, told.Until); last >= month {
			held[i] = Held{month, last}
			month = last + 1
		}
	}
	return held, begins, month - 1
}

// onBike lists the codes of all that is on a frame with a build.
func onBike(f *catalog.Frame, b *fitting.Build) []string {
	on := slices.Clone(f.ComesWith)
	for _, code := range b.TakenOff {
		if at := slices.Index(on, code); at >= 0 {
			on = slices.Delete(on, at, at+1)
		}
	}
	return append(on, b.AddOns...)
}
