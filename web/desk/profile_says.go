package desk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/web/form"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// nothingYet is what a step says that nobody has answered.
const nothingYet = "Not asked yet"

// reads says at a field what was understood of it, and of a child who was not
// weighed what is reckoned with until then.
func (v *formViewer) reads(name string) string {
	if v.Form.Hides(name) || v.Faults.At(name) != "" {
		return ""
	}
	if said := v.Form.Understood(name, v.today); said != "" || v.Form.Get(name) != "" {
		return said
	}
	m := talk.ListPath.FindStringSubmatch(name)
	if m == nil || m[1] != form.Passengers || !strings.HasSuffix(name, ".weight_kg") {
		return ""
	}
	row, _ := strconv.Atoi(m[2]) // the pattern holds digits only
	all := v.Form.Told(v.today).Passengers.Or(nil)
	if row >= len(all) {
		return ""
	}
	if likely, ok := fitting.Reckoned(&all[row], v.today, v.Settings.Settings); ok {
		return "likely " + likely.Show(v.System(), measure.Up)
	}
	return ""
}

// says are the answers of each step in one line, by the name of the step.
func (v *formViewer) says() map[string]string {
	told := v.Form.Told(v.today)
	return map[string]string{
		aboutStep: v.saysAbout(), form.Riders: v.saysRiders(told), form.Passengers: v.saysPassengers(told),
		cargoStep: v.saysCargo(told), homeStep: v.saysHome(told), moneyStep: v.saysMoney(told),
	}
}

// saysAbout names the customer and how it is talked with them.
func (v *formViewer) saysAbout() string {
	name := strings.TrimSpace(v.Form.Get(form.Customer))
	if name == "" {
		name = "No name"
	}
	language, _ := say.Known(v.Form.Get(form.Language))
	if language == "" {
		language = say.English
	}
	return fmt.Sprintf("%s · %s and %s · papers in %s", name, v.System().MassUnit(), v.System().LengthUnit(), language.Name())
}

func (v *formViewer) saysRiders(p *profile.Profile) string {
	var all []string
	for i := range p.Riders {
		r := &p.Riders[i]
		parts := []string{"height open", "not weighed"}
		if height, ok := r.Height.Get(); ok {
			parts[0] = height.Show(v.System(), measure.Nearest)
		}
		if weight, ok := r.Weight.Get(); ok {
			parts[1] = weight.Show(v.System(), measure.Nearest) + " " + string(r.Weighed.Or("told"))
		}
		if v.Form.HidesWeights() && r.Weight.IsGiven() {
			parts[1] = "weighed"
		}
		if r.Height.IsGiven() || r.Weight.IsGiven() || len(p.Riders) > 1 {
			all = append(all, strings.TrimSpace(r.Label+" "+strings.Join(parts, ", ")))
		}
	}
	return joined(all)
}

func (v *formViewer) saysPassengers(p *profile.Profile) string {
	if p.Passengers.IsUnknown() {
		return "To ask"
	}
	var all []string
	for _, c := range p.Passengers.Or(nil) {
		parts := []string{c.Label}
		born, ok := c.Born.Get()
		switch {
		case ok && !born.IsZero():
			parts = append(parts, form.Age(born, v.today))
			if form.Waits(born, v.today) {
				parts = append(parts, "rides from the first birthday on")
			}
		default:
			parts = append(parts, "birth open")
		}
		if weight, ok := c.Weight.Get(); ok {
			parts = append(parts, weight.Show(v.System(), measure.Nearest))
		}
		all = append(all, strings.Join(parts, ", "))
	}
	if len(all) == 0 {
		return "Nobody so far"
	}
	return joined(all)
}

func (v *formViewer) saysCargo(p *profile.Profile) string {
	var all []string
	if pet, ok := p.Pet.Get(); ok {
		all = append(all, "pet "+pet.Show(v.System(), measure.Nearest))
	}
	var cargo []string
	if m, ok := p.Cargo.Get(); ok {
		cargo = append(cargo, m.Show(v.System(), measure.Nearest))
	}
	if size, ok := p.CargoSize.Get(); ok {
		cargo = append(cargo, size.Show(measure.Nearest))
	}
	if len(cargo) > 0 {
		all = append(all, "cargo "+strings.Join(cargo, ", "))
	}
	return joined(all)
}

func (v *formViewer) saysHome(p *profile.Profile) string {
	if p.Home.IsUnknown() {
		return "To ask"
	}
	h := p.Home.Or(profile.Home{})
	var all []string
	if space := v.lengths(h.Length, h.Width, h.Height); space != "" {
		all = append(all, space)
	}
	for _, d := range h.Doorways.Or(nil) {
		all = append(all, "doorway "+v.lengths(d.Width, d.Height))
	}
	for _, c := range h.Corners.Or(nil) {
		all = append(all, "corner "+v.lengths(c.In, c.Out))
	}
	if l, ok := h.Lift.Get(); ok {
		all = append(all, "lift "+v.lengths(l.Length, l.Width))
	}
	if n, ok := h.Steps.Get(); ok {
		all = append(all, say.Counted(n, "step", "steps"))
	}
	return joined(all)
}

// lengths writes lengths in a row, those that are not known as a question
// mark; nothing where none is known.
func (v *formViewer) lengths(list ...profile.Answer[measure.Length]) string {
	if !slices.ContainsFunc(list, profile.Answer[measure.Length].IsGiven) {
		return ""
	}
	var shown []string
	for _, a := range list {
		one := "?"
		if l, ok := a.Get(); ok {
			one, _, _ = strings.Cut(l.Show(v.System(), measure.Nearest), " ")
		}
		shown = append(shown, one)
	}
	return strings.Join(shown, " × ") + " " + v.System().LengthUnit()
}

func (v *formViewer) saysMoney(p *profile.Profile) string {
	var all []string
	if budget, ok := p.Budget.Get(); ok {
		text := v.Speaker.Money(budget, v.Catalogue.Shop.Currency)
		if p.BudgetFirm.Or(false) {
			text += " and not a cent more"
		}
		all = append(all, text)
	}
	if n, ok := p.Years.Get(); ok {
		all = append(all, say.Counted(n, "year", "years"))
	}
	if hill, ok := p.Hill.Get(); ok {
		all = append(all, "hill "+hill.String())
	}
	return joined(all)
}

func joined(all []string) string {
	if len(all) == 0 {
		return nothingYet
	}
	return strings.Join(all, "; ")
}
