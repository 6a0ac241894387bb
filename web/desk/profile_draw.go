package desk

import (
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/measure"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// formViewer makes the view of a form.
type formViewer struct {
	*talk.Consultation
	insist bool // say what is missing, not only what is wrong
}

func formView(c *talk.Consultation, insist bool) Profile {
	v := &formViewer{c, insist}
	view := Profile{
		Action: c.Address(""), Live: c.Address("/live"),
		Customer: v.text(form.Customer, "Customer", "A first letter will do, or nothing."),
		Units: v.choice(form.Units, "Units", "",
			kit.Option{Value: "metric", Label: "kg and cm"}, kit.Option{Value: form.Imperial, Label: "lb and inches"}),
		Sections: []Section{v.riders(), v.passengers(), v.cargo(), v.home(), v.doorways(), v.corners(), v.lift(), v.money()},
	}
	if insist {
		view.Faults = len(c.Faults)
	}
	return view
}

// field fills in what was typed and what is wrong with it.
func (v *formViewer) field(name, label, hint string) kit.Field {
	f := kit.Field{Name: name, Label: label, Hint: hint, Value: v.Form.Get(name), Unknown: v.Form.Unknown(name)}
	if v.insist || f.Value != "" {
		f.Error = v.Faults.At(name)
	}
	return f
}

func (v *formViewer) text(name, label, hint string) kit.Field {
	f := v.field(name, label, hint)
	f.Mode = "text"
	return f
}

// figure is a field for a number pad, unless the units in use are written
// with letters and marks.
func (v *formViewer) figure(name, label, hint string) kit.Field {
	f := v.field(name, label, hint)
	f.Mode = "decimal"
	switch {
	case strings.HasSuffix(name, "_kg"):
		f.Unit = v.System().MassUnit()
	case strings.HasSuffix(name, "_cm"):
		f.Unit = v.System().LengthUnit()
	}
	if f.Unit != "" && v.System() == measure.Imperial {
		f.Mode = "text"
	}
	return f
}

// asked is a figure that may be answered by "don't know yet".
func (v *formViewer) asked(name, label, hint string) kit.Field {
	f := v.figure(name, label, hint)
	f.MayOpen = true
	return f
}

func (v *formViewer) choice(name, label, hint string, options ...kit.Option) kit.Field {
	f := v.field(name, label, hint)
	f.Options = options
	return f
}

// askedChoice is a choice that may be answered by "don't know yet".
func (v *formViewer) askedChoice(name, label, hint string, options ...kit.Option) kit.Field {
	f := v.choice(name, label, hint, options...)
	f.MayOpen = true
	return f
}

func (v *formViewer) tick(name, label string) kit.Field {
	f := v.field(name, label, "")
	f.Check = "yes"
	return f
}

// openTick is the box "don't know yet" of a whole list or section.
func (v *formViewer) openTick(name, label string) kit.Field {
	return kit.Field{Name: name, Label: label, Unknown: v.Form.Unknown(name)}
}

// row is one row of a list, of which the fields in more are folded away while
// they are empty and right.
func (v *formViewer) row(list string, i, least int, title string, fields, more []kit.Field) Row {
	r := Row{Title: title, Fields: fields, More: more}
	if v.Form.Rows(list) > least {
		r.Remove = kit.Button{Label: "Remove " + title, Value: fmt.Sprintf("remove %s %d", list, i)}
	}
	r.Open = unfolded(more)
	return r
}

// unfolded reports whether anything but a name was answered in the fields, or
// is wrong with one.
func unfolded(fields []kit.Field) bool {
	return slices.ContainsFunc(fields, func(f kit.Field) bool {
		return f.Error != "" || f.Unknown || f.Value != "" && !strings.HasSuffix(f.Name, ".label")
	})
}

func (v *formViewer) riders() Section {
	s := Section{ID: "riders", List: form.Riders, Error: v.Faults.At(form.Riders), Title: "Who rides?",
		Lead: "Weigh each rider with everything that rides along: shoes, clothes, helmet, lock and bag.",
		Add:  kit.Button{Label: "Add a rider", Value: "add riders"}}
	for i := range v.Form.Rows(form.Riders) {
		at := func(field string) string { return form.At(form.Riders, i, field) }
		height, weight := v.asked(at("height_cm"), "Height", "178 cm, 1.78 m or 5'10\""), v.asked(at("weight_kg"), "Riding weight", "82 kg, 180 lb or 12 st 12")
		height.Needed, weight.Needed = i == 0, i == 0
		s.Rows = append(s.Rows, v.row(form.Riders, i, 1, "rider "+orNumber(v.Form.Get(at("label")), i), []kit.Field{
			height, weight,
			v.choice(at("weighed"), "The weight was", "",
				kit.Option{Value: "", Label: "told: + " + v.Settings.Stated.Show(v.System(), measure.Up)},
				kit.Option{Value: "dressed", Label: "dressed, on a scale"},
				kit.Option{Value: "undressed", Label: "undressed: + " + v.Settings.Undressed.Show(v.System(), measure.Up)}),
		}, []kit.Field{
			v.text(at("label"), "Called", ""),
			v.asked(at("inseam_cm"), "Inseam", "Floor to crotch, in riding shoes."),
			v.askedChoice(at("grip"), "Grip on the brakes", "", kit.Option{Value: "", Label: "full"}, kit.Option{Value: "reduced", Label: "reduced"}),
		}))
	}
	return s
}

func orNumber(label string, i int) string {
	if strings.TrimSpace(label) == "" {
		return fmt.Sprint(i + 1)
	}
	return label
}

func (v *formViewer) passengers() Section {
	s := Section{ID: "passengers", List: form.Passengers, Error: v.Faults.At(form.Passengers), Title: "Who comes along?",
		Lead:    "No infant under 12 months. The maker’s manual and local law decide who may ride along.",
		Unknown: v.openTick(form.Passengers, "who comes along"),
		Add:     kit.Button{Label: "Add a passenger", Value: "add passengers"}}
	for i := range v.Form.Rows(form.Passengers) {
		at := func(field string) string { return form.At(form.Passengers, i, field) }
		born := v.asked(at("born"), "Born", "5.2023, or the day: 14.5.2023")
		s.Rows = append(s.Rows, v.row(form.Passengers, i, 0, orNumber(v.Form.Get(at("label")), i), []kit.Field{
			born,
			v.asked(at("weight_kg"), "Weight", "As weighed; estimated from the age if left empty."),
			v.askedChoice(at("sits_unaided"), "Sits unaided, helmet on", "",
				kit.Option{Value: "", Label: "not asked"}, kit.Option{Value: "yes", Label: "yes"}, kit.Option{Value: "no", Label: "not yet"}),
		}, []kit.Field{
			v.text(at("label"), "Called", ""),
			v.asked(at("stature_cm"), "Height", "Estimated if left empty."),
			v.choice(at("sex"), "Growth reference", "",
				kit.Option{Value: "", Label: "mean of both"}, kit.Option{Value: "girl", Label: "girls"}, kit.Option{Value: "boy", Label: "boys"}),
			v.asked(at("joins"), "Joins later, in", "A month, such as 3.2027."),
			v.asked(at("leaves_at_years"), "Rides alone from age", "In years."),
		}))
	}
	return s
}

func (v *formViewer) cargo() Section {
	return Section{ID: "cargo", Title: "What else comes along?", Fields: []kit.Field{
		v.asked("pet_kg", "Dog or other pet", "Its weight."),
		v.asked("cargo_kg", "Groceries, tools, bags", "The most on one trip."),
		v.asked("cargo_litres", "And how bulky", "In litres; a full shopping bag is about 20."),
	}}
}

func (v *formViewer) home() Section {
	return Section{ID: "home", Title: "Where will it sleep?", Lead: "The place itself, wall to wall.",
		Unknown: v.openTick("home", "where it will sleep"),
		Fields: []kit.Field{
			v.asked("home.length_cm", "Length", ""),
			v.asked("home.width_cm", "Width", ""),
			v.asked("home.height_cm", "Height", ""),
			v.asked("home.steps", "Steps on the way", "How many."),
			v.asked("home.clearance_cm", "Keep free beside it", "If something else has to pass."),
			v.tick("home.must_stand_upright", "It has to stand upright on its tail"),
		}}
}

func (v *formViewer) doorways() Section {
	s := Section{ID: "doorways", List: form.Doorways, Error: v.Faults.At(form.Doorways), Title: "Doorways on the way in", Add: kit.Button{Label: "Add a doorway", Value: "add " + form.Doorways},
		Unknown: v.openTick(form.Doorways, "doorways")}
	for i := range v.Form.Rows(form.Doorways) {
		at := func(field string) string { return form.At(form.Doorways, i, field) }
		s.Rows = append(s.Rows, v.row(form.Doorways, i, 0, fmt.Sprintf("doorway %d", i+1), []kit.Field{
			v.asked(at("width_cm"), "Clear width", ""), v.asked(at("height_cm"), "Clear height", ""),
		}, nil))
	}
	return s
}

func (v *formViewer) corners() Section {
	s := Section{ID: "corners", List: form.Corners, Error: v.Faults.At(form.Corners), Title: "Corners in the corridor", Add: kit.Button{Label: "Add a corner", Value: "add " + form.Corners},
		Unknown: v.openTick(form.Corners, "corners")}
	for i := range v.Form.Rows(form.Corners) {
		at := func(field string) string { return form.At(form.Corners, i, field) }
		s.Rows = append(s.Rows, v.row(form.Corners, i, 0, fmt.Sprintf("corner %d", i+1), []kit.Field{
			v.asked(at("in_cm"), "Corridor before", "Its width."), v.asked(at("out_cm"), "Corridor after", "Its width."),
		}, nil))
	}
	return s
}

func (v *formViewer) lift() Section {
	s := Section{ID: "lift", Title: "A lift on the way", Unknown: v.openTick("home.lift", "the lift"), MoreTo: "Measures of the lift", More: []kit.Field{
		v.asked("home.lift.length_cm", "Car length", ""), v.asked("home.lift.width_cm", "Car width", ""),
		v.asked("home.lift.height_cm", "Door and car height", "The lower one."), v.asked("home.lift.door_cm", "Door width", ""),
	}}
	s.Open = unfolded(s.More)
	return s
}

func (v *formViewer) money() Section {
	budget := v.asked("budget_cents", "Budget", "Bike, add-ons and fitting.")
	budget.Unit = v.Catalogue.Shop.Currency
	return Section{ID: "money", Title: "What may it cost, and how long should it last?", Fields: []kit.Field{
		budget,
		v.tick("budget_firm", "Not a cent more"),
		v.asked("years", "Years it should last", "Up to 10."),
		v.asked("hill_percent", "Steepest hill on the way", "In percent; a steep street has 7 to 10."),
		v.choice("objective", "Add-ons chosen for", "",
			kit.Option{Value: "", Label: "the lowest cost"}, kit.Option{Value: "lightest", Label: "the lowest weight"}, kit.Option{Value: "longest", Label: "the longest use"}),
	}}
}

// firstFields is where typing goes on in a new row of each list.
var firstFields = map[string]string{form.Riders: "height_cm", form.Passengers: "born", form.Doorways: "width_cm", form.Corners: "in_cm"}

// sectionOf is the id of the field at a path, or of the section that holds a
// list.
func sectionOf(path string) string {
	if path == form.Doorways || path == form.Corners {
		return strings.TrimPrefix(path, "home.")
	}
	return path
}
