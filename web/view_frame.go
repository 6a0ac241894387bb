package web

import (
	"fmt"
	"strings"

	"kinhaul/internal/build"
	"kinhaul/internal/catalog"
	"kinhaul/internal/match"
	"kinhaul/internal/measure"
	"kinhaul/internal/parking"
	"kinhaul/web/page"
)

// frameViewer makes the view of one frame for one customer.
type frameViewer struct {
	*consultation
	*match.Match
}

func frameView(c *consultation, m *match.Match) page.Frame {
	v := &frameViewer{c, m}
	view := page.Frame{
		Name: m.Frame.Name, Kind: frameKind(m.Frame), Back: c.address("/frames"), Verdict: verdictView(m.Verdict), Line: line(c, m, false),
		Relaxed: relaxedText(m.Relaxed), Reasons: v.reasons(), Sheets: v.sheets(), Seats: v.seats(), AddOns: v.addOns(),
		Notes: m.Frame.Notes, Passengers: len(c.profile.Passengers.Or(nil)) > 0, Total: v.money(m.Total),
	}
	if m.Change != nil {
		view.Change = m.Change.Message.In(c.system())
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

func (v *frameViewer) money(m measure.Money) string { return m.Show(v.catalogue.Shop.Currency) }

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

var relaxedNames = map[build.Relaxation]string{
	build.WithoutHome: "the home", build.WithoutLitres: "the cargo’s bulk", build.WithoutCargo: "the cargo’s weight",
	build.WithoutPet: "the pet", build.WithoutPassengers: "the passengers",
}

// relaxedText says what the shown build leaves out.
func relaxedText(relaxed []build.Relaxation) string {
	if len(relaxed) == 0 {
		return ""
	}
	var names []string
	for _, r := range relaxed {
		names = append(names, relaxedNames[r])
	}
	return "No build does everything asked. What follows leaves out " + list(names) + "."
}

func list(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
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
		where := "the frame’s own place"
		if seated.AddOn != "" {
			where = v.addOnName(seated.AddOn)
		}
		seats = append(seats, page.Seat{Who: capital(seated.Passenger), Where: capital(where), Limits: placeLimits(seated.Place, v.system()), Note: v.seatNote(seated)})
	}
	return seats
}

func (v *frameViewer) seatNote(seated build.Seated) string {
	st := seated.Standing
	note := st.Load.Show(v.system(), measure.Up) + " dressed"
	if st.Estimated {
		note += ", estimated"
	}
	return note
}

// placeLimits says whom a place takes.
func placeLimits(p *catalog.Place, s measure.System) string {
	var limits []string
	if p.MinMonths > 0 || p.MaxMonths > 0 {
		limits = append(limits, span(p.MinMonths > 0, p.MaxMonths > 0, fmt.Sprint(p.MinMonths), fmt.Sprint(p.MaxMonths))+" months")
	}
	if p.MinMass > 0 || p.MaxMass > 0 {
		limits = append(limits, span(p.MinMass > 0, p.MaxMass > 0, p.MinMass.Show(s, measure.Up), p.MaxMass.Show(s, measure.Down)))
	}
	if p.MaxStature > 0 {
		limits = append(limits, "up to "+p.MaxStature.Show(s, measure.Down)+" tall")
	}
	if len(limits) == 0 {
		return "The maker states no limits for this place."
	}
	return "For " + list(limits) + "."
}

func span(from, to bool, least, most string) string {
	switch {
	case from && to:
		return least + " to " + most
	case from:
		return least + " and up"
	}
	return "up to " + most
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
			why = append(why, m.In(v.system()))
		}
		row := page.AddOn{Name: v.addOnName(code), Why: capital(strings.Join(why, "; ")), Note: v.pairNote(code)}
		row.Mass, row.Price = v.times(code, 1)
		rows = append(rows, row)
	}
	for _, code := range v.Build.TakenOff {
		a := v.catalogue.AddOn(code)
		rows = append(rows, page.AddOn{Name: "Taken off: " + a.Name, Why: "Comes with the frame", Mass: (-a.Weight).Show(v.system(), measure.Nearest), Price: "–"})
	}
	return rows
}

func (v *frameViewer) times(code string, n int) (weight, price string) {
	a := v.catalogue.AddOn(code)
	return (a.Weight * measure.Mass(n)).Show(v.system(), measure.Nearest), v.money(a.Price * measure.Money(n))
}

func (v *frameViewer) pairNote(code string) string {
	return capital(v.catalogue.AddOn(code).OnFrame[v.Frame.Code].Note)
}

func (v *frameViewer) horizon() (text, cause string) {
	h := v.Horizon
	switch {
	case h == nil:
		return "It does not fit today, so there is nothing to last.", ""
	case !h.Ends && len(v.Seated) == 0:
		return "Nobody on it grows: nothing is outgrown.", ""
	case !h.Ends:
		return "Nothing is outgrown within ten years.", ""
	case h.Months == 0:
		return "It is outgrown before this month is over.", v.cause(h.Limit)
	}
	return "Until the end of " + monthName(h.Month) + ".", v.cause(h.Limit)
}

var causeTexts = map[string]string{
	"place_weight": "Then a child is too heavy for the %s.", "place_age": "Then a child is too old for the %s.",
	"place_stature": "Then a child is too tall for the %s.", "place_limits": "Then the places no longer suit everyone.",
	"gross_rating": "Then everything together is over the gross rating.", "zone_rating": "Then the %s zone is over its rating.",
	"combined_rating": "Then %s together are over their rating.", "axle_rating": "Then the %s axle is over its rating.",
	"add_on_rating": "Then the %s carries more than it may.", "place_missing": "Then there is no place for everyone.",
}

func (v *frameViewer) cause(c build.Cause) string {
	text, ok := causeTexts[c.Rule]
	if !ok {
		return ""
	}
	if !strings.Contains(text, "%s") {
		return text
	}
	about := zoneLabel(c.About)
	if a := v.catalogue.AddOn(c.About); a != nil {
		about = strings.ToLower(a.Name)
	} else if c.About == "" {
		about = "frame’s own place"
	}
	return fmt.Sprintf(text, about) + " Children grow as the CDC 2000 reference foretells; weigh again in good time."
}

var howWords = map[parking.How]string{parking.Flat: "on its wheels", parking.Turned: "at an angle", parking.Upright: "standing upright"}

func (v *frameViewer) home() (string, []page.Part) {
	if v.Home == nil {
		return "Nothing is known of its place at home yet.", nil
	}
	s := v.system()
	var parts []page.Part
	for _, p := range parking.Explain(v.Bike, build.HomeOf(v.profile)) {
		parts = append(parts, page.Part{Name: partLabel(p.Name), How: howWords[p.How], Slack: p.Slack.Show(s, measure.Down), Tight: p.Slack < v.settings.SlackMargin})
	}
	switch {
	case v.Home.NeedsUpright:
		return "It would have to stand upright, and cannot.", parts
	case !v.Home.Constrained:
		return "No measure of its place at home is known yet.", parts
	case v.Home.Fits:
		return fmt.Sprintf("It gets there and stands %s, with %s to spare at the tightest.", howWords[v.Home.How], v.Home.Slack.Show(s, measure.Down)), parts
	}
	return fmt.Sprintf("It does not fit: %s too large at the tightest.", (-v.Home.Slack).Show(s, measure.Up)), parts
}

func partLabel(name string) string {
	kind, index, _ := strings.Cut(strings.TrimSuffix(name, "]"), "[")
	var n int
	if _, err := fmt.Sscan(index, &n); err == nil {
		return fmt.Sprintf("%s %d", capital(strings.TrimSuffix(kind, "s")), n+1)
	}
	if kind == "space" {
		return "Its place"
	}
	return capital(kind)
}

func (v *frameViewer) price() ([]page.Amount, string) {
	rows := []page.Amount{
		{Label: "Frame", Amount: v.money(v.Frame.Price)},
		{Label: "Add-ons", Amount: v.money(v.Build.Price)},
		{Label: "Fitting", Amount: v.money(v.Build.Labour)},
	}
	tax := fmt.Sprintf("Tax of %v is included.", v.catalogue.Shop.Tax)
	if !v.catalogue.Shop.PricesIncludeTax {
		tax = fmt.Sprintf("Tax of %v comes on top.", v.catalogue.Shop.Tax)
	}
	return rows, tax
}
