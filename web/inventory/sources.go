package inventory

import (
	"cmp"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// kept is the choice of the source that was noted before.
const kept = wares.Kept

// sourceKinds are where a figure may come from, in words.
var sourceKinds = map[string]string{"rating_plate": "Rating plate", "manual": "Manual", "maker_answer": "Maker’s answer", "own_measure": "Own scale or tape"}

// sourceWords says where a figure comes from: rating plate, 12 March 2026, M.,
// with a photo.
func sourceWords(s wares.Source) string {
	words := []string{cmp.Or(sourceKinds[s.Kind], s.Kind), dayWords(s.On)}
	for _, more := range []string{s.By, s.Reference} {
		if more != "" {
			words = append(words, more)
		}
	}
	if s.Photo != "" {
		words = append(words, "with a photo")
	}
	return strings.Join(words, ", ")
}

// dayWords writes a day, or a month where that is all that is known.
func dayWords(d measure.Date) string {
	if d.Day == 0 {
		return fmt.Sprintf("%v %d", d.Month, d.Year)
	}
	return fmt.Sprintf("%d %v %d", d.Day, d.Month, d.Year)
}

// sourceIn says the source that one side of a change has, as its document does.
func sourceIn(text string) string {
	var s wares.Source
	if json.Unmarshal([]byte(text), &s) != nil {
		return catalog.Words(text)
	}
	return lowered(sourceWords(s))
}

// lowered writes the first letter of words small, as within a sentence.
func lowered(words string) string {
	for _, r := range words {
		return strings.ToLower(string(r)) + words[len(string(r)):]
	}
	return words
}

// source draws the choice of where the figure of a field comes from.
func (d *drawing) source(field, label string) *WareSource {
	name := wares.SourceOf(field)
	s := &WareSource{Field: kit.Field{Name: name, Label: say.Capital(sourceOf) + label, Value: d.typed.Get(name), Error: d.faults.At(name)}, Was: d.typed.Get(wares.WasOf(field))}
	was, noted := d.typed.Was(field)
	if noted {
		s.Kept, s.Link = sourceWords(was), was.Link
	}
	d.withPhoto(s, field, was)
	for _, kind := range catalog.EvidenceKinds {
		s.Options = append(s.Options, kit.Option{Value: kind, Label: sourceKinds[kind]})
	}
	return s
}

// ofFits draws where it is said that an add-on fits, for each frame that is
// ticked.
func (d *drawing) ofFits(f catalog.Field) (all []WareSource) {
	for _, frame := range d.typed.All(f.Name) {
		name := frame
		if of := d.current.Frame(frame); of != nil {
			name = of.Called()
		}
		one := d.source(f.Name+"["+frame+"]", "fits "+name)
		one.Shown, one.Photo = name, nil // they are as many as frames: the photo of all will do
		all = append(all, *one)
	}
	return all
}

// chosenNow draws what is said once of all sources that are chosen now.
func (d *drawing) chosenNow(view *WareSection) {
	view.Fold = "On " + d.today + ", by " + cmp.Or(d.who, "nobody") + ": another day or person, a link, a page, one photo of all"
	for _, f := range []kit.Field{
		{Name: wares.SourceOn, Label: "On", Value: d.today, Hint: "Year, month, day; or the month alone. Not in the future."},
		{Name: wares.SourceBy, Label: "By whom", Value: d.who},
		{Name: wares.SourceLink, Label: "Where it is on the web", Hint: "https://…"},
		{Name: wares.SourceReference, Label: "Which page", Hint: "Such as: page 14."},
	} {
		if d.typed.Has(f.Name) {
			f.Value = d.typed.Get(f.Name)
		}
		f.Error = d.faults.At(f.Name)
		view.Fields = append(view.Fields, WareField{Field: f})
		view.Open = view.Open || f.Error != ""
	}
	shared := d.photoField(wares.SourcePhoto, "Add a photo that shows all of them", "")
	view.Fields = append(view.Fields, WareField{Field: kit.Field{Name: shared.Name}, Shape: "photo", Photo: shared})
	view.Open = view.Open || shared.Error+shared.Sent != ""
}

// anew marks the sources of a thing that were chosen now: they hold whatever
// was noted before them.
func anew(c *catalog.Catalogue, list, code string, figures []string) {
	for _, thing := range c.Things(list) {
		if thing.Code != code || len(figures) == 0 {
			continue
		}
		all := catalog.EvidenceOf(thing.Of)
		*all = slices.Clone(*all)
		for i := range *all {
			(*all)[i].Anew = slices.Contains(figures, (*all)[i].Figure)
		}
	}
}

// besideFigures tells faults of evidence at the fields in which it was chosen.
func (e *editing) besideFigures(c *catalog.Catalogue, code string) {
	var noted []catalog.Evidence
	for _, thing := range c.Things(e.list) {
		if thing.Code == code {
			noted = *catalog.EvidenceOf(thing.Of)
		}
	}
	fields := map[string]string{}
	e.typed.EachSource(e.list, func(figure, field string) { fields[figure] = wares.SourceOf(field) })
	shared := map[string]string{"on": wares.SourceOn, "by": wares.SourceBy, "link": wares.SourceLink, "reference": wares.SourceReference, "photo": wares.SourcePhoto}
	for i, p := range e.faults {
		rest, of := strings.CutPrefix(p.Path, "evidence[")
		number, field, _ := strings.Cut(rest, "].")
		at, err := strconv.Atoi(number)
		if !of || err != nil || at >= len(noted) {
			continue
		}
		e.faults[i].Path = cmp.Or(shared[field], fields[noted[at].Figure])
	}
}

// clearedWords says which figures lost their source in a change.
func clearedWords(before, after *catalog.Catalogue) string {
	changes, err := catalog.Edits(before, after)
	if err != nil {
		return ""
	}
	var names []string
	for _, c := range changes {
		if c.Evidence() != "" && c.New == "" && changesFigure(changes, c) {
			names = append(names, figureLabel(c.List, c.Evidence()))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " The source went with the figure before: " + strings.Join(names, ", ") + ". Choose it anew once somebody has read it."
}

// changesFigure reports whether one of the changes is of the figure of which
// another takes the source.
func changesFigure(changes []catalog.Change, source catalog.Change) bool {
	return slices.ContainsFunc(changes, func(c catalog.Change) bool { return len(c.Beside([]catalog.Change{source})) > 0 })
}

// sourceNotices says which figures lose their source.
func sourceNotices(i *waiting) Notices {
	var lines []Notice
	names := namesOf(i.current, i.new)
	for _, c := range i.changes {
		if c.Evidence() != "" && c.New == "" {
			lines = append(lines, Notice{Thing{Code: c.Code, Name: names[c.List+" "+c.Code]}, say.Capital(fieldLabel(c.List, c.Field)) + ": " + sourceIn(c.Old)})
		}
	}
	return notices(lines, say.Counted(len(lines), "source goes", "sources go"),
		"A figure that becomes another one has no source any more, until somebody has read it anew and says so.")
}

// whoIs is the name of who is in, for what they note.
func whoIs(r *http.Request) string {
	if who := kit.Who(r); who != nil {
		return who.Name
	}
	return ""
}

// sourceOf begins what the source of a figure is called.
const sourceOf = "source of: "

// ofSource is the label of a change of evidence, such as
// evidence[zones/rear/rating_kg]: source of: zone rear: rating.
func ofSource(list, path string) string {
	figure := strings.TrimSuffix(strings.TrimPrefix(path, "evidence["), "]")
	switch steps := strings.Split(figure, "/"); {
	case len(steps) == 3:
		figure = steps[0] + "[" + steps[1] + "]." + steps[2]
	case len(steps) == 2 && steps[0] == "fits":
		figure = steps[0] + "[" + steps[1] + "]"
	case len(steps) == 2:
		figure = problem.Join(steps[0], steps[1])
	}
	return sourceOf + figureLabel(list, figure)
}

// figureLabel is what people call a figure that may have a source.
func figureLabel(list, figure string) string {
	if frame, fits := strings.CutPrefix(figure, "fits["); fits {
		return "fits " + strings.TrimSuffix(frame, "]")
	}
	if place, of := strings.CutPrefix(figure, "places["); of { // which have no name
		figure = "places[#" + place
	}
	return lowered(fieldLabel(list, figure))
}
