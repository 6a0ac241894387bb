package talk

import (
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// Plan is the stages of the bike as a timetable, with the frames that cost less
// over the same years; nil where there is none, or nobody on it grows.
func (v *Viewer) Plan(cheaper []match.OverTheYears) *kit.Plan {
	s := v.Stages
	if s == nil || len(s.List) == 0 || len(v.Profile.Passengers.Or(nil)) == 0 {
		return nil
	}
	p := &kit.Plan{Answer: v.PlanWords(), Until: v.untilWords(s), Notes: v.planNotes(s)}
	for i := range s.List {
		p.Stages = append(p.Stages, v.planStage(i))
	}
	if len(p.Stages) == 1 && len(p.Stages[0].Happens) == 0 && v.beginsAsBuilt(s) {
		p.Stages = nil // nothing changes
	}
	p.Sums = append(p.Sums, kit.Amount{Label: v.Say("In all, frame included"), Amount: v.Money(v.inAll())})
	if s.Now != nil && (len(s.List) > 1 || s.Now.Total != s.Total) {
		p.Sums = append(p.Sums, kit.Amount{Label: v.Say("Buying everything now"), Amount: v.Money(v.paid(s.Now.Total))})
	}
	for _, c := range cheaper[:min(len(cheaper), mostCheaper)] {
		name := v.Speaker.Told(c.Frame.Names.With(c.Frame.Called()))
		p.Sums = append(p.Sums, kit.Amount{Label: v.Say("The %v instead, until the end of %v", name, c.Until), Amount: v.Money(v.paid(c.Total))})
	}
	if len(p.Stages) == 0 && len(p.Sums) == 1 {
		p.Sums = nil // the price is told already
		return p
	}
	_, p.Tax = v.PriceRows()
	return p
}

// mostCheaper is how many frames are named that cost less over the years.
const mostCheaper = 3

// PlanWords say the whole plan in a line.
func (v *Viewer) PlanWords() string {
	s := v.Stages
	if len(s.List) == 1 {
		return v.Say("One set of add-ons until the end of %v: %v in all.", s.Until, v.Money(v.inAll()))
	}
	return v.Say("%v stages until the end of %v: %v in all.", len(s.List), s.Until, v.Money(v.inAll()))
}

func (v *Viewer) untilWords(s *match.Stages) string {
	if s.Until < s.Asked {
		return v.Say("End of %v: after that nothing that may be added carries everyone. Asked for was the end of %v.", s.Until, s.Asked)
	}
	return v.Say("End of %v: the years asked for are over.", s.Until)
}

// planNotes say what to mind of the plan.
func (v *Viewer) planNotes(s *match.Stages) []string {
	var notes []string
	if !v.beginsAsBuilt(s) {
		notes = append(notes, v.Say("The plan begins with other add-ons than those above, which are the best for today: it looks at all the years."))
	}
	if s.Now == nil && !s.Unproved {
		notes = append(notes, v.Say("No single set of add-ons serves all that time, so not everything can be bought now."))
	}
	if s.Unproved {
		notes = append(notes, v.Say("Time was over before every other sequence was ruled out: another may cost up to %v less.", v.Money(v.paid(s.Cheaper))))
	}
	return append(notes, v.Say("At the prices of today, and as children grow: an outlook, not a promise."))
}

// beginsAsBuilt reports whether the first stage is the build of the match.
func (v *Viewer) beginsAsBuilt(s *match.Stages) bool {
	first := s.List[0].Build
	return slices.Equal(first.AddOns, v.Build.AddOns) && slices.Equal(first.TakenOff, v.Build.TakenOff)
}

func (v *Viewer) planStage(i int) kit.PlanStage {
	s := &v.Stages.List[i]
	parts := []string{}
	add := func(label string, m measure.Money) {
		if m > 0 {
			parts = append(parts, v.Say("%v:", v.Say(label))+" "+v.Money(m))
		}
	}
	if i == 0 {
		add("Frame", v.Frame.Price)
	}
	add("Add-ons", s.Price)
	add("Fitting", s.Labour)
	view := kit.PlanStage{When: say.Capital(v.Say("%v to %v", s.From, s.To)), Changes: v.changes(s), Happens: v.happens(s), Due: v.Money(v.dueAt(i)), Parts: v.Speaker.Series(parts)}
	for _, at := range s.Seated {
		view.Seats = append(view.Seats, kit.Seating{Who: v.passenger(at.Passenger), Where: v.placeName(at.AddOn)})
	}
	return view
}

// dueAt is what is paid when a stage begins, with the first one the frame.
func (v *Viewer) dueAt(i int) measure.Money {
	due := v.Stages.List[i].Due()
	if i == 0 {
		due += v.Frame.Price
	}
	return v.paid(due)
}

// inAll is what is paid over all stages: the sum of what is said to be due.
func (v *Viewer) inAll() (sum measure.Money) {
	for i := range v.Stages.List {
		sum += v.dueAt(i)
	}
	return sum
}

func (v *Viewer) paid(price measure.Money) measure.Money {
	if v.Paid == nil {
		return price
	}
	return v.Paid(price)
}

// Outlook tells the plan in lines, for a paper.
func (v *Viewer) Outlook() []string {
	p := v.Plan(nil)
	if p == nil {
		return nil
	}
	lines := []string{p.Answer}
	for _, s := range p.Stages {
		lines = append(lines, v.Say("%v: %v due. %v", s.When, s.Due, strings.Join(append(s.Changes, s.Happens...), " ")))
	}
	return append(lines, p.Notes...)
}

// changes say what is bought, put on and taken off when a stage begins.
func (v *Viewer) changes(s *match.Stage) []string {
	var said []string
	for _, c := range [...]struct {
		says  string
		codes []string
	}{
		{"Bought and fitted: %v.", s.Bought},
		{"Put on again, of what was kept: %v.", MissingFrom(s.PutOn, s.Bought)},
		{"Comes off and is kept: %v.", s.TakenOff},
	} {
		if len(c.codes) > 0 {
			said = append(said, v.Say(c.says, v.names(c.codes)))
		}
	}
	if len(said) == 0 {
		said = append(said, v.Say("Nothing is added: the bike stays as it comes."))
	}
	return said
}

// names list add-ons by their sorted codes, as they stand within a sentence.
func (v *Viewer) names(codes []string) string {
	var names []string
	for i := 0; i < len(codes); {
		n := 1
		for i+n < len(codes) && codes[i+n] == codes[i] {
			n++
		}
		name := v.Speaker.Within(v.AddOnName(codes[i]))
		if n > 1 {
			name = fmt.Sprintf("%d × %s", n, name)
		}
		names = append(names, name)
		i += n
	}
	return v.Speaker.Series(names)
}

// happens tells who joins and who leaves within a stage.
func (v *Viewer) happens(s *match.Stage) []string {
	var said []string
	for _, m := range match.Comings(v.Profile) {
		if month := m.On.InMonth(); month < s.From || month > s.To {
			continue
		}
		at := slices.IndexFunc(s.Joining, func(j match.Joining) bool { return j.Passenger == m.Passenger })
		if m.Kind == match.Joins && at >= 0 {
			said = append(said, v.Say("From %v: %v joins, place: %v.", m.On, match.Label{Text: m.Passenger}, v.about(s.Joining[at].AddOn)))
			continue
		}
		said = append(said, v.markWords(m))
	}
	return said
}

// placeName names the place that an add-on gives, or the frame itself.
func (v *Viewer) placeName(code string) string {
	where := v.Say("the frame’s own place")
	if code != "" {
		where = v.AddOnName(code)
	}
	return say.Capital(where)
}
