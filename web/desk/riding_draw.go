package desk

import (
	"fmt"
	"strconv"
	"strings"

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
	view := Riding{Hides: v.Form.HidesWeights(), Gears: gearWords(v), Brakes: brakeWords(v), Hill: hillWords(v), Pace: ride.PerHour(v.Settings.HillSpeed).Show(v.System()), Climbs: climbs(v), Saddles: saddles(v), SaddleGround: saddleGround(v),
		Ground: groundWords(v)}
	if heaviest := heaviest(v); heaviest != nil {
		view.Tyres, view.TyresFor = tyres(v, heaviest)
		view.TyreGround = tyreGround(view.TyresFor)
		view.Ballast = ballast(v, heaviest)
	}
	return view
}

// brakeWords says what the brakes are and whether they suit.
func brakeWords(v *talk.Viewer) string {
	var words []string
	for _, said := range v.Match.Brakes() {
		words = append(words, v.Speaker.Message(said))
	}
	return strings.Join(words, " ")
}

// groundWords says what the climbs rest on.
func groundWords(v *talk.Viewer) string {
	text := fmt.Sprintf("An effort of %s W for every kilogram of the rider, between %s and %s, is what riders in everyday health keep up for some minutes; wind, ruts and soft tyres slow it further.",
		thousandths(v.Settings.HillEffort), ride.LeastEffort.Show(), ride.MostEffort.Show())
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
	motor := "without a motor, as the maker states none"
	if v.Frame.AssistWatts > 0 {
		motor = fmt.Sprintf("with the %d W that the maker states for the motor", v.Frame.AssistWatts)
	}
	return fmt.Sprintf("The %v hill with all on board, %s:", slope, motor)
}

// thousandths writes a figure in thousandths with its decimals: 1.8.
func thousandths(n int64) string { return strconv.FormatFloat(float64(n)/1000, 'f', -1, 64) }

func climbs(v *talk.Viewer) []Climb {
	var climbs []Climb
	for i, c := range v.Climbs {
		climb := Climb{Rider: v.Sheets[i].Rider.Label, Words: outcome(v, c), Hard: c.Outcome != ride.Rides}
		if !v.Form.HidesWeights() { // so many watts for every kilogram
			climb.Effort, climb.Speed, climb.Cadence, climb.Needed = fmt.Sprintf("%.0f W", c.Effort), c.Speed.Show(v.System()), cadenceWords(c), neededWords(c)
		}
		climbs = append(climbs, climb)
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
	switch c.Outcome {
	case ride.TooSteep:
		return fmt.Sprintf("Slower than %s, no quicker than pushed. Push it, carry less, or take a motor.", ride.PerHour(v.Settings.HillSpeed).Show(v.System()))
	case ride.TooTall:
		return fmt.Sprintf("The lowest gear is too tall: under %d turns a minute strains the knees. Ask a mechanic for a lower gear.", v.Settings.HillTurns)
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
		view := Tyre{Wheel: say.Capital(t.Axle), Size: t.Size, Start: startWords(v, t)}
		if !v.Form.HidesWeights() {
			view.Load = t.Load.Show(v.System(), measure.Nearest)
		}
		tyres = append(tyres, view)
	}
	return tyres, sh.Rider.Label
}

// startWords says the pressure to start from, or, where the chart reaches no
// further or the maker states another, what to keep to.
func startWords(v *talk.Viewer, t ride.Tyre) string {
	s := v.System()
	switch {
	case t.Stated:
		return t.Start.Show(s)
	case t.Least > 0 && t.Most > 0:
		return "as the maker states, from " + t.Least.Show(s) + " to " + t.Most.Show(s)
	case t.Most > 0:
		return "as the maker states, up to " + t.Most.Show(s)
	case t.Least > 0:
		return "as the maker states, from " + t.Least.Show(s)
	case v.Form.HidesWeights():
		return "as the sidewall states"
	}
	return "as the sidewall states, which has to name a load of " + t.Load.Show(s, measure.Up) + " or more"
}

// tyreGround says what the pressures rest on.
func tyreGround(rider string) string {
	return "Under rider " + rider + " and all on board, after " + ride.Chart + ", which reaches from 20 to 50 mm and to 100 kg a wheel. Never above or below what the sidewall and the rim state: they come first, and a qualified mechanic has the last word."
}

// saddleGround says what the heights rest on.
func saddleGround(v *talk.Viewer) string {
	text := "From the middle of the cranks to the top of the saddle, 0.883 of the inseam as racing riders are taught: common practice, no published source."
	if len(v.Seated) > 0 {
		text += " With passengers aboard it has to be low enough to put a foot down."
	}
	return text + " Set it by riding."
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
