package catalog

import (
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// checker collects the faults of one document.
type checker struct {
	problem.List
	frames  map[string]*indexed
	addOns  map[string]*AddOn
	frame   *indexed // that is checked; nil beside the frames
	names   seen     // in the list that is checked
	serials seen     // of units, behind their frames
	today   measure.Date

	states func(figure string) bool // the thing that is checked
}

// Check returns every fault of meaning in the catalogue, in the order of the
// document. The error is a problem.List.
func (c *Catalogue) Check() error { return c.CheckOn(measure.Date{}) }

// CheckOn is Check on a day, after which nothing may have been read or weighed;
// the zero Date is any day.
func (c *Catalogue) CheckOn(today measure.Date) error {
	k := &checker{frames: map[string]*indexed{}, addOns: map[string]*AddOn{}, today: today}
	frames := make([]*indexed, len(c.Frames))
	for i := range c.Frames {
		frames[i] = index(&c.Frames[i])
		k.frames[c.Frames[i].Code] = frames[i]
	}
	for i := range c.AddOns {
		k.addOns[c.AddOns[i].Code] = &c.AddOns[i]
	}
	if c.Version != 1 {
		k.Add("catalogue", problem.OutOfRange, "this is version %d of the format; version 1 is read here", c.Version)
	}
	before := len(k.List)
	k.fields(shopFields, &c.Shop)
	k.under(before, func() string { return "shop" })
	codes := seen{}
	for i, f := range frames {
		k.frame = f
		k.thing(codes, "frames", i, f.Code, frameFields, f.Frame)
	}
	k.frame, codes = nil, seen{}
	for i := range c.AddOns {
		k.thing(codes, "add_ons", i, c.AddOns[i].Code, addOnFields, &c.AddOns[i])
	}
	codes, k.serials = seen{}, seen{}
	for i := range c.Units {
		k.thing(codes, "units", i, c.Units[i].Tag, unitFields, &c.Units[i])
	}
	return k.Err()
}

// CheckAfter is Check of a catalogue that takes the place of another one. A
// thing that was there before just as it is keeps the faults that it had: rules
// come later than stored catalogues, and whoever changes one thing must not
// have to mend all others first.
func (c *Catalogue) CheckAfter(before *Catalogue, today measure.Date) error {
	faults, _ := c.CheckOn(today).(problem.List)
	if len(faults) == 0 {
		return nil
	}
	known, _ := before.CheckOn(today).(problem.List)
	kept := map[string]bool{}
	before.eachFault(known, func(p problem.Problem, list string, t Thing, rest string) {
		kept[list+" "+t.Code+rest+" "+p.Text] = true
	})
	var left problem.List
	c.eachFault(faults, func(p problem.Problem, list string, t Thing, rest string) {
		same := slices.ContainsFunc(before.Things(list), func(old Thing) bool { return old.Code == t.Code && reflect.DeepEqual(old.Of, t.Of) })
		if !same || !kept[list+" "+t.Code+rest+" "+p.Text] {
			left = append(left, p)
		}
	})
	return left.Err()
}

// eachFault visits faults with the thing that each is in, and its path there;
// a fault of the document itself is in none.
func (c *Catalogue) eachFault(faults problem.List, visit func(p problem.Problem, list string, t Thing, rest string)) {
	for _, p := range faults {
		list, rest, _ := strings.Cut(p.Path, "[")
		number, rest, _ := strings.Cut(rest, "]")
		var t Thing
		if i, err := strconv.Atoi(number); err == nil && i < len(c.Things(list)) {
			t = c.Things(list)[i]
		}
		visit(p, list, t, rest)
	}
}

// thing checks the ith thing of a list. The first of its fields is the code
// that no other has.
func (k *checker) thing(codes seen, list string, i int, code string, fields []Field, thing any) {
	before := len(k.List)
	k.states = statedBy(list, thing)
	if codes.again(code) && code != "" {
		k.Add(fields[0].Name, problem.Duplicate, "%q is used twice; every one needs its own", code)
	}
	k.fields(fields, thing)
	k.under(before, func() string { return problem.Index(list, i) })
}

// statedBy tells of figures whether a thing states them. They are looked up
// when they are first asked for: of most things nobody asks.
func statedBy(list string, thing any) func(figure string) bool {
	var figures map[string]any
	return func(figure string) bool {
		if figures == nil {
			figures = figuresBy(list, thing)
		}
		_, is := figures[figure]
		return is
	}
}

func aboveItsOwnWeight(k *checker, path string, f *Frame) {
	if f.GrossRating > 0 && f.GrossRating <= f.BareWeight {
		k.Add(path, problem.Conflict, "the gross rating of %v is not above the bare weight of %v", f.GrossRating, f.BareWeight)
	}
}

func tallerThanTheShortest(k *checker, path string, f *Frame) {
	if f.RiderMin > 0 && f.RiderMax > 0 && f.RiderMin >= f.RiderMax {
		k.Add(path, problem.Conflict, "the tallest rider must be taller than the shortest, %v", f.RiderMin)
	}
}

func notBelowTheLowest(k *checker, path string, f *Frame) {
	if f.SaddleMin > 0 && f.SaddleMax > 0 && f.SaddleMin > f.SaddleMax {
		k.Add(path, problem.Conflict, "the highest saddle must not be below the lowest, %v", f.SaddleMin)
	}
}

func oneZoneAtLeast(k *checker, path string, f *Frame) {
	if len(f.Zones) == 0 {
		k.Add(path, problem.Missing, "at least one zone is needed")
	}
}

// together checks the zones of a combined rating.
func together(k *checker, path string, c *Combined) {
	if len(c.Zones) < 2 {
		k.Add(path, problem.Missing, "a combined rating is over two zones or more")
	}
	codes := seen{}
	for i, zone := range c.Zones {
		switch p := problem.Index(path, i); {
		case !k.frame.zones[zone]:
			k.Add(p, problem.NotFound, "this frame has no zone %q", zone)
		case codes.again(zone):
			k.Add(p, problem.Duplicate, "the zone %q is named twice", zone)
		}
	}
}

func whereItLies(k *checker, path string, p *Place) {
	switch {
	case k.frame == nil && p.Zone != "":
		k.Add(path, problem.Conflict, "an add-on's place lies in the zone of the add-on; leave this out")
	case k.frame != nil && !k.frame.zones[p.Zone]:
		k.Add(path, problem.NotFound, "a frame's own place lies in one of its zones; %q is none", p.Zone)
	}
}

func saysFromWhen(k *checker, path string, p *Place) {
	switch {
	case p.MinMonths > 0:
	case p.Kind == harnessed:
		k.Add(path, problem.Missing, "a harnessed place states the least age, in months")
	case p.Unlimited():
		k.Add(path, problem.Missing, "a place states the least age, in months, or the greatest weight; without both it would take anybody")
	}
}

// harnessed is the kind of place that states whom it takes.
const harnessed = "harnessed"

// comesWith checks that the parts a frame is delivered with can be on it
// together: the solver starts from that state.
func comesWith(k *checker, path string, _ *Frame) {
	f := k.frame
	k.apart(path, f)
	used, count := map[string]int{}, map[string]int{}
	for i, code := range f.ComesWith {
		p := problem.Index(path, i)
		a := k.addOns[code]
		if a == nil {
			k.Add(p, problem.NotFound, "there is no add-on %q", code)
			continue
		}
		if count[code]++; count[code] > a.Most() {
			k.Add(p, problem.Conflict, "%q can be fitted %d times at most", code, a.Most())
		}
		if a.Zone != "" && !f.zones[a.Zone] {
			k.Add(p, problem.NotFound, "%q sits in the zone %q, which this frame does not have", code, a.Zone)
		}
		for _, u := range a.Uses {
			if used[u.Mount] += u.Count; used[u.Mount] > f.mounts[u.Mount] {
				k.Add(p, problem.Conflict, "%q does not find room on the mount %q", code, u.Mount)
			}
		}
	}
}

// apart checks that no two delivered parts exclude each other.
func (k *checker) apart(path string, f *indexed) {
	for i, code := range f.ComesWith {
		a := k.addOns[code]
		if a == nil {
			continue
		}
		for _, other := range a.Excludes {
			if f.delivered[other] {
				k.Add(problem.Index(path, i), problem.Conflict, "%q and %q exclude each other and cannot both come with the frame", code, other)
			}
		}
	}
}

func carriesInAZone(k *checker, path string, a *AddOn) {
	if a.Zone == "" && (len(a.Places) > 0 || a.Cargo > 0 || a.Pet > 0) {
		k.Add(path, problem.Missing, "what carries somebody or something lies in a zone")
	}
}

func displacesInAZone(k *checker, path string, a *AddOn) {
	if a.Zone == "" && (a.DisplacesCargo > 0 || a.DisplacesVolume > 0) {
		k.Add(path, problem.Conflict, "what is in no zone takes none of a zone's room")
	}
}

func onlyBesideZones(k *checker, path string, a *AddOn) {
	if a.Zone != "" && a.Ahead != 0 {
		k.Add(path, problem.Conflict, "what is in a zone sits where the zone does; leave this out")
	}
}

func excludes(k *checker, path string, a *AddOn) {
	for i, code := range a.Excludes {
		p := problem.Index(path, i)
		switch {
		case code == a.Code:
			k.Add(p, problem.Conflict, "an add-on cannot exclude itself; up_to says how many fit")
		case k.addOns[code] == nil:
			k.Add(p, problem.NotFound, "there is no add-on %q", code)
		}
	}
}

func fits(k *checker, path string, a *AddOn) {
	codes := seen{}
	for i, code := range a.Fits {
		f := k.frames[code]
		p := func() string { return problem.Index(path, i) }
		switch {
		case f == nil:
			k.Add(p(), problem.NotFound, "there is no frame %q", code)
			continue
		case codes.again(code):
			k.Add(p(), problem.Duplicate, "the frame %q is named twice", code)
		case a.Zone != "" && !f.zones[a.Zone]:
			k.Add(p(), problem.NotFound, "the frame %q has no zone %q", code, a.Zone)
		}
		for _, u := range a.Uses {
			if f.mounts[u.Mount] < u.Count {
				k.Add(p(), problem.Conflict, "the frame %q has no mount %q with room for %d", code, u.Mount, u.Count)
			}
		}
	}
}

func pairs(k *checker, path string, a *AddOn) {
	if len(a.OnFrame) == 0 {
		return
	}
	fits := seen{}
	for _, code := range a.Fits {
		fits[code] = true
	}
	for _, code := range slices.Sorted(maps.Keys(a.OnFrame)) {
		before, pair, f := len(k.List), a.OnFrame[code], k.frames[code]
		if f == nil || !fits[code] && !f.delivered[a.Code] {
			k.Add("", problem.NotFound, "this add-on neither fits a frame %q nor comes with one", code)
		}
		k.fields(pairFields, &pair)
		k.under(before, func() string { return problem.Join(path, code) })
	}
}

// limit checks a weight that a place takes: a harnessed one states both.
func limit(k *checker, path string, p *Place, figure, most measure.Mass) {
	if p.Kind == harnessed {
		problem.Required(&k.List, path, figure, 1*kg, 150*kg)
		return
	}
	problem.Within(&k.List, path, figure, 0, most)
}

func (k *checker) tags(path string, tags []string) {
	for i, tag := range tags {
		p := problem.Index(path, i)
		aCode.check(k, p, tag)
		if k.addOns[tag] != nil {
			k.Add(p, problem.Conflict, "%q is the code of an add-on; a tag needs a name of its own", tag)
		}
	}
}

func (k *checker) needs(path string, groups [][]string) {
	for i, group := range groups {
		p := problem.Index(path, i)
		if len(group) == 0 {
			k.Add(p, problem.Missing, "a group names at least one add-on or tag")
		}
		for j, member := range group {
			aCode.check(k, problem.Index(p, j), member)
		}
	}
}
