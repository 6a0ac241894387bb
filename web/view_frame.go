package web

import (
	"fmt"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/web/page"
)

// frameViewer makes the view of one frame for one customer.
type frameViewer struct {
	*consultation
	*match.Match
}

func frameView(c *consultation, m *match.Match) page.Frame {
	v := &frameViewer{c, m}
	view := page.Frame{
		Name: m.Frame.Name, Kind: frameKind(c.speaker, m.Frame), Back: c.address("/frames"), Verdict: verdictView(m.Verdict), Line: line(c, m, false),
		Relaxed: v.relaxed(), Reasons: v.reasons(), Sheets: v.sheets(), Seats: v.seats(), AddOns: v.addOns(),
		Notes: m.Frame.Notes, Passengers: len(c.profile.Passengers.Or(nil)) > 0, Total: v.money(m.Total),
	}
	if help, ok := m.Help(); ok {
		view.Change = help.In(c.system())
	}
	for _, path := range m.Open {
		view.Open = append(view.Open, questionName(c, path))
	}
	view.Horizon, view.Cause = v.horizon()
	view.HomeSum, view.Home = v.home()
	view.Price, view.Tax = v.price()
	view.Ride, view.Stock = v.inShop()
	view.Rides = v.rideView()
	if m.Score != nil {
		view.Score, view.Points = m.Score.FloatString(1), pointsView(m)
	}
	return view
}

func (v *frameViewer) money(m measure.Money) string {
	return v.speaker.Money(m, v.catalogue.Shop.Currency)
}

// up and down are figures of a sentence with the way to round them.
func up[Q measure.Mass | measure.Length](figure Q) match.Rounded {
	return match.Rounded{Figure: figure, Rounding: measure.Up}
}

func down[Q measure.Mass | measure.Length](figure Q) match.Rounded {
	return match.Rounded{Figure: figure, Rounding: measure.Down}
}

func (v *frameViewer) inShop() (ride, stock string) {
	ride, stock = unitsOf(v.catalogue, v.Frame.Code)
	if ride == "" {
		ride = "No demo can be ridden right now."
	}
	if stock == "" {
		stock = "None in stock to take home today."
	}
	return ride, stock
}

var relaxedNames = map[fitting.Relaxation]string{
	fitting.WithoutHome: "the home", fitting.WithoutLitres: "the cargo’s bulk", fitting.WithoutCargo: "the cargo’s weight",
	fitting.WithoutPet: "the pet", fitting.WithoutPassengers: "the passengers",
}

// relaxed says what the shown build leaves out.
func (v *frameViewer) relaxed() string {
	if len(v.Relaxed) == 0 {
		return ""
	}
	var names []string
	for _, r := range v.Relaxed {
		names = append(names, v.say(relaxedNames[r]))
	}
	return v.say("No build does everything asked. What follows leaves out %v.", v.speaker.List(names))
}

var weightWords = map[match.Weight]string{match.Stop: "Stop", match.Care: "Care", match.Note: "Note"}

func (v *frameViewer) reasons() []page.Reason {
	var reasons []page.Reason
	for _, r := range v.Reasons {
		reasons = append(reasons, page.Reason{Weight: string(r.Weight), Word: weightWords[r.Weight], Text: r.Message.In(v.system())})
	}
	return reasons
}

// addOnNames returns the plain name of an add-on.
func (v *frameViewer) addOnName(code string) string {
	if a := v.catalogue.AddOn(code); a != nil {
		return a.Name
	}
	return code
}

func (v *frameViewer) seats() []page.Seat {
	var seats []page.Seat
	for _, seated := range v.Seated {
		where := v.say("the frame’s own place")
		if seated.AddOn != "" {
			where = v.addOnName(seated.AddOn)
		}
		seats = append(seats, page.Seat{Who: v.passenger(seated.Passenger), Where: capital(where), Limits: v.placeLimits(seated.Place), Note: v.seatNote(seated)})
	}
	return seats
}

func (v *frameViewer) seatNote(seated fitting.Seated) string {
	st := seated.Standing
	if st.Estimated {
		return v.say("%v dressed, estimated", up(st.Load))
	}
	return v.say("%v dressed", up(st.Load))
}

// passenger begins a line with a passenger.
func (v *frameViewer) passenger(label string) string {
	return v.speaker.Label(match.Label{Text: label, Begins: true})
}

// placeLimits says whom a place takes.
func (v *frameViewer) placeLimits(p *catalog.Place) string {
	var limits []string
	if p.MinMonths > 0 || p.MaxMonths > 0 {
		least, most := fmt.Sprint(p.MinMonths), fmt.Sprint(p.MaxMonths)
		limits = append(limits, v.say("%v months", v.span(p.MinMonths > 0, p.MaxMonths > 0, least, most)))
	}
	if p.MinMass > 0 || p.MaxMass > 0 {
		limits = append(limits, v.span(p.MinMass > 0, p.MaxMass > 0, up(p.MinMass), down(p.MaxMass)))
	}
	if p.MaxStature > 0 {
		limits = append(limits, v.say("up to %v tall", down(p.MaxStature)))
	}
	if len(limits) == 0 {
		return v.say("The maker states no limits for this place.")
	}
	return v.say("For %v.", v.speaker.List(limits))
}

func (v *frameViewer) span(from, to bool, least, most any) string {
	switch {
	case from && to:
		return v.say("%v to %v", least, most)
	case from:
		return v.say("%v and up", least)
	}
	return v.say("up to %v", most)
}

func (v *frameViewer) addOns() []page.AddOn {
	var rows []page.AddOn
	seen := map[string]int{}
	for i, code := range v.Build.AddOns {
		if seen[code]++; i > 0 && v.Build.AddOns[i-1] == code {
			rows[len(rows)-1].Name = fmt.Sprintf("%d × %s", seen[code], v.addOnName(code))
			rows[len(rows)-1].Mass, rows[len(rows)-1].Price = v.times(code, seen[code])
			continue
		}
		var why []string
		for _, m := range v.Why(code) {
			why = append(why, v.speaker.Message(m))
		}
		row := page.AddOn{Name: v.addOnName(code), Why: capital(strings.Join(why, "; ")), Note: v.pairNote(code)}
		row.Mass, row.Price = v.times(code, 1)
		rows = append(rows, row)
	}
	for _, code := range v.Build.TakenOff {
		a := v.catalogue.AddOn(code)
		rows = append(rows, page.AddOn{Name: v.say("Taken off: %v", a.Name), Why: v.say("Comes with the frame"), Mass: v.speaker.Mass(-a.Weight, measure.Nearest), Price: "–"})
	}
	return rows
}

func (v *frameViewer) times(code string, n int) (weight, price string) {
	a := v.catalogue.AddOn(code)
	return v.speaker.Mass(a.Weight*measure.Mass(n), measure.Nearest), v.money(a.Price * measure.Money(n))
}

func (v *frameViewer) pairNote(code string) string {
	return capital(v.catalogue.AddOn(code).OnFrame[v.Frame.Code].Note)
}

func (v *frameViewer) horizon() (text, cause string) {
	h := v.Horizon
	switch {
	case v.Verdict == match.NotJudged:
		return v.say("It is not judged, so nothing can be foretold."), ""
	case h == nil:
		return v.say("It does not fit today, so there is nothing to last."), ""
	case !h.Ends && len(v.Seated) == 0:
		return v.say("Nobody on it grows: nothing is outgrown."), ""
	case !h.Ends:
		return v.say("Nothing is outgrown within ten years."), ""
	case h.Months == 0:
		return v.say("It is outgrown before this month is over."), v.cause(h.Limit)
	}
	return v.say("Until the end of %v.", h.Month), v.cause(h.Limit)
}

var causeTexts = map[string]string{
	"place_weight": "Then a child is too heavy for the %v.", "place_age": "Then a child is too old for the %v.",
	"place_stature": "Then a child is too tall for the %v.", "place_limits": "Then the places no longer suit everyone.",
	"gross_rating": "Then everything together is over the gross rating.", "zone_rating": "Then the %v zone is over its rating.",
	"combined_rating": "Then %v together are over their rating.", "axle_rating": "Then the %v axle is over its rating.",
	"add_on_rating": "Then the %v carries more than it may.", "place_missing": "Then there is no place for everyone.",
}

func (v *frameViewer) cause(c fitting.Cause) string {
	text, ok := causeTexts[c.Rule]
	if !ok {
		return ""
	}
	if !strings.Contains(text, "%v") {
		return v.say(text)
	}
	about := v.zoneLabel(c.About)
	if a := v.catalogue.AddOn(c.About); a != nil {
		about = strings.ToLower(a.Name)
	} else if c.About == "" {
		about = v.say("frame's own place")
	}
	return v.say(text, about) + " " + v.say("Children grow as the CDC 2000 reference foretells; weigh again in good time.")
}

var howWords = map[parking.How]string{parking.Flat: "on its wheels", parking.Turned: "at an angle", parking.Upright: "standing upright"}

func (v *frameViewer) home() (string, []page.Part) {
	if v.Home == nil {
		return v.say("Nothing is known of its place at home yet."), nil
	}
	var parts []page.Part
	for _, p := range parking.Explain(v.Bike, fitting.HomeOf(v.profile)) {
		parts = append(parts, page.Part{Name: v.partLabel(p.Name), How: v.say(howWords[p.How]), Slack: v.speaker.Length(p.Slack, measure.Down), Tight: p.Slack < v.settings.SlackMargin})
	}
	switch {
	case v.Home.NeedsUpright:
		return v.say("It would have to stand upright, and cannot."), parts
	case !v.Home.Constrained:
		return v.say("No measure of its place at home is known yet."), parts
	case v.Home.Fits:
		return v.say("It gets there and stands %v, with %v to spare at the tightest.", v.say(howWords[v.Home.How]), down(v.Home.Slack)), parts
	}
	return v.say("It does not fit: %v too large at the tightest.", up(-v.Home.Slack)), parts
}

func (v *frameViewer) partLabel(name string) string {
	kind, index, _ := strings.Cut(strings.TrimSuffix(name, "]"), "[")
	n, err := strconv.Atoi(index)
	switch {
	case err == nil && kind == "doorways":
		return capital(v.say("doorway %v", n+1))
	case err == nil && kind == "corners":
		return capital(v.say("corner %v", n+1))
	case kind == "space":
		return v.say("Its place")
	}
	return v.say("Lift")
}

func (v *frameViewer) price() ([]page.Amount, string) {
	rows := []page.Amount{
		{Label: v.say("Frame"), Amount: v.money(v.Frame.Price)},
		{Label: v.say("Add-ons"), Amount: v.money(v.Build.Price)},
		{Label: v.say("Fitting"), Amount: v.money(v.Build.Labour)},
	}
	tax := v.say("Tax of %v is included.", v.catalogue.Shop.Tax)
	if !v.catalogue.Shop.PricesIncludeTax {
		tax = v.say("Tax of %v comes on top.", v.catalogue.Shop.Tax)
	}
	return rows, tax
}
