package catalog

import (
	"cmp"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/schema"
)

// Evidence says where a figure of a thing comes from. A figure that is another
// one since has none, until somebody says so anew: see Carry.
type Evidence struct {
	Figure    string       // its path within the thing, such as gross_rating_kg, zones[front].rating_kg, places[0].max_kg, fits[sedge] or on_frame.sedge
	Kind      string       // one of EvidenceKinds
	On        measure.Date // when it was read, told or weighed: a day, or a month
	By        string       // who did
	Link      string       // where it is to be seen on the web
	Reference string       // such as a page
	Photo     string       // the name of a photo that shows it, see APhotoName; that photo need not be there

	// Anew says that it comes with the very change that is made, so that it
	// holds although it reads like what was there before. Documents do not have
	// it.
	Anew bool
}

// EvidenceKinds are where a figure may come from.
var EvidenceKinds = []string{"rating_plate", "manual", "maker_answer", "own_measure"}

// evidenceKey is the name of the list of evidence in a document.
const evidenceKey = "evidence"

// evidenceFields are the facts of evidence, in the order of its document.
var evidenceFields = []Field{
	also(fact("figure", Code, "Figure", func(e *Evidence) *string { return &e.Figure }).need().
		says("the path of a figure, such as gross_rating_kg, zones[front].rating_kg, places[0].max_kg, fits[sedge] or on_frame.sedge"), ofAFigure).shaped(func(s *schema.Schema) { s.MinLength = 1 }),
	fact("kind", Word, "Source", func(e *Evidence) *string { return &e.Kind }, must(EvidenceKinds)),
	also(fact("on", Day, "On", func(e *Evidence) *measure.Date { return &e.On }).hint("Year, month, day: 2026-11-25; or the month alone.").says("not in the future").need(), notAhead).shaped(func(s *schema.Schema) { s.MinLength = len("2026-11") }),
	leftOut(fact("by", Text, "By whom", func(e *Evidence) *string { return &e.By }, upTo(80)), func(e *Evidence) bool { return e.By == "" }),
	leftOut(fact("link", Link, "Where it is on the web", func(e *Evidence) *string { return &e.Link }, aLink), func(e *Evidence) bool { return e.Link == "" }),
	leftOut(fact("reference", Text, "Which page", func(e *Evidence) *string { return &e.Reference }, upTo(200)), func(e *Evidence) bool { return e.Reference == "" }),
	leftOut(fact("photo", Code, "Photo", func(e *Evidence) *string { return &e.Photo }, aPhoto), func(e *Evidence) bool { return e.Photo == "" }),
}

// evidence declares the list of evidence of a thing. Where it is absent from a
// document it is not asked about; where it is empty there is none.
func evidence[T any](of func(*T) *[]Evidence) Field {
	f := leftOut(rows(evidenceKey, "source", of, evidenceFields), func(owner *T) bool { return *of(owner) == nil })
	f.Kind = Proofs
	return f
}

func ofAFigure(k *checker, path string, e *Evidence) {
	switch {
	case e.Figure == "":
		k.Add(path, problem.Missing, "name the figure that comes from there")
	case k.names.again(e.Figure):
		k.Add(path, problem.Duplicate, "%.100q has two sources; keep one of them", e.Figure)
	case !k.states(e.Figure):
		k.Add(path, problem.NotFound, "nothing is stated at %.100q that could have a source", e.Figure)
	}
}

func notAhead(k *checker, path string, e *Evidence) {
	switch {
	case e.On.IsZero():
		k.Add(path, problem.Missing, "write the day, or the month, of the source")
	case !k.today.IsZero() && k.today.Before(e.On.Earliest()):
		k.Add(path, problem.OutOfRange, "%v is still to come", e.On)
	}
}

// source says that evidence of a fact may be given.
func (f Field) source() Field { f.Sourced = true; return f }

// EvidenceOf returns the list of evidence of a frame, an add-on or a unit; nil
// of anything else.
func EvidenceOf(thing any) *[]Evidence {
	switch t := thing.(type) {
	case *Frame:
		return &t.Evidence
	case *AddOn:
		return &t.Evidence
	case *Unit:
		return &t.Evidence
	}
	return nil
}

// Source returns the evidence of a figure among a thing's, or nil.
func Source(all []Evidence, figure string) *Evidence {
	if i := slices.IndexFunc(all, func(e Evidence) bool { return e.Figure == figure }); i >= 0 {
		return &all[i]
	}
	return nil
}

// Figure is a figure of which evidence may be given.
type Figure struct {
	Path  string // as Evidence names it
	Field string // its path in the document, where rows are counted
	Of    *Field
	value any
}

// Figures returns the figures that a thing states and of which evidence may be
// given, in the order of its document.
func Figures(list string, thing any) []Figure {
	var all []Figure
	add := func(path, field string, f *Field, value any) {
		if f.Sourced && !reflect.ValueOf(value).IsZero() {
			all = append(all, Figure{path, field, f, value})
		}
	}
	for i := range tables[list] {
		f := &tables[list][i]
		switch at := f.at(thing).(type) {
		case *[]Zone:
			ofRows(f, *at, func(z *Zone, _ int) string { return z.Code }, add)
		case *[]Combined:
			ofRows(f, *at, func(c *Combined, _ int) string { return strings.Join(c.Zones, "+") }, add)
		case *[]Place:
			ofRows(f, *at, func(_ *Place, i int) string { return strconv.Itoa(i) }, add)
		case *map[string]Pair:
			for _, frame := range slices.Sorted(maps.Keys(*at)) {
				add(problem.Join(f.Name, frame), problem.Join(f.Name, frame), f, (*at)[frame].figures())
			}
		default:
			if f.Kind == Frames {
				for i, frame := range *at.(*[]string) {
					add(f.Name+"["+frame+"]", problem.Index(f.Name, i), f, true)
				}
			} else {
				add(f.Name, f.Name, f, reflect.ValueOf(at).Elem().Interface())
			}
		}
	}
	return all
}

// ofRows adds the figures of the rows of a list, each of which has a name.
func ofRows[R any](f *Field, rows []R, name func(*R, int) string, add func(path, field string, f *Field, value any)) {
	for i := range rows {
		for j := range f.Sub {
			sub := &f.Sub[j]
			value := reflect.ValueOf(sub.at(&rows[i])).Elem().Interface()
			add(f.Name+"["+name(&rows[i], i)+"]."+sub.Name, problem.Join(problem.Index(f.Name, i), sub.Name), sub, value)
		}
	}
}

// figures is a pair without what is only told of it.
func (p Pair) figures() Pair {
	p.Note, p.NoteFrench, p.NoteGerman, p.NoteDutch = "", "", "", ""
	return p
}

// figuresBy returns what a thing states, by the path of each figure.
func figuresBy(list string, thing any) map[string]any {
	all := map[string]any{}
	for _, f := range Figures(list, thing) {
		all[f.Path] = f.value
	}
	return all
}

// Carry returns a catalogue that takes the place of another one, with the
// evidence that still holds. It is the one rule of that, whoever changes what:
//
//   - A figure that is another one now, or is stated no more, loses its
//     evidence, unless other evidence comes with the change.
//   - A thing of which the catalogue says nothing about evidence keeps what
//     there was before.
//
// The catalogue is normal then: of every thing the evidence is in the order of
// its figures' paths, and where there never was any there is none.
func Carry(before, c *Catalogue) *Catalogue {
	carried := *c
	carried.Frames = carryAll("frames", before.Frames, c.Frames, func(f *Frame) string { return f.Code })
	carried.AddOns = carryAll("add_ons", before.AddOns, c.AddOns, func(a *AddOn) string { return a.Code })
	carried.Units = carryAll("units", before.Units, c.Units, func(u *Unit) string { return u.Tag })
	return &carried
}

// carryAll carries the evidence of a list, which stays as it is.
func carryAll[T any](list string, before, after []T, code func(*T) string) []T {
	at := make(map[string]int, len(before))
	for i := range before {
		at[code(&before[i])] = i
	}
	all := after
	for i := range after {
		var was *T
		if j, there := at[code(&after[i])]; there {
			was = &before[j]
		}
		is := *EvidenceOf(&after[i])
		now := carry(list, was, &after[i])
		if slices.Equal(now, is) && (now == nil) == (is == nil) {
			continue
		}
		if &all[0] == &after[0] { // lists are long, and most stay
			all = slices.Clone(after)
		}
		*EvidenceOf(&all[i]) = now
	}
	return all
}

// carry returns the evidence of a thing that still holds.
func carry[T any](list string, was, is *T) []Evidence {
	evidence := EvidenceOf(is)
	var old []Evidence
	if was != nil {
		old = *EvidenceOf(was)
	}
	if len(old)+len(*evidence) == 0 {
		return nil
	}
	all := slices.Clone(*evidence)
	if all == nil {
		all = slices.Clone(old)
	}
	if len(old) > 0 && !reflect.DeepEqual(was, is) {
		had, has := figuresBy(list, was), figuresBy(list, is)
		all = slices.DeleteFunc(all, func(e Evidence) bool {
			same := reflect.DeepEqual(had[e.Figure], has[e.Figure])
			return !same && !e.Anew && slices.Contains(old, e)
		})
	}
	return ordered(all)
}

// Prune leaves out evidence of what a thing, of which parts were taken away,
// does not state any more.
func Prune(list string, thing any) {
	all := EvidenceOf(thing)
	if len(*all) == 0 {
		return
	}
	stated := statedBy(list, thing)
	*all = slices.DeleteFunc(slices.Clone(*all), func(e Evidence) bool { return !stated(e.Figure) })
}

// Pictured is a photo that a source names.
type Pictured struct{ List, Code, Figure, Photo string }

// Pictured lists the photos that sources of a catalogue name, in its order.
func (c *Catalogue) Pictured() []Pictured {
	var all []Pictured
	for _, list := range Lists {
		for _, thing := range c.Things(list) {
			of := EvidenceOf(thing.Of)
			if of == nil {
				continue
			}
			for _, e := range *of {
				if e.Photo != "" {
					all = append(all, Pictured{list, thing.Code, e.Figure, e.Photo})
				}
			}
		}
	}
	return all
}

// ordered puts evidence in the order of its figures' paths.
func ordered(all []Evidence) []Evidence {
	slices.SortStableFunc(all, func(a, b Evidence) int { return strings.Compare(a.Figure, b.Figure) })
	return all
}

// stepOf names the evidence of a figure within a path, in which brackets and
// points have a meaning: zones/front/rating_kg.
func stepOf(figure string) string { return figureSteps.Replace(figure) }

var figureSteps = strings.NewReplacer("].", "/", "[", "/", "]", "", ".", "/")

// Evidence returns of which figure a change of evidence is about, nothing where
// it is about anything else.
func (c Change) Evidence() string {
	if !strings.HasPrefix(c.Field, evidenceKey+"[") {
		return ""
	}
	n, err := parseNode(cmp.Or(c.New, c.Old))
	if err != nil {
		return "" // it was written by this package
	}
	var figure string
	if json.Unmarshal([]byte(n.member("figure").text), &figure) != nil {
		return ""
	}
	return figure
}

// Beside returns what of the other changes of a save said where the figures
// that this one is about come from, and so goes where it goes.
func (c Change) Beside(save []Change) []Change {
	about := strings.ReplaceAll(c.Field, "[#", "[")
	var all []Change
	for _, other := range save {
		rest, within := strings.CutPrefix(other.Evidence(), about)
		if other.List == c.List && other.Code == c.Code && about != "" && within && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			all = append(all, other)
		}
	}
	return all
}

// bearsOnMatch reports whether a match says something of where a figure comes
// from: of what it holds loads against first of all.
func bearsOnMatch(figure string) bool {
	list, _, _ := strings.Cut(figure, "[")
	return slices.Contains([]string{"gross_rating_kg", "max_load_kg", "pet_kg"}, figure) || list == "zones" && strings.HasSuffix(figure, "].rating_kg") || list == "places" || strings.HasPrefix(figure, "on_frame.")
}
