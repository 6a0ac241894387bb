package recheck

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// What is said of a frame that does not fit, by asking again: the change makes
// it fit, one unit less does not, and none of the changes before it does.

// again asks about one frame, with the profile changed.
func (a *asked) again(t *testing.T, code string, change func(who document)) *match {
	t.Helper()
	shop, who := cloned(a.wares), cloned(a.who)
	frames := shop["frames"].([]any)
	keep(shop, slices.DeleteFunc(frames, func(f any) bool { return f.(document)["code"] != code }))
	change(who)
	wares, _ := json.Marshal(shop)
	person, _ := json.Marshal(who)
	data, err := ask(wares, person, false)
	if err != nil {
		return nil // no customer any more: nobody rides, or no rider is known
	}
	m, err := read[matches](data, true)
	if err != nil || len(m.Matches) != 1 {
		t.Fatal(err, string(data))
	}
	return &m.Matches[0]
}

// fits reports whether the frame fits a changed customer.
func (a *asked) fits(t *testing.T, code string, change func(who document)) bool {
	m := a.again(t, code, change)
	return m != nil && m.Verdict != "does_not_fit"
}

func without(list []string) func(document) {
	return func(who document) {
		for _, name := range list {
			delete(who, strings.Replace(name, "pet", "pet_kg", 1))
		}
	}
}

// relaxed checks what a build leaves out: with all of it left out nothing is
// in the way, and with one less something is.
func (r *recheck) relaxed(t *testing.T, a *asked) {
	left := r.match.Relaxed
	order := []string{"home", "cargo_litres", "cargo_kg", "pet", "passengers"}
	asks := map[string]bool{"home": r.profile.Home.given, "cargo_litres": r.profile.Litres.value > 0, "cargo_kg": r.profile.Cargo.value > 0,
		"pet": r.profile.Pet.value > 0, "passengers": len(r.profile.Passengers.value) > 0}
	want := slices.DeleteFunc(slices.Clone(order), func(what string) bool { return !asks[what] })
	if len(left) > len(want) || !slices.Equal(left, want[:len(left)]) {
		r.complain("left out are %v, of %v", left, want)
		return
	}
	if len(left) == 0 {
		return
	}
	if len(r.searched) == 0 {
		r.complain("%v left out for no reason", left)
	}
	if m := a.again(t, r.match.Frame, without(left[:len(left)-1])); m == nil || len(m.Relaxed) == 0 || m.Relaxed[0] != left[len(left)-1] {
		r.complain("%v need not be left out: %+v", left, m)
	}
	if m := a.again(t, r.match.Frame, without(left)); m != nil && len(left) < len(want) && len(m.Relaxed) > 0 {
		r.complain("without %v it leaves out %v besides", left, m.Relaxed)
	}
}

// try is one kind of change, at its most, and by a figure.
type try struct {
	kind string
	most []func(who document) // each may make it fit
}

func homeOf(who document) document {
	h, _ := who["home"].(document)
	return h
}

// figures of a home that grow, where they are stated.
func grow(doc document, names []string, by float64) {
	for _, name := range names {
		if f := figureOf(doc, name); f > 0 {
			doc[name] = tidy(f + by)
		}
	}
}

func widen(doc document, names []string, to float64) {
	for _, name := range names {
		if f := figureOf(doc, name); f > 0 {
			doc[name] = tidy(max(f, to))
		}
	}
}

func cut(who document, list string, i int) {
	who[list] = slices.Delete(who[list].([]any), i, i+1)
}

var (
	spaceNames = []string{"length_cm", "width_cm", "height_cm"}
	liftNames  = []string{"length_cm", "width_cm", "height_cm", "door_cm"}
	legNames   = []string{"in_cm", "out_cm"}
)

// tries lists the changes in their order, each as far as it may go.
func (a *asked) tries() []try {
	set := func(name string, value any) []func(document) {
		if figureOf(a.who, name) == 0 {
			return nil
		}
		return []func(document){func(who document) { who[name] = value }}
	}
	h := homeOf(a.who)
	var doors, corners, space, lift, flat, riders, passengers, budget []func(document)
	for i, o := range listOf(h, "doorways") {
		if figureOf(o, "width_cm") > 0 {
			doors = append(doors, func(who document) { listOf(homeOf(who), "doorways")[i]["width_cm"] = 500.0 })
		}
	}
	for i := range listOf(h, "corners") {
		corners = append(corners, func(who document) { widen(listOf(homeOf(who), "corners")[i], legNames, 1000) })
	}
	if h != nil {
		space = append(space, func(who document) { grow(homeOf(who), spaceNames, 1500) })
		if h["must_stand_upright"] == true {
			flat = append(flat, func(who document) { homeOf(who)["must_stand_upright"] = false })
		}
		if _, ok := h["lift"].(document); ok {
			lift = append(lift, func(who document) { grow(homeOf(who)["lift"].(document), liftNames, 600) })
		}
	}
	if n := len(listOf(a.who, "riders")); n > 1 {
		for i := range n {
			riders = append(riders, func(who document) { cut(who, "riders", i) })
		}
	}
	for i := range listOf(a.who, "passengers") {
		passengers = append(passengers, func(who document) { cut(who, "passengers", i) })
	}
	if a.who["budget_firm"] == true {
		budget = set("budget_cents", 99_999_999)
	}
	return []try{{"less_cargo", set("cargo_kg", 0)}, {"fewer_litres", set("cargo_litres", 0)}, {"lying_flat", flat}, {"wider_doorway", doors},
		{"wider_corner", corners}, {"larger_space", space}, {"larger_lift", lift}, {"without_pet", set("pet_kg", 0)}, {"wait_until", nil},
		{"without_rider", riders}, {"without_passenger", passengers}, {"more_budget", budget}}
}

// wouldFit checks the change that is said to help, and that none before it
// does; or that none does.
func (r *recheck) wouldFit(t *testing.T, a *asked) {
	c := r.match.Change
	for _, kind := range a.tries() {
		if c != nil && c.Change == kind.kind {
			r.exactly(t, a, c)
			return
		}
		for _, change := range kind.most {
			if a.fits(t, r.match.Frame, change) {
				r.complain("%s makes it fit, but said is %+v", kind.kind, c)
				return
			}
		}
	}
	if c != nil {
		r.complain("%s is none of the changes", c.Change)
	}
}

// exactly checks a change: by its figure it fits, and by a unit less it does
// not.
func (r *recheck) exactly(t *testing.T, a *asked, c *change) {
	if c.Text == "" || strings.Contains(c.Text, "%!") {
		r.complain("a change without words")
	}
	enough, short := a.made(c, 0), a.made(c, 1)
	if enough == nil {
		return
	}
	if !a.fits(t, r.match.Frame, enough) {
		r.complain("%+v does not make it fit", *c)
	}
	if short != nil && a.fits(t, r.match.Frame, short) {
		r.complain("less than %+v makes it fit too", *c)
	}
}

// made makes a change less so many units; nil where it has no units, or where
// the day that is asked about cannot be put into a profile.
func (a *asked) made(c *change, less float64) func(who document) {
	index := func(part string) int {
		_, rest, _ := strings.Cut(part, "[")
		return int(rest[0] - '0')
	}
	unitless := map[string]func(document){
		"lying_flat":  func(who document) { homeOf(who)["must_stand_upright"] = false },
		"without_pet": func(who document) { delete(who, "pet_kg") },
		"without_rider": func(who document) {
			cut(who, "riders", slices.IndexFunc(listOf(who, "riders"), func(r document) bool { return r["label"] == c.Rider }))
		},
		"without_passenger": func(who document) {
			cut(who, "passengers", slices.IndexFunc(listOf(who, "passengers"), func(r document) bool { return r["label"] == c.Passenger }))
		},
	}
	if change, ok := unitless[c.Change]; ok {
		if less > 0 {
			return nil
		}
		return change
	}
	switch c.Change {
	case "less_cargo":
		return func(who document) { who["cargo_kg"] = float64(*c.Kg)/1000 + less/1000 }
	case "fewer_litres":
		return func(who document) { who["cargo_litres"] = float64(*c.Litres)/1000 + less/1000 }
	case "wider_doorway":
		return func(who document) {
			listOf(homeOf(who), "doorways")[index(c.Part)]["width_cm"] = tidy(float64(c.To)/10 - less/10)
		}
	case "wider_corner":
		return func(who document) {
			widen(listOf(homeOf(who), "corners")[index(c.Part)], legNames, float64(c.To)/10-less/10)
		}
	case "larger_space":
		return func(who document) { grow(homeOf(who), spaceNames, float64(c.By)/10-less/10) }
	case "larger_lift":
		return func(who document) { grow(homeOf(who)["lift"].(document), liftNames, float64(c.By)/10-less/10) }
	case "more_budget":
		return func(who document) { who["budget_cents"] = c.Cents - int64(less) }
	}
	return a.waiting(c, int(less))
}

// waiting is the same customer on a later day. What a child weighs was read
// today: then the day cannot be put into a profile.
func (a *asked) waiting(c *change, less int) func(who document) {
	for _, p := range a.profile.Passengers.value {
		if p.Weight.given || p.Stature.given {
			return nil
		}
	}
	day := dayOf(c.Day).AddDate(0, 0, -less).Format("2006-01-02")
	if day < a.profile.AsOf {
		return nil
	}
	return func(who document) { who["as_of"] = day }
}
