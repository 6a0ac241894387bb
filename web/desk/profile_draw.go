package desk

import (
	"fmt"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// formViewer makes the view of a form.
type formViewer struct {
	*talk.Consultation
	today  measure.Date
	insist bool     // say what is missing, not only what is wrong
	had    []string // questions whose boxes are shown
}

func formView(c *talk.Consultation, today measure.Date, insist bool) Profile {
	v := &formViewer{Consultation: c, today: today, insist: insist}
	view := Profile{
		Action: c.Address(""), Live: c.Address("/live"),
		Customer: v.typed(kit.Field{Name: form.Customer, Label: "Customer", Hint: "A first letter will do, or nothing.", Mode: "text"}),
		Units: v.typed(kit.Field{Name: form.Units, Label: "Units",
			Options: []kit.Option{{Value: "metric", Label: "kg and cm"}, {Value: form.Imperial, Label: "lb and inches"}}}),
		Language: v.typed(kit.Field{Name: form.Language, Label: "Papers in", Options: languages()}),
		Line:     v.typed(kit.Field{Name: form.Line, Label: "Type it as you hear it", Hint: "5'11 and 163, kids 14 months and 4, dog 30, lift 140 by 110, 5500"}),
		Steps: []Step{
			{ID: form.Riders, Title: "Who rides?", Sections: []Section{v.riders()}},
			{ID: form.Passengers, Title: "Who comes along?", Sections: []Section{v.passengers()}},
			{ID: cargoStep, Title: "What else comes along?", Sections: []Section{v.cargo()}},
			{ID: homeStep, Title: "Where will it sleep?", Sections: []Section{v.home(), v.doorways(), v.corners(), v.lift()}},
			{ID: moneyStep, Title: "What may it cost, and how long should it last?", Sections: []Section{v.money()}},
		},
	}
	view.Hide = v.typed(kit.Field{Name: form.Hide, Label: "Hide what riders weigh", Check: "yes"})
	v.had = append(v.had, form.Hide)
	view.Hides = v.Form.HidesWeights()
	says := v.says()
	view.Says = says[aboutStep]
	for i := range view.Steps {
		s := &view.Steps[i]
		if s.Says = says[s.ID]; i+1 < len(view.Steps) {
			s.Next = view.Steps[i+1].ID
			s.NextTitle = view.Steps[i+1].Title
		}
	}
	opened(view.Steps, c.Profile != nil)
	view.Version, view.Had = kit.Count(c.Version), strings.Join(v.had, " ")
	if insist {
		view.Faults = len(c.Faults)
	}
	return view
}

// The steps of the talk that are no list, and what is said of it as a whole.
const (
	aboutStep = "about"
	cargoStep = "cargo"
	homeStep  = "home"
	moneyStep = "money"
)

// steps are all of them, in the order of the talk.
var steps = []string{form.Riders, form.Passengers, cargoStep, homeStep, moneyStep}

// opened opens one step: the first with a fault, else the first while no frame
// can be ranked for want of a rider, else the first that nobody has answered,
// else the first.
func opened(all []Step, ranks bool) {
	at := slices.IndexFunc(all, Step.faulty)
	if at < 0 && ranks {
		at = slices.IndexFunc(all, func(s Step) bool { return s.Says == nothingYet })
	}
	all[max(at, 0)].Open = true
}

// languages begin with that of the shop.
func languages() []kit.Option {
	var options []kit.Option
	for _, l := range say.Languages {
		options = append(options, kit.Option{Value: string(l), Label: l.Name()})
	}
	return options
}

// typed fills in what was typed and what is wrong with it.
func (v *formViewer) typed(f kit.Field) kit.Field {
	f.Value, f.Unknown = v.Form.Get(f.Name), v.Form.Unknown(f.Name)
	if v.insist || f.Value != "" {
		f.Error = v.Faults.At(f.Name)
	}
	return f
}

// asked is the field of one question.
func (v *formViewer) asked(name string, q *profile.Question) kit.Field {
	f := v.typed(kit.Field{Name: name, Label: q.Label, Hint: q.Hint, MayOpen: !q.Sure})
	if f.Echo = q.Kind == profile.Figure; f.Echo {
		f.Reads = v.reads(name)
	}
	if f.MayOpen {
		v.had = append(v.had, name)
	}
	switch q.Kind {
	case profile.Text:
		f.Mode = "text"
	case profile.Tick:
		f.Check = "yes"
		v.had = append(v.had, name)
	case profile.Choice:
		for _, w := range q.Words {
			f.Options = append(f.Options, kit.Option{Value: w.Value, Label: v.allowing(w)})
		}
	case profile.Figure:
		f.Mode, f.Unit = "decimal", v.unit(name)
		if strings.HasSuffix(name, "_kg") || strings.HasSuffix(name, "_cm") {
			f.Mode = "text" // 5'11 and 10 st 3 are welcome, for which a number pad has no keys
		}
		if f.Month = strings.HasSuffix(name, ".born") || strings.HasSuffix(name, ".joins"); f.Month {
			f.Mode = "text" // and 14 months
		}
	}
	return f
}

func (v *formViewer) unit(name string) string {
	switch {
	case strings.HasSuffix(name, "_kg"):
		return v.System().MassUnit()
	case strings.HasSuffix(name, "_cm"):
		return v.System().LengthUnit()
	case strings.HasSuffix(name, "_cents"):
		return v.Catalogue.Shop.Currency
	}
	return ""
}

// allowing says a word with what the shop allows for it.
func (v *formViewer) allowing(w profile.Word) string {
	allowance := v.Settings.Stated
	if w.Value == string(profile.Undressed) {
		allowance = v.Settings.Undressed
	}
	return strings.ReplaceAll(w.Label, "%s", allowance.Show(v.System(), measure.Up))
}

// questions are the fields of a section of the profile itself, or of somebody
// or something at a path, those that are folded away apart.
func (v *formViewer) questions(path, section string, list []profile.Question) (fields, more []kit.Field) {
	for i := range list {
		q := &list[i]
		switch {
		case q.Sub != nil || q.Section != section:
		case q.Aside:
			more = append(more, v.asked(problem.Join(path, q.Name), q))
		default:
			fields = append(fields, v.asked(problem.Join(path, q.Name), q))
		}
	}
	return fields, more
}

// of are the questions about each row of a list, or the parts of a thing.
func of(path string) []profile.Question {
	q, _ := profile.Of(path)
	return q.Sub
}

// openTick is the box "don't know yet" of a whole list or section.
func (v *formViewer) openTick(name, label string) kit.Field {
	v.had = append(v.had, name)
	return kit.Field{Name: name, Label: label, Unknown: v.Form.Unknown(name)}
}

// rows are the fields of a list, of which those aside are folded away while
// they are empty and right.
func (v *formViewer) rows(list string, least int, title func(i int) string) []Row {
	var rows []Row
	for i := range v.Form.Rows(list) {
		r := Row{Title: title(i)}
		r.Fields, r.More = v.questions(problem.Index(list, i), "", of(list))
		for k := range r.Fields {
			if r.Fields[k].Hint != "" {
				r.Fields[k].HintAt = hintAt(r.Fields[k].Name)
			}
		}
		if v.Form.Rows(list) > least {
			r.Remove = kit.Button{Label: r.Title, Value: fmt.Sprintf("remove %s %d", list, i)}
		}
		switch list {
		case form.Riders:
			r.Again = kit.Button{Label: "Weigh with the screen turned", Value: fmt.Sprintf("weigh %d", i)}
		case form.Passengers:
			r.Again = kit.Button{Label: "Add a twin", Value: fmt.Sprintf("again %s %d", list, i)}
		case form.Doorways, form.Corners:
			r.Again = kit.Button{Label: "The same again", Value: fmt.Sprintf("again %s %d", list, i)}
		}
		r.Open = unfolded(r.More)
		rows = append(rows, r)
	}
	return rows
}

// named ties a part of a step without a title of its own to that of the step.
func named(s Section) templ.Attributes {
	if s.Title != "" {
		return nil
	}
	return templ.Attributes{"aria-labelledby": s.ID + "-step"}
}

// hintAt is the id of the hint for a field that all rows of its list share.
func hintAt(name string) string {
	list, row, _ := strings.Cut(name, "[")
	_, field, _ := strings.Cut(row, "].")
	return list + "." + field + "-hint"
}

// hints are what all rows of a list say alike; it is said once above them.
func (v *formViewer) hints(list string) []Hint {
	var all []Hint
	for _, q := range of(list) {
		if q.Hint != "" && !q.Aside && v.Form.Rows(list) > 0 {
			all = append(all, Hint{ID: hintAt(form.At(list, 0, q.Name)), Label: q.Label, Text: q.Hint})
		}
	}
	return all
}

// unfolded reports whether anything but a name was answered in the fields, or
// is wrong with one.
func unfolded(fields []kit.Field) bool {
	return slices.ContainsFunc(fields, func(f kit.Field) bool {
		return f.Error != "" || f.Unknown || f.Value != "" && !strings.HasSuffix(f.Name, ".label")
	})
}

func (v *formViewer) riders() Section {
	s := Section{ID: "riders", List: form.Riders, Error: v.Faults.At(form.Riders), Hints: v.hints(form.Riders),
		Lead: "Weigh each rider with everything that rides along: shoes, clothes, helmet, lock and bag.",
		Add:  kit.Button{Label: "Add a rider", Value: "add riders"},
		Rows: v.rows(form.Riders, 1, func(i int) string { return "rider " + v.called(form.Riders, i) })}
	for _, first := range s.Rows[:min(1, len(s.Rows))] {
		for i, f := range first.Fields {
			first.Fields[i].Needed = strings.HasSuffix(f.Name, ".height_cm") || strings.HasSuffix(f.Name, ".weight_kg")
		}
	}
	return s
}

// called is the name of a row, or its number.
func (v *formViewer) called(list string, i int) string {
	if label := v.Form.Get(form.At(list, i, "label")); strings.TrimSpace(label) != "" {
		return label
	}
	return fmt.Sprint(i + 1)
}

func (v *formViewer) passengers() Section {
	return Section{ID: "passengers", List: form.Passengers, Error: v.Faults.At(form.Passengers), Hints: v.hints(form.Passengers),
		Lead:    "No infant under 12 months. The maker’s manual and local law decide who may ride along.",
		Unknown: v.openTick(form.Passengers, "who comes along"),
		Add:     kit.Button{Label: "Add a passenger", Value: "add passengers"},
		Rows:    v.rows(form.Passengers, 0, func(i int) string { return v.called(form.Passengers, i) })}
}

func (v *formViewer) cargo() Section {
	s := Section{ID: cargoStep}
	s.Fields, s.More = v.questions("", "cargo", profile.Questions)
	for _, u := range form.Usuals {
		says := u.Mass.Show(v.System(), measure.Nearest)
		if u.Bulk > 0 {
			says = "+ " + says + ", " + u.Bulk.Show(measure.Nearest)
		}
		s.Usual = append(s.Usual, Usual{Label: u.Label, Value: "bring " + u.Code, Says: says})
	}
	return s
}

func (v *formViewer) home() Section {
	s := Section{ID: homeStep, Title: "The place, wall to wall", Unknown: v.openTick("home", "where it will sleep")}
	s.Fields, s.More = v.questions("home", "", of("home"))
	return s
}

func (v *formViewer) doorways() Section {
	return v.way(form.Doorways, "Doorways on the way in", "doorway")
}

func (v *formViewer) corners() Section {
	return v.way(form.Corners, "Corners in the corridor", "corner")
}

// way is what has to be passed on the way home.
func (v *formViewer) way(list, title, one string) Section {
	id := sectionOf(list)
	return Section{ID: id, List: list, Error: v.Faults.At(list), Title: title, Hints: v.hints(list), Add: kit.Button{Label: "Add a " + one, Value: "add " + list},
		Unknown: v.openTick(list, id), Rows: v.rows(list, 0, func(i int) string { return fmt.Sprintf("%s %d", one, i+1) })}
}

func (v *formViewer) lift() Section {
	s := Section{ID: "lift", Title: "A lift on the way", Unknown: v.openTick("home.lift", "the lift"), MoreTo: "Measures of the lift"}
	s.Fields, s.More = v.questions("home.lift", "", of("home.lift"))
	s.Open = unfolded(s.More)
	return s
}

func (v *formViewer) money() Section {
	s := Section{ID: moneyStep}
	s.Fields, s.More = v.questions("", "money", profile.Questions)
	return s
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
