package parking

import (
	"strconv"

	"kinwain/internal/measure"
)

// Check judges the bike against the whole home. It never fails: what a home
// does not state limits nothing.
//
// A larger home never turns a bike that fits into one that does not, nor does
// a smaller bike. The slack itself may drop in a larger home where a simpler
// pose becomes comfortable there.
func Check(b Bike, h Home) Fit {
	least, fit := obstacle{slack: unlimited}, Fit{NeedsUpright: h.MustStandUpright && !b.CanStand()}
	eachPassage(b, h, func(o obstacle) {
		if o.slack < least.slack {
			least = o
		}
		if o.how == Upright && o.slack >= 0 && fit.OnTail == "" {
			fit.OnTail = o.name()
		}
	})
	fit.WayFits = least.slack >= 0
	space := inSpace(b, h)
	fit.How = space.how
	fit.SpaceFits = !fit.NeedsUpright && space.slack >= 0
	if space.slack < least.slack {
		least = space
	}
	fit.Fits = fit.SpaceFits && fit.WayFits
	if least.slack < unlimited {
		fit.Constrained, fit.Slack, fit.Tightest = true, least.slack, least.name()
	}
	return fit
}

// Explain returns every part of the home that limits the bike, in the order of
// the way: doorways, corners, lift, space. Parts without a stated length are
// left out, and so is the space where the bike must stand upright but cannot.
// The least Slack among them is the Slack of Check.
func Explain(b Bike, h Home) []Part {
	var parts []Part
	list := func(o obstacle) {
		if o.slack < unlimited {
			parts = append(parts, Part{Name: o.name(), How: o.how, Slack: o.slack})
		}
	}
	eachPassage(b, h, list)
	list(inSpace(b, h))
	return parts
}

// obstacle is one part of a home as a bike meets it. Its name is composed only
// when it is asked for, since most obstacles are not the tightest.
type obstacle struct {
	kind  string
	index int // in its list, or -1 for a part that is there once
	how   How
	slack measure.Length // unlimited where no stated length limits the bike
}

func (o obstacle) name() string {
	if o.index < 0 {
		return o.kind
	}
	return o.kind + "[" + strconv.Itoa(o.index) + "]"
}

// eachPassage visits the parts of the way in order.
func eachPassage(b Bike, h Home, visit func(obstacle)) {
	for i, doorway := range h.Doorways {
		visit(pass(b, doorway, "doorways", i))
	}
	for i, corner := range h.Corners {
		visit(pass(b, corner, "corners", i))
	}
	if h.Lift != nil {
		visit(pass(b, *h.Lift, "lift", -1))
	}
}

// passage is a part of the way. slack says how much room it leaves to a bike
// of that outline in that pose, which is Flat or Upright.
type passage interface {
	slack(outline Box, pose How) measure.Length
}

// pass takes the bike through a passage on its wheels where that is
// comfortable, or else in the pose that leaves more room, on its wheels where
// both leave the same. Between two passages the bike may be put up or down
// again, so each is judged on its own.
func pass[P passage](b Bike, p P, kind string, index int) obstacle {
	o := obstacle{kind: kind, index: index, how: Flat, slack: limited(p.slack(b.Flat, Flat))}
	if o.slack < comfortable && b.CanStand() {
		if slack := limited(p.slack(b.Upright, Upright)); slack > o.slack {
			o.how, o.slack = Upright, slack
		}
	}
	return o
}

func (d Doorway) slack(outline Box, _ How) measure.Length {
	_, narrow := ordered(outline.Length, outline.Width)
	return min(open(d.Width)-narrow, open(d.Height)-outline.Height)
}

// slack of a corner: a bike on its wheels has to turn, because it must come
// out pointing along the next corridor. On end it is about as long as it is
// wide and may also be pushed round without turning, first along one corridor
// and then sideways along the other.
func (c Corner) slack(outline Box, pose How) measure.Length {
	slack := aroundCorner(outline.Length, outline.Width, open(c.In), open(c.Out))
	if pose == Upright {
		slack = max(slack, aligned(outline.Length, outline.Width, open(c.In), open(c.Out)))
	}
	return slack
}

// slack of a lift: the bike enters with its narrower side ahead and stands
// square to the walls of the car. An angle across the car would sometimes give
// a few centimetres more, but a car has one opening to come in through and
// somebody has to stand in there too, so that room is not counted.
func (l Lift) slack(outline Box, _ How) measure.Length {
	_, narrow := ordered(outline.Length, outline.Width)
	return min(
		open(l.Door)-narrow,
		aligned(outline.Length, outline.Width, open(l.Length), open(l.Width)),
		open(l.Height)-outline.Height,
	)
}

// inSpace parks the bike on its wheels or, where the home asks for it, on end.
// Where it must stand upright and cannot, the space is not measured.
func inSpace(b Bike, h Home) obstacle {
	clearance := max(h.Clearance, 0)
	room := Box{
		Length: open(h.Space.Length) - clearance,
		Width:  open(h.Space.Width) - clearance,
		Height: open(h.Space.Height),
	}
	space := obstacle{kind: "space", index: -1, how: Upright, slack: unlimited}
	switch {
	case !h.MustStandUpright:
		space.how, space.slack = simplest(b, room)
	case b.CanStand():
		space.slack = parked(b.Upright, room, turned)
	}
	return space
}

// simplest returns the simplest pose that is comfortable in the room, or else
// the one that leaves most, and its slack.
func simplest(b Bike, room Box) (How, measure.Length) {
	how, most := Flat, parked(b.Flat, room, aligned)
	if most < comfortable {
		if slack := parked(b.Flat, room, turned); slack > most {
			how, most = Turned, slack
		}
	}
	if most < comfortable && b.CanStand() {
		if slack := parked(b.Upright, room, turned); slack > most {
			how, most = Upright, slack
		}
	}
	return how, most
}

// parked returns the slack of an outline in a room, where place says how its
// footprint may lie on the floor: aligned or turned.
func parked(outline, room Box, place func(length, width, a, b measure.Length) measure.Length) measure.Length {
	floor := place(outline.Length, outline.Width, room.Length, room.Width)
	return limited(min(floor, room.Height-outline.Height))
}
