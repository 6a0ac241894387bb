package web

import (
	"fmt"

	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/ride"
	"kinwain/web/page"
)

// notStated is said for a figure that the maker leaves out.
const notStated = "not stated"

// rideView says how the build rides.
func (v *frameViewer) rideView() page.Riding {
	view := page.Riding{Gears: v.gearWords(), Hill: v.hillWords(), Pace: ride.Pace.Show(v.system()), Climbs: v.climbs(), Saddles: v.saddles(),
		Ground: v.groundWords()}
	if heaviest := v.heaviest(); heaviest != nil {
		view.Tyres, view.TyresFor = v.tyres(heaviest)
		view.Ballast = v.ballast(heaviest)
	}
	return view
}

// groundWords says what the climbs rest on.
func (v *frameViewer) groundWords() string {
	text := "An effort of " + ride.Effort.Show() + " is what a rider in everyday health keeps up for some minutes; wind, ruts and soft tyres slow it further."
	if v.Frame.AssistWatts > 0 {
		text += " A motor gives less when it is hot or turned slowly, and nothing on an empty battery."
	}
	return text + " All of this is a starting point."
}

// heaviest returns the load sheet with the largest sum, nil where there is
// none.
func (v *frameViewer) heaviest() *load.Sheet {
	var most *load.Sheet
	for i := range v.Sheets {
		if most == nil || v.Sheets[i].Total > most.Total {
			most = &v.Sheets[i]
		}
	}
	return most
}

func (v *frameViewer) gearWords() string {
	g, stated := ride.GearsOf(v.Frame)
	if !stated {
		return "The maker states too little about the gears to say how far they reach."
	}
	s := v.system()
	low := ride.ShowRolled(g.Development(g.Lowest), s)
	if g.Single() {
		return fmt.Sprintf("One gear, %d × %d: %s for every turn of the cranks.", g.Lowest.Chainring, g.Lowest.Sprocket, low)
	}
	return fmt.Sprintf("From %s to %s for every turn of the cranks, a range of %v %%. The lowest gear is %d × %d.",
		low, ride.ShowRolled(g.Development(g.Highest), s), int64(g.Range()/measure.Percent), g.Lowest.Chainring, g.Lowest.Sprocket)
}

// hillWords says what the climbs are worked out with.
func (v *frameViewer) hillWords() string {
	slope, asked := v.profile.Hill.Get()
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

func (v *frameViewer) climbs() []page.Climb {
	slope, asked := v.profile.Hill.Get()
	if !asked || slope == 0 {
		return nil
	}
	var climbs []page.Climb
	for i := range v.Sheets {
		sh := &v.Sheets[i]
		c := ride.ClimbOf(v.Frame, sh.Total, slope)
		climbs = append(climbs, page.Climb{
			Rider: sh.Rider.Label, Speed: c.Speed.Show(v.system()),
			Cadence: cadenceWords(c), Needed: neededWords(c), Words: v.outcome(c), Hard: c.Outcome != ride.Rides,
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
func (v *frameViewer) outcome(c ride.Climb) string {
	pace := ride.Pace.Show(v.system())
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

func (v *frameViewer) saddles() []page.Amount {
	var saddles []page.Amount
	for i := range v.profile.Riders {
		r := &v.profile.Riders[i]
		if inseam, ok := r.Inseam.Get(); ok {
			saddles = append(saddles, page.Amount{Label: "Rider " + r.Label, Amount: ride.Saddle(inseam).Show(v.system(), measure.Nearest)})
		}
	}
	return saddles
}

// tyres lists what the tyres start from under the heaviest load.
func (v *frameViewer) tyres(sh *load.Sheet) (tyres []page.Tyre, under string) {
	for _, t := range ride.TyresOf(v.Frame, sh) {
		view := page.Tyre{Wheel: capital(t.Axle), Size: t.Size, Load: t.Load.Show(v.system(), measure.Nearest), Start: "ask the maker"}
		if t.Stated {
			view.Start = t.Start.Show(v.system())
		}
		tyres = append(tyres, view)
	}
	return tyres, sh.Rider.Label
}

func (v *frameViewer) ballast(sh *load.Sheet) []page.Ballast {
	var rows []page.Ballast
	for _, b := range ride.BallastOf(v.Frame, sh) {
		row := page.Ballast{Zone: capital(v.zoneLabel(b.Zone)), HalfBottles: bottles(b.Half), FullBottles: bottles(b.Full)}
		row.Half, row.Full = b.Half.Show(v.system(), measure.Down), b.Full.Show(v.system(), measure.Down)
		rows = append(rows, row)
	}
	return rows
}

// bottles says how many bottles of water a ballast is, at most.
func bottles(m measure.Mass) string {
	if ride.Bottles(m) == 0 {
		return ""
	}
	return counted(ride.Bottles(m), "bottle", "bottles")
}
