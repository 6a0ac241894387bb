package match

import (
	"strconv"
	"strings"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
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
		r := Reason{Code: ReasonStorageSlack, Weight: Care, Part: m.Home.Tightest, Slack: m.Home.Slack,
			Message: say("Only %v to spare at %v. Measure again, handlebar and pedals included.", down(m.Home.Slack), partName(m.Home.Tightest))}
		if r.Slack < nothing {
			r.Message = say("Nothing to spare at %v. Measure again, handlebar and pedals included.", partName(m.Home.Tightest))
		}
		reasons = append(reasons, r)
	}
	if m.Home != nil && m.Home.Fits && m.Home.OnTail != "" {
		reasons = append(reasons, Reason{Code: ReasonUprightWay, Weight: Care, Part: m.Home.OnTail,
			Message: say("It is walked on its tail through %v. On its wheels there is too little room. Try that before you buy.", partName(m.Home.OnTail))})
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
	if j.profile.BudgetFirm.Or(false) {
		r.Weight = Stop
		r.Message = say("%v over a firm budget.", Cost{over, j.catalogue.Shop.Currency})
	}
	return []Reason{r}
}
