package talk

import "kinwain/internal/fitting"

// RelaxedNames say what a build may leave out.
var RelaxedNames = map[fitting.Relaxation]string{
	fitting.WithoutHome: "the home", fitting.WithoutLitres: "the cargo’s bulk", fitting.WithoutCargo: "the cargo’s weight",
	fitting.WithoutPet: "the pet", fitting.WithoutPassengers: "the passengers",
}

// RelaxedWords says what the shown build leaves out.
func (v *Viewer) RelaxedWords() string {
	if len(v.Relaxed) == 0 {
		return ""
	}
	return v.Say("No build does everything asked. The add-ons below leave out %v; the sum counts all that was asked for.", v.leftOut())
}

// Heading is the heading of what is told of the build: with what it leaves out
// to seat and to carry the rest, where it does not do what was asked.
func (v *Viewer) Heading(of string) string {
	if len(v.Relaxed) == 0 {
		return v.Say(of)
	}
	return v.Say("%v (leaves out %v)", v.Say(of), v.leftOut())
}

func (v *Viewer) leftOut() string {
	var names []string
	for _, r := range v.Relaxed {
		names = append(names, v.Say(RelaxedNames[r]))
	}
	return v.Speaker.List(names)
}

// NothingWords say of a build without add-ons why it has none.
func (v *Viewer) NothingWords() string {
	if v.Fits() {
		return v.Say("Nothing: the frame does it as it comes.")
	}
	return v.Say("Nothing that may be added makes it do what was asked.")
}

// SheetHeading is the heading of the load sheets: those of a frame that cannot
// do it all count all the same what was asked for.
func (v *Viewer) SheetHeading(of string) string {
	if len(v.Relaxed) == 0 {
		return v.Say(of)
	}
	return v.Say("%v (with all that was asked for)", v.Say(of))
}
