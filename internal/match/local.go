package match

import (
	"maps"
	"strings"

	"kinwain/internal/measure"
)

// The local rules, by the names that their figures are kept by.
const (
	LocalRiderAge     = "local_rider_age"
	LocalPassengerAge = "local_passenger_age"
	LocalPassengers   = "local_passengers"
	LocalHelmets      = "local_helmets" // words alone
	LocalWidth        = "local_width_mm"
)

// LocalRules is every local rule.
var LocalRules = []string{LocalRiderAge, LocalPassengerAge, LocalPassengers, LocalHelmets, LocalWidth}

// WordsOf names the text that holds the shop's words for a local rule.
func WordsOf(rule string) string { return strings.TrimSuffix(rule, "_mm") + "_words" }

// Local are the rules of the place as the shop has read them. What is zero or
// has no word sets none.
type Local struct {
	RiderAge     int64             // least, in years, of a rider with passengers
	PassengerAge int64             // greatest, in whole years
	Passengers   int64             // greatest number
	Width        measure.Length    // greatest, of the build
	Words        map[string]string // of the shop, by rule
}

// Texts returns the words by name, as a store keeps them.
func (l *Local) Texts() map[string]string {
	texts := map[string]string{}
	for rule, words := range l.Words {
		texts[WordsOf(rule)] = words
	}
	return texts
}

// WithTexts returns the settings with what a shop keeps as texts, by name.
// Names that it does not know are ignored.
func (s Settings) WithTexts(texts map[string]string) Settings {
	s.Local.Words = maps.Clone(s.Local.Words)
	for _, rule := range LocalRules {
		if words := texts[WordsOf(rule)]; words != "" {
			if s.Local.Words == nil {
				s.Local.Words = map[string]string{}
			}
			s.Local.Words[rule] = words
		}
	}
	return s
}

// localReasons asks for care where a local rule is not kept, or where what it
// is about is not known.
func (j *judge) localReasons(m *Match) []Reason {
	var reasons []Reason
	local := &j.settings.Local
	riding := present(j.demand.Today)
	if riding > 0 {
		reasons = append(append(reasons, j.localRiders()...), j.localPassengers()...)
		if words := local.Words[LocalHelmets]; words != "" {
			reasons = append(reasons, Reason{Code: ReasonLocalRule, Weight: Care, Rule: LocalHelmets,
				Message: say("Local rule, as the shop has read it: %v", sentence(words))})
		}
	}
	if most := local.Passengers; most > 0 && int64(riding) > most {
		reasons = append(reasons, local.reason(LocalPassengers, say("No more than %v passengers.", int(most)), say("Passengers here: %v.", riding)))
	}
	if wide := m.Bike.Flat.Width; local.Width > 0 && wide > local.Width {
		is := say("With these add-ons the bike is %v wide.", up(wide))
		if wide == m.Frame.Width {
			is.Format = "The bike itself is %v wide."
		}
		r := local.reason(LocalWidth, say("No wider than %v.", down(local.Width)), is)
		r.OverSize = wide - local.Width
		reasons = append(reasons, r)
	}
	return reasons
}

// localRiders holds the riders against the least age with passengers.
func (j *judge) localRiders() []Reason {
	var reasons []Reason
	local := &j.settings.Local
	if local.RiderAge == 0 {
		return nil
	}
	for i := range j.profile.Riders {
		p := &j.profile.Riders[i]
		age, known := p.Age.Get()
		fact := say("Rider %v is %v years old.", p.Label, age)
		if !known {
			fact = say("The age of rider %v is not known.", p.Label)
		}
		if int64(age) < local.RiderAge {
			r := local.reason(LocalRiderAge, say("Whoever rides with passengers is %v or older.", int(local.RiderAge)), fact)
			r.Rider = p.Label
			reasons = append(reasons, r)
		}
	}
	return reasons
}

// localPassengers holds the passengers against the greatest age, those who
// join later on the day on which they do.
func (j *judge) localPassengers() []Reason {
	var reasons []Reason
	local := &j.settings.Local
	passengers := j.profile.Passengers.Or(nil)
	for i := range passengers {
		p := &passengers[i]
		if local.PassengerAge == 0 || !j.demand.Today[i].Present {
			continue
		}
		on := j.demand.Day
		if joins, later := p.JoinsOn(j.profile.AsOf); later && on.Before(joins) {
			on = joins
		}
		fact := say("The age of %v is not known.", Label{Text: p.Label})
		if born, known := p.Born.Get(); known {
			age := years(born, on)
			if int64(age) <= local.PassengerAge {
				continue
			}
			fact = say("%v is %v years old.", Label{p.Label, true}, age)
		}
		r := local.reason(LocalPassengerAge, say("Passengers are %v or younger.", int(local.PassengerAge)), fact)
		r.Passenger = p.Label
		reasons = append(reasons, r)
	}
	return reasons
}

// years returns the most whole years that somebody may have lived on a day.
func years(born, on measure.Date) int {
	n := 0
	for !on.Before(born.Earliest().AddMonths(12 * (n + 1))) {
		n++
	}
	return n
}

// reason says a rule in the shop's words, in plain ones where it has none, and
// what is not as it says.
func (l *Local) reason(rule string, plain, fact Message) Reason {
	r := Reason{Code: ReasonLocalRule, Weight: Care, Rule: rule}
	var words any = plain
	if l.Words[rule] != "" {
		words = sentence(l.Words[rule])
	}
	r.Message = say("Local rule, as the shop has read it: %v %v", words, fact)
	return r
}

// sentence ends words as a sentence ends.
func sentence(words string) string {
	if strings.ContainsAny(words[len(words)-1:], ".!?") {
		return words
	}
	return words + "."
}
