package match

import "slices"

// Brakes says what the brakes of the frame are, as far as the maker states
// them, and that they suit the load where no reason says otherwise.
func (m *Match) Brakes() []Message {
	front, rear := m.Frame.FrontBrake, m.Frame.RearBrake
	var said []Message
	switch {
	case front == "" && rear == "":
		return []Message{say("The maker does not state the brakes.")}
	case rear == "":
		said = append(said, say("Brake in front: %v. The maker states no other.", wordOf(front)))
	case front == "":
		said = append(said, say("Brake behind: %v. The maker states no other.", wordOf(rear)))
	default:
		said = append(said, say("Brakes: %v in front, %v behind.", wordOf(front), wordOf(rear)))
	}
	if !slices.ContainsFunc(m.Reasons, func(r Reason) bool { return r.Code == ReasonBrakes || r.Code == ReasonGrip && r.Weight == Care }) {
		said = append(said, say("They suit this load."))
	}
	return said
}
