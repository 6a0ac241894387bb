package match

import (
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
	"kinwain/internal/profile"
)

// ordinal counts from one, as people do, what documents count from zero.
func ordinal(index string) string {
	n, err := strconv.Atoi(index)
	if err != nil {
		return index
	}
	return strconv.Itoa(n + 1)
}

// worstOnWay returns the part of the way, the space left aside, that lacks
// most.
func worstOnWay(p *fitting.Problem, b *fitting.Build) (string, measure.Length) {
	var worst parking.Part
	for _, part := range parking.Explain(p.Bike(b), p.Demand.Home) {
		if part.Name != "space" && part.Slack < worst.Slack {
			worst = part
		}
	}
	return worst.Name, -worst.Slack
}

// zoneName names a zone, or several that are joined by +.
func zoneName(zones string) any {
	first, rest, several := strings.Cut(zones, "+")
	if several {
		return say("%v and %v", Word(first), zoneName(rest))
	}
	return Word(first)
}

func addOnName(p *fitting.Problem, code string) any {
	for _, n := range p.Names() {
		if n.Code == code {
			return AddOn{Code: n.Code, Name: n.Name}
		}
	}
	return say("frame's own place")
}

// homeReasons judges a build that reaches its home and fits.
func (j *judge) homeReasons(m *Match) []Reason {
	var reasons []Reason
	if m.Home != nil && m.Home.Fits && m.Home.Constrained && m.Home.Slack < j.settings.SlackMargin {
		reasons = append(reasons, Reason{Code: ReasonStorageSlack, Weight: Care, Part: m.Home.Tightest, Slack: m.Home.Slack,
			Message: say("Only %v to spare at %v. Measure again, handlebar and pedals included.", down(m.Home.Slack), partName(m.Home.Tightest))})
	}
	home, _ := j.profile.Home.Get()
	if handling := m.Handling(); home.Steps.Or(0) > j.settings.StepsMax && handling > j.settings.StepsMass {
		reasons = append(reasons, Reason{Code: ReasonSteps, Weight: Care,
			Message: say("%v steps with a bike of %v. Try lifting it before you decide.", home.Steps.Or(0), up(handling))})
	}
	return reasons
}

// Handling returns what is lifted, pushed and stored.
func (m *Match) Handling() measure.Mass { return m.Frame.BareWeight + m.Build.Weight }

func (j *judge) budgetReasons(m *Match) []Reason {
	budget, ok := j.profile.Budget.Get()
	if !ok || m.Total <= budget {
		return nil
	}
	over := m.Total - budget
	r := Reason{Code: ReasonBudget, Weight: Care, OverPrice: over,
		Message: say("%v over the budget.", Cost{over, j.catalogue.Shop.Currency})}
	if overBudget(m.Total, budget, j.settings) && j.profile.BudgetFirm.Or(false) {
		r.Weight = Stop
		r.Message = say("%v over a firm budget.", Cost{over, j.catalogue.Shop.Currency})
	}
	return []Reason{r}
}

// overBudget reports whether a total is over the budget by more than the
// margin.
func overBudget(total, budget measure.Money, s Settings) bool {
	return int64(total-budget)*int64(measure.Whole) > int64(budget)*int64(s.BudgetMargin)
}

// standardWheel is the bead seat diameter from which wheels are common (559
// mm, ISO 5775).
const standardWheel = 559

// specReasons notes what the maker does not state and bears on this customer,
// and wheels that only the maker supplies.
func (j *judge) specReasons(m *Match) []Reason {
	f := m.Frame
	var reasons []Reason
	front, rear := catalog.BeadSeat(f.FrontTyre), catalog.BeadSeat(f.RearTyre)
	if f.OddWheel && (front > 0 && front < standardWheel || rear > 0 && rear < standardWheel) {
		reasons = append(reasons, Reason{Code: ReasonOddWheel, Weight: Note,
			Message: say("A small wheel that only the maker supplies. Ask how long spares take.")})
	}
	for _, spec := range j.unstated(m) {
		reasons = append(reasons, Reason{Code: ReasonSpecMissing, Weight: Note, Field: spec.field,
			Message: say("The maker does not state %v, so this is not checked. Ask before loading to the full.", spec.name)})
	}
	return reasons
}

type spec struct {
	field   string
	name    Message
	missing bool
}

func (j *judge) unstated(m *Match) []spec {
	f := m.Frame
	inseam := false
	for i := range j.profile.Riders {
		inseam = inseam || j.profile.Riders[i].Inseam.IsGiven()
	}
	reduced := false
	for i := range j.profile.Riders {
		reduced = reduced || j.profile.Riders[i].Grip.Or(profile.FullGrip) == profile.ReducedGrip
	}
	specs := []spec{
		{"rider_max_kg", say("a limit for the rider's weight"), f.RiderMaxMass == 0 && len(j.demand.Riders) > 0},
		{"passengers_max", say("a limit for the number of passengers"), f.PassengersMax == 0 && len(m.Seated) > 0},
		{"standover_cm", say("a standover height"), f.Standover == 0 && inseam},
		{"saddle_min_cm", say("a saddle range"), (f.SaddleMin == 0 || f.SaddleMax == 0) && inseam},
		{"front_brake", say("the brakes"), (f.FrontBrake == "" || f.RearBrake == "") && reduced},
		{"front_axle_max_kg", say("ratings for the axles"), f.StatesAxles() && f.FrontAxleRating == 0 && f.RearAxleRating == 0},
		{"front_axle_max_kg", say("a rating for the front axle"), f.StatesAxles() && f.FrontAxleRating == 0 && f.RearAxleRating > 0},
		{"rear_axle_max_kg", say("a rating for the rear axle"), f.StatesAxles() && f.RearAxleRating == 0 && f.FrontAxleRating > 0},
	}
	specs = append(specs, unstatedAxles(f)...)
	if len(m.Sheets) > 0 {
		for i, z := range m.Sheets[0].Zones {
			specs = append(specs, spec{"zones[" + strconv.Itoa(i) + "].rating_kg", say("a rating for the %v zone", Word(z.Zone)), z.Rating == 0 && z.Mass > 0})
		}
	}
	var missing []spec
	for _, s := range specs {
		if s.missing {
			missing = append(missing, s)
		}
	}
	return missing
}

// unstatedAxles names what keeps a stated axle rating from being checked.
func unstatedAxles(f *catalog.Frame) []spec {
	rated := f.FrontAxleRating > 0 || f.RearAxleRating > 0
	return []spec{
		{"wheelbase_cm", say("the wheelbase, so its axle ratings cannot be checked"), rated && f.Wheelbase == 0},
		{"rider_ahead_of_rear_axle_cm", say("where the rider sits, so its axle ratings cannot be checked"), rated && f.RiderAhead == 0},
		{"bare_front_share", say("how its bare weight is spread, so its axle ratings cannot be checked"), rated && f.BareFrontShare == 0},
	}
}
