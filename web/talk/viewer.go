package talk

import (
	"fmt"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/summary"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// Viewer makes the view of one frame for one customer.
type Viewer struct {
	*Consultation
	*match.Match
	why   func(code string) []match.Message
	parts func() []parking.Part
	years func() *match.Years
	// Paid makes of a price of the shop what a plan says is paid for it; none:
	// the price itself, as beside other prices.
	Paid func(measure.Money) measure.Money
	// PhotoAt is the page of a photo of where a figure comes from; none where
	// that is not to be seen, as on whatever a customer gets.
	PhotoAt func(name string) string
}

// View returns the viewer of a match for a consultation.
func View(c *Consultation, m *match.Match) *Viewer {
	v := &Viewer{Consultation: c, Match: m, why: m.Why, parts: func() []parking.Part { return parking.Explain(m.Bike, fitting.HomeOf(c.Profile)) }}
	v.years = v.yearsAhead
	return v
}

// Told returns the viewer of what was told a customer before: nothing of it is
// worked out again.
func Told(c *Consultation, a *summary.Answer) *Viewer {
	return &Viewer{Consultation: c, Match: a.Match, why: func(code string) []match.Message { return a.Why[code] },
		parts: func() []parking.Part { return a.Parts }, years: func() *match.Years { return a.Years }}
}

// Money writes an amount of the shop.
func (v *Viewer) Money(m measure.Money) string {
	return v.Speaker.Money(m, v.Catalogue.Shop.Currency)
}

// up is a figure of a sentence that is shown rounded up.
func up[Q measure.Mass | measure.Length](figure Q) match.Rounded {
	return match.Rounded{Figure: figure, Rounding: measure.Up}
}

// Down is a figure of a sentence that is shown rounded down.
func Down[Q measure.Mass | measure.Length](figure Q) match.Rounded {
	return match.Rounded{Figure: figure, Rounding: measure.Down}
}

// Links are the addresses on the web that the table of a frame's facts shows
// to customers.
func (v *Viewer) Links() []kit.Link {
	var links []kit.Link
	for _, f := range catalog.Of("frames") {
		if address, is := f.At(v.Frame).(*string); is && f.Kind == catalog.Link && f.Said.English != "" && *address != "" {
			links = append(links, kit.Link{Label: v.Say(f.Said.English), Href: *address})
		}
	}
	return links
}

// WeightWords say how much a reason counts.
var WeightWords = map[match.Weight]string{match.Stop: "Stop", match.Care: "Care", match.Note: "Note"}

// ReasonRows lists the reasons, the weightiest first.
func (v *Viewer) ReasonRows() []Reason {
	var reasons []Reason
	for _, r := range v.Named(v.Match) {
		reasons = append(reasons, Reason{Weight: string(r.Weight), Word: WeightWords[r.Weight], Text: v.Speaker.Message(r.Message)})
	}
	return reasons
}

// AddOnName returns the plain name of an add-on.
func (v *Viewer) AddOnName(code string) string {
	if a := v.Catalogue.AddOn(code); a != nil {
		return v.Speaker.Told(a.Names.With(a.Name))
	}
	return code
}

// SeatRows says who sits where.
func (v *Viewer) SeatRows() []Seat {
	var seats []Seat
	for i := range v.Seated {
		seated := &v.Seated[i]
		limits, plain, from := v.placeLimits(seated)
		seats = append(seats, Seat{Plain: plain, Who: v.passenger(seated.Passenger), Where: v.placeName(seated.AddOn), Limits: limits, From: from.words, Photo: from.photo, Note: v.seatNote(*seated)})
	}
	return seats
}

func (v *Viewer) seatNote(seated fitting.Seated) string {
	weighs := up(seated.Standing.Load)
	if seated.Standing.Estimated {
		return v.Say("%v dressed, estimated", weighs)
	}
	return v.Say("%v dressed", weighs)
}

// passenger begins a line with a passenger.
func (v *Viewer) passenger(label string) string {
	return v.Speaker.Label(match.Label{Text: label, Begins: true})
}

func (v *Viewer) span(from, to bool, least, most any) string {
	switch {
	case from && to:
		return v.Say("%v to %v", least, most)
	case from:
		return v.Say("%v and up", least)
	}
	return v.Say("up to %v", most)
}

// AddOnRows lists what is to be fitted and taken off, and why.
func (v *Viewer) AddOnRows() []AddOn {
	var rows []AddOn
	seen := map[string]int{}
	for i, code := range v.Build.AddOns {
		if seen[code]++; i > 0 && v.Build.AddOns[i-1] == code {
			rows[len(rows)-1].Name = fmt.Sprintf("%d × %s", seen[code], v.AddOnName(code))
			rows[len(rows)-1].Mass, rows[len(rows)-1].Price = v.times(code, seen[code])
			continue
		}
		var why []string
		for _, m := range v.why(code) {
			why = append(why, v.Speaker.Message(m))
		}
		row := AddOn{Name: v.AddOnName(code), Why: say.Capital(v.Speaker.Series(why)), Note: v.pairNote(code)}
		row.Mass, row.Price = v.times(code, 1)
		rows = append(rows, row)
	}
	for _, code := range v.Build.TakenOff {
		a := v.Catalogue.AddOn(code)
		rows = append(rows, AddOn{Name: v.Say("Taken off: %v", v.AddOnName(code)), Why: v.Say("Comes with the frame"), Mass: v.Speaker.Mass(-a.Weight, measure.Up), Price: "–"})
	}
	return rows
}

func (v *Viewer) times(code string, n int) (weight, price string) {
	a := v.Catalogue.AddOn(code)
	return v.Speaker.Mass(a.Weight*measure.Mass(n), measure.Up), v.Money(a.Price * measure.Money(n))
}

func (v *Viewer) pairNote(code string) string {
	pair := v.Catalogue.AddOn(code).OnFrame[v.Frame.Code]
	return say.Capital(v.Speaker.Told(pair.Told()))
}

// HorizonWords says how long the build lasts, and what gives out first.
func (v *Viewer) HorizonWords() (text, cause string) {
	h := v.Horizon
	switch {
	case v.Verdict == match.NotJudged:
		return v.Say("It is not judged, so nothing can be foretold."), ""
	case h == nil && v.Fits():
		return v.Say("Without the age of everyone on it, nothing says how long it lasts."), ""
	case h == nil:
		return v.Say("It does not fit today, so there is nothing to last."), ""
	case !h.Ends && len(v.Seated) == 0:
		return v.Say("Nobody on it grows: nothing is outgrown."), ""
	case !h.Ends:
		return v.Say("Nothing is outgrown within ten years."), ""
	case h.Months == 0:
		return v.Say("It is outgrown before this month is over."), v.cause(h.Limit)
	}
	return v.Say("Until the end of %v.", h.Month), v.cause(h.Limit)
}

// Between says how early children who grow fast outgrow it, and how late those
// who grow slowly; nothing where that is the same month, or not known. Any
// rating may be the first that gives out then, so it can tell a rider's weight.
func (v *Viewer) Between() string {
	switch b := v.Band; {
	case b == nil || b.Early.Months == 0 || b.Early == b.Late:
		return ""
	case !b.Late.Ends:
		return v.Say("Not before the end of %v, as children grow.", b.Early.Month)
	default:
		return v.Say("Between the end of %v and the end of %v, as children grow.", b.Early.Month, b.Late.Month)
	}
}

var causeTexts = map[string]string{
	"place_weight": "Then a child is too heavy for the %v.", "place_age": "Then a child is too old for the %v.",
	"place_stature": "Then a child is too tall for the %v.", "place_limits": "Then the places no longer suit everyone.",
	"gross_rating": "Then everything together is over the gross rating.", "zone_rating": "Then the %v zone is over its rating.",
	"combined_rating": "Then %v together are over their rating.", "axle_rating": "Then the %v axle is over its rating.",
	"front_light":   "Then the front wheel lifts.",
	"add_on_rating": "Then the %v carries more than it may.", "place_missing": "Then there is no place for everyone.",
}

func (v *Viewer) cause(c fitting.Cause) string {
	text, ok := causeTexts[c.Rule]
	if !ok {
		return ""
	}
	if !strings.Contains(text, "%v") {
		return v.Say(text)
	}
	return v.Say(text, v.about(c.About)) + " " + v.Say("Children grow as the CDC 2000 reference foretells; weigh again in good time.")
}

// about names within a sentence what gives out: an add-on, zones, or the
// frame's own place.
func (v *Viewer) about(code string) any {
	if a := v.Catalogue.AddOn(code); a != nil {
		return match.AddOn{Code: a.Code, Name: a.Name}
	}
	if code == "" {
		return v.Say("frame's own place")
	}
	return v.ZoneLabel(code)
}

// HowWords say how a bike stands.
var HowWords = map[parking.How]string{parking.Flat: "on its wheels", parking.Turned: "at an angle", parking.Upright: "standing upright"}

// HomeRows says whether the build gets home and stands there, part by part.
func (v *Viewer) HomeRows() (string, []Part) {
	if v.Home == nil {
		return v.Say("Nothing is known of its place at home yet."), nil
	}
	var parts []Part
	for _, p := range v.parts() {
		parts = append(parts, Part{Name: v.partLabel(p.Name), How: v.Say(HowWords[p.How]), Slack: v.Speaker.Length(p.Slack, measure.Down), Tight: p.Slack < v.Settings.SlackMargin})
	}
	switch {
	case v.Home.NeedsUpright:
		return v.Say("It would have to stand upright, and cannot."), parts
	case !v.Home.Constrained:
		return v.Say("No measure of its place at home is known yet."), parts
	case v.Home.Fits:
		return v.Say("It gets there and stands %v, with %v to spare at the tightest.", v.Say(HowWords[v.Home.How]), Down(v.Home.Slack)), parts
	}
	return v.Say("It does not fit: %v too large at the tightest.", up(-v.Home.Slack)), parts
}

// At says at which part of the home, such as at doorway 1.
func (v *Viewer) At(part string) string {
	if part == "space" {
		return "where it stands"
	}
	label := strings.ToLower(v.partLabel(part))
	if part == "lift" {
		label = "the " + label
	}
	return "at " + label
}

func (v *Viewer) partLabel(name string) string { return PartName(v.Speaker, name) }

// PartName says what a part of the home is called.
func PartName(s *say.Speaker, name string) string {
	kind, index, _ := strings.Cut(strings.TrimSuffix(name, "]"), "[")
	n, err := strconv.Atoi(index)
	switch {
	case err == nil && kind == "doorways":
		return say.Capital(s.Say("doorway %v", n+1))
	case err == nil && kind == "corners":
		return say.Capital(s.Say("corner %v", n+1))
	case kind == "space", kind == "place":
		return s.Say("Its place")
	case kind == "steps":
		return say.Capital(s.Say("the steps"))
	}
	return s.Say("Lift")
}

// PriceRows lists what the build costs, and says what of it is tax.
func (v *Viewer) PriceRows() ([]kit.Amount, string) {
	rows := []kit.Amount{
		{Label: v.Say("Frame"), Amount: v.Money(v.Frame.Price)},
		{Label: v.Say("Add-ons"), Amount: v.Money(v.Build.Price)},
		{Label: v.Say("Fitting"), Amount: v.Money(v.Build.Labour)},
	}
	tax := v.Say("Tax of %v is included.", v.Catalogue.Shop.Tax)
	if !v.Catalogue.Shop.PricesIncludeTax {
		tax = v.Say("Tax of %v comes on top.", v.Catalogue.Shop.Tax)
	}
	return rows, tax
}
