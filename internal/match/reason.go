package match

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/tongue"
)

// Weight says how much a reason counts.
type Weight string

// The weights: Stop rules the frame out, Care needs attention, Note is good
// to know.
const (
	Stop Weight = "stop"
	Care Weight = "care"
	Note Weight = "note"
)

func (w Weight) rank() int { return slices.Index([]Weight{Stop, Care, Note}, w) }

// Verdict is the answer for one frame.
type Verdict string

// The verdicts, the best first. A frame is not judged where time was over
// before anything was found or ruled out, or where what was found broke a rule
// when it was checked.
const (
	Fits         Verdict = "fits"
	FitsWithCare Verdict = "fits_with_care"
	NotJudged    Verdict = "not_judged"
	DoesNotFit   Verdict = "does_not_fit"
)

func (v Verdict) rank() int {
	return slices.Index([]Verdict{Fits, FitsWithCare, NotJudged, DoesNotFit}, v)
}

// Reason is one finding about one frame, with what it is about and by how
// much. Fields that say nothing are zero.
type Reason struct {
	Code      Code           `json:"code"`
	Weight    Weight         `json:"weight"`
	Rider     string         `json:"rider,omitzero"`
	Passenger string         `json:"passenger,omitzero"`
	Zone      string         `json:"zone,omitzero"`
	Axle      string         `json:"axle,omitzero"`
	AddOn     string         `json:"add_on,omitzero"`
	Fields    []string       `json:"fields,omitzero"` // the figures that are not stated
	Part      string         `json:"part,omitzero"`   // of the home: doorways[0], lift, space
	Rule      string         `json:"rule,omitzero"`   // of the place, one of LocalRules
	Day       measure.Date   `json:"day,omitzero"`
	Month     string         `json:"month,omitzero"`
	Over      measure.Mass   `json:"over_kg,omitzero"`
	OverSize  measure.Length `json:"over_cm,omitzero"`
	OverPrice measure.Money  `json:"over_cents,omitzero"`
	Slack     measure.Length `json:"slack_cm,omitzero"`
	Limit     string         `json:"rating,omitzero"` // as Limit.Rating
	Spare     measure.Mass   `json:"spare_kg,omitzero"`
	Speed     int64          `json:"metres_per_hour,omitzero"`
	Message   Message        `json:"text"`
}

// ToBeBorn reports whether a reason is about the weight of a child who is
// expected, which counts as on the day that it names.
func (r *Reason) ToBeBorn() bool {
	return r.Code == ReasonWeightEstimated && r.Passenger != "" && !r.Day.IsZero()
}

// Message is a sentence with its figures, shown in either system of units. Its
// format is the English sentence, and the key of the same sentence in other
// languages.
type Message struct {
	Format string // of fmt, every verb %v
	// Args are figures of package measure, Rounded, Label, AddOn, Word, Cost,
	// whole numbers, Messages within the sentence, and strings, which are names
	// that nobody translates.
	Args []any
}

// Rounded is a mass, a length or a volume with the way it is shown.
type Rounded struct {
	Figure   any
	Rounding measure.Rounding
}

// Label is what a passenger is called.
type Label struct {
	Text   string
	Begins bool // the sentence
}

// String returns the label, with a capital where it begins the sentence.
func (l Label) String() string {
	if l.Begins {
		return capital(l.Text)
	}
	return l.Text
}

// AddOn is the name of an add-on. The shop may have written it in other
// languages, which whoever speaks them finds by its code.
type AddOn struct {
	Code, Name string
	Begins     bool // the sentence
}

// String returns the English name, small where it stands within a sentence.
func (a AddOn) String() string {
	if a.Begins {
		return a.Name
	}
	return strings.ToLower(a.Name)
}

// Word is the English of a code: a zone, an axle, a brake, a tag.
type Word string

func wordOf(code string) Word { return Word(strings.ReplaceAll(code, "_", " ")) }

// Cost is an amount of money with its currency.
type Cost struct {
	Amount   measure.Money
	Currency string
}

// String shows the amount after its currency.
func (c Cost) String() string { return c.Amount.Show(c.Currency) }

// quantity is what may be shown rounded either way.
type quantity interface {
	measure.Mass | measure.Length | measure.Volume
}

// up and down show a figure so that it never looks safer than it is.
func up[Q quantity](figure Q) Rounded   { return Rounded{figure, measure.Up} }
func down[Q quantity](figure Q) Rounded { return Rounded{figure, measure.Down} }

func say(format string, args ...any) Message { return Message{format, args} }

// In writes the sentence in a system of units.
func (m Message) In(s measure.System) string {
	args := make([]any, len(m.Args))
	for i, a := range m.Args {
		args[i] = shown(a, s)
	}
	return fmt.Sprintf(m.Format, args...)
}

func shown(a any, s measure.System) any {
	r, ok := a.(Rounded)
	if !ok {
		r = Rounded{a, measure.Nearest}
	}
	switch f := r.Figure.(type) {
	case measure.Mass:
		return f.Show(s, r.Rounding)
	case measure.Length:
		return f.Show(s, r.Rounding)
	case measure.Volume:
		return f.Show(r.Rounding)
	case Message:
		return f.In(s)
	case measure.Month:
		return monthWords(f)
	case measure.Date:
		return fmt.Sprintf("%d\u00a0%s", f.Day, monthWords(f.InMonth()))
	}
	return r.Figure
}

// monthWords writes a month as people read it.
func monthWords(m measure.Month) string { return fmt.Sprintf("%s\u00a0%d", m.Month(), m.Year()) }

// MarshalText writes the sentence in metric units, as documents carry it.
func (m Message) MarshalText() ([]byte, error) { return []byte(m.In(measure.Metric)), nil }

// Short says a code in a few words.
func Short(code Code) tongue.Said {
	if i, ok := ranks[code]; ok {
		return Rules[i].Short
	}
	return tongue.Said{English: string(code)}
}

// ranks are the places of the codes in Rules.
var ranks = func() map[Code]int {
	order := map[Code]int{}
	for i, r := range Rules {
		order[r.Code] = i
	}
	return order
}()

// sorted puts stops first, then cares, then notes; each in the order of
// Rules.
func sorted(reasons []Reason) []Reason {
	type key struct{ weight, code, at int }
	keys := make([]key, len(reasons))
	for i := range reasons {
		keys[i] = key{reasons[i].Weight.rank(), ranks[reasons[i].Code], i}
	}
	slices.SortFunc(keys, func(a, b key) int { return cmp.Or(a.weight-b.weight, a.code-b.code, a.at-b.at) })
	list := make([]Reason, len(reasons))
	for i, k := range keys {
		list[i] = reasons[k.at]
	}
	return list
}
