package recheck

import "slices"

// judge works a match out anew and returns what differs.
func (r *recheck) judge() []string {
	if slices.ContainsFunc(append(r.match.Build.AddOns, r.match.Build.TakenOff...), func(code string) bool { return r.addOn(code) == nil }) {
		return []string{"an add-on that is not in the catalogue"}
	}
	r.asOf = dayOf(r.profile.AsOf)
	r.riders, r.list, r.all = r.profile.weighed(), r.fitted(), r.things(r.asOf)
	r.sums = r.frame.sum(r.all)
	if r.match.Asked != nil {
		r.whole()
	} else if left := r.everything() - r.sums.carried; left != 0 {
		r.complain("%d g that were asked for are on no sheet", left)
	}
	r.sheets()
	r.limits()
	r.money()
	r.ofRiders()
	r.ofPassengers()
	r.ofLoad()
	r.ofMargin()
	r.ofRoad()
	r.ofMoneyAndHome()
	r.ofSilence()
	r.ofSources()
	r.ofTime()
	r.compareReasons()
	r.plausible()
	r.allowed()
	r.lasts()
	r.longer()
	r.band()
	r.stages()
	r.grade()
	return r.complaints
}
