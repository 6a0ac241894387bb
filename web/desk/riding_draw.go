package desk

import (
	"fmt"

	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// notStated is said for a figure that the maker leaves out.
const notStated = "not stated"

// rideView says how the build rides.
func rideView(v *talk.Viewer) Riding {
	view := Riding{Gears: gearWords(v), Hill: hillWords(v), Pace: ride.Pace.Show(v.System()), Climbs: climbs(v), Saddles: saddles(v),
		Ground: groundWords(v)}
	if heaviest := heaviest(v); heaviest != nil {
		view.Tyres, view.TyresFor = tyres(v, heaviest)
		view.Ballast = ballast(v, heaviest)
	}
	return view
}

// groundWords says what the climbs rest on.
func groundWords(v *talk.Viewer) string {
	text := "An effort of " + ride.Effort.Show() + " is what a rider in everyday health keeps up for some minutes; wind, ruts and soft tyres slow it further."
	if v.Frame.AssistWatts > 0 {
		text += " A motor gives less when it is hot or turned slowly, and nothing on an empty battery."
	}
	return text + " All of this is a starting point."
}

// heaviest returns the load sheet with the largest sum, nil where there is
// none.
func heaviest(v *talk.Viewer) *load.Sheet {
	var most *load.Sheet
	for i := range v.Sheets {
		if most == nil || v.Sheets[i].Total > most.Total {
			most = &v.Sheets[i]
		}
	}
	return most
}

func gearWords(v *talk.Viewer) string {
	g, stated := ride.GearsOf(v.Frame)
	if !stated {
		return "The maker states too little about the gears to say how far they reach."
	}
	s := v.System()
	low := ride.ShowRolled(g.Development(g.Lowest), s)
	if g.Single() {
		return fmt.Sprintf("One gear, %d × %d: %s for every turn of the cranks.", g.Lowest.Chainring, g.Lowest.Sprocket, low)
	}
	return fmt.Sprintf("From %s to %s for every turn of the cranks, a range of %v %%. The lowest gear is %d × %d.",
		low, ride.ShowRolled(g.Development(g.Highest), s), int64(g.Range()/measure.Percent), g.Lowest.Chainring, g.Lowest.Sprocket)
}

// hillWords says what the climbs are worked out with.
func hillWords(v *talk.Viewer) string {
	slope, asked := v.Profile.Hill.Get()
	switch {
	case !asked || slope == 0:
		return "No hill on the way is known, so none is worked out. The profile asks for the steepest one."
	case len(v.Sheets) == 0:
		return "No rider’s weight is known yet, so no hill can be worked out."
	}
	power := ride.Effort.Show() + " at the pedals"
	if v.Frame.AssistWatts > 0 {
		power += fmt.Sprintf(" and the %d W that the maker states for the motor", v.Frame.AssistWatts)
	} else {
		power += " and no motor, as the maker states none"
	}
	return fmt.Sprintf("The %v hill with all on board, with %s:", slope, power)
}

func climbs(v *talk.Viewer) []Climb {
	slope, asked := v.Profile.Hill.Get()
	if !asked || slope == 0 {
		return nil
	}
	var climbs []Climb
	for i := range v.Sheets {
		sh := &v.Sheets[i]
		c := ride.ClimbOf(v.Frame, sh.Total, slope)
		climbs = append(climbs, Climb{
			Rider: sh.Rider.Label, Speed: c.Speed.Show(v.System()),
			Cadence: cadenceWords(c), Needed: neededWords(c), Words: outcome(v, c), Hard: c.Outcome != ride.Rides,
		})
	}
	return climbs
}

// neededWords says what the rider adds to keep a walking pace.
func neededWords(c ride.Climb) string {
	if c.Needed == 0 {
		return "only the motor’s"
	}
	return c.Needed.Show()
}

func cadenceWords(c ride.Climb) string {
	if c.Cadence == 0 {
		return notStated
	}
	return fmt.Sprintf("%.0f rpm", c.Cadence)
}

// outcome says how a climb goes, and what would help.
func outcome(v *talk.Viewer, c ride.Climb) string {
	pace := ride.Pace.Show(v.System())
	switch c.Outcome {
	case ride.TooSteep:
		return fmt.Sprintf("Slower than a walk: below %s a laden bike is hard to balance. Push it, carry less, or take a motor.", pace)
	case ride.TooTall:
		return fmt.Sprintf("The lowest gear is too tall: under %d turns a minute strains the knees. Ask a mechanic for a lower gear.", ride.CadenceFloor)
	case ride.GearUnknown:
		return "Whether the lowest gear is low enough is not known: try it."
	}
	return "The lowest gear is low enough."
}

func saddles(v *talk.Viewer) []kit.Amount {
	var saddles []kit.Amount
	for i := range v.Profile.Riders {
		r := &v.Profile.Riders[i]
		if inseam, ok := r.Inseam.Get(); ok {
			saddles = append(saddles, kit.Amount{Label: "Rider " + r.Label, Amount: ride.Saddle(inseam).Show(v.System(), measure.Nearest)})
		}
	}
	return saddles
}

// tyres lists what the tyres start from under the heaviest load.
func tyres(v *talk.Viewer, sh *load.Sheet) (tyres []Tyre, under string) {
	for _, t := range ride.TyresOf(v.Frame, sh) {
		view := Tyre{Wheel: say.Capital(t.Axle), Size: t.Size, Load: t.Load.Show(v.System(), measure.Nearest), Start: "ask the maker"}
		if t.Stated {
			view.Start = t.Start.Show(v.System())
		}
		tyres = append(tyres, view)
	}
	return tyres, sh.Rider.Label
}

func ballast(v *talk.Viewer, sh *load.Sheet) []Ballast {
	var rows []Ballast
	for _, b := range ride.BallastOf(v.Frame, sh) {
		row := Ballast{Zone: say.Capital(v.ZoneLabel(b.Zone)), HalfBottles: bottles(b.Half), FullBottles: bottles(b.Full)}
		row.Half, row.Full = b.Half.Show(v.System(), measure.Down), b.Full.Show(v.System(), measure.Down)
		rows = append(rows, row)
	}
	return rows
}

// bottles says how many bottles of water a ballast is, at most.
func bottles(m measure.Mass) string {
	if ride.Bottles(m) == 0 {
		return ""
	}
	return say.Counted(ride.Bottles(m), "bottle", "bottles")
}
