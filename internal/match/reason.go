package match

import (
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/measure"
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
	Code      string         `json:"code"`
	Weight    Weight         `json:"weight"`
	Rider     string         `json:"rider,omitzero"`
	Passenger string         `json:"passenger,omitzero"`
	Zone      string         `json:"zone,omitzero"`
	Axle      string         `json:"axle,omitzero"`
	AddOn     string         `json:"add_on,omitzero"`
	Field     string         `json:"field,omitzero"` // the figure that is not stated
	Part      string         `json:"part,omitzero"`  // of the home: doorways[0], lift, space
	Month     string         `json:"month,omitzero"`
	Over      measure.Mass   `json:"over_kg,omitzero"`
	OverSize  measure.Length `json:"over_cm,omitzero"`
	OverPrice measure.Money  `json:"over_cents,omitzero"`
	Slack     measure.Length `json:"slack_cm,omitzero"`
	Message   Message        `json:"text"`
}

// Message is a sentence with its figures, shown in either system of units. Its
// format is the English sentence, and the key of the same sentence in other
// languages.
type Message struct {
	Format string // of fmt, every verb %v
	// Args are figures of package measure, Rounded, Label, Word, Cost, whole
	// numbers, Messages within the sentence, and strings, which are names that
	// nobody translates.
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
	}
	return r.Figure
}

// MarshalText writes the sentence in metric units, as documents carry it.
func (m Message) MarshalText() ([]byte, error) { return []byte(m.In(measure.Metric)), nil }

// Rule is one line of the table of reason codes.
type Rule struct {
	Code    string
	When    string // the inequality, in words a mechanic reads
	Weight  string
	Setting string // the name of the shop setting in it
}

// Rules is every reason code that a match can carry, in the order in which
// reasons of one weight are listed.
var Rules = []Rule{
	{"unsettled", "time was over before a set of add-ons was found or all were ruled out; none holds, but time was over before the reason was found", "care; stop", ""},
	{"unverified", "the set of add-ons that was found breaks a rule when it is checked", "care", ""},
	{"rider_height", "height < rider_min or height > rider_max; inside, but within height_margin of an end", "stop; care", "height_margin_mm"},
	{"rider_weight", "riding weight > rider_max", "stop", "undressed_g, stated_g"},
	{"gross_rating", "bare weight + add-ons − taken off + rider + passengers + pet + cargo > gross rating", "stop", "clothing_g, planning_percentile"},
	{"zone_rating", "add-ons, passengers, pet and cargo in the zone > its rating", "stop", ""},
	{"combined_rating", "the same over the zones together > their combined rating", "stop", ""},
	{"axle_rating", "Σ mass × arm ÷ wheelbase > the axle's rating", "stop", ""},
	{"add_on_rating", "all that the add-on carries > its max_load", "stop", ""},
	{"passengers_max", "passengers > passengers_max", "stop", ""},
	{"place_missing", "no set of add-ons gives every passenger a place", "stop", ""},
	{"place_limits", "age, weight or stature outside the limits of every place left", "stop", "minimum_percentile, planning_percentile, clothing_g"},
	{"infant", "age < 12 months", "stop", ""},
	{"not_sitting", "does not sit unaided; not known and under 24 months", "stop; care", ""},
	{"joins_later", "joins after today", "note", ""},
	{"mount_full", "by hand: add-ons on a mount > its capacity", "stop", ""},
	{"needs_missing", "by hand: no member of a group of needs is met", "stop", ""},
	{"excluded", "by hand: two add-ons that exclude each other", "stop", ""},
	{"too_many", "by hand: more of an add-on than up_to", "stop", ""},
	{"pet_place", "no carrier of its own that bears the pet", "stop", ""},
	{"cargo_weight", "cargo > what the carriers bear", "stop", ""},
	{"cargo_volume", "cargo > what the carriers hold", "stop", ""},
	{"carry_guideline", "passengers + pet + cargo > carry_share × rider's own weight", "care", "carry_share"},
	{"standover", "inseam < standover + standover_margin", "care", "standover_margin_mm"},
	{"saddle_range", "0.883 × inseam < saddle_min or > saddle_max", "care", ""},
	{"storage_space", "the build > the space, flat, turned and upright", "stop", ""},
	{"storage_way", "the build > a doorway, a corner or the lift", "stop", ""},
	{"storage_slack", "slack < slack_margin", "care", "slack_margin_mm"},
	{"upright", "must stand upright and cannot", "stop", ""},
	{"budget", "total > budget; beyond budget_margin and firm", "care; stop", "budget_margin"},
	{"grip", "reduced grip and a cable or rim brake", "care", ""},
	{"steps", "steps > steps_max and bare weight + add-ons > steps_mass", "care", "steps_max, steps_mass_g"},
	{"unproved", "time was over before every better set of add-ons was ruled out", "care", ""},
	{"odd_wheel", "bead seat < 559 mm and only the maker supplies the wheel", "note", ""},
	{"weight_estimated", "a weight that no scale read dressed to ride", "note", "undressed_g, stated_g, planning_percentile"},
	{"beyond_reference", "age outside 12.5 to 204.5 months, where the end of the growth reference is held", "note", ""},
	{"spec_missing", "a figure that bears on this customer and that the maker does not state", "note", ""},
}

var ruleOrder = func() map[string]int {
	order := map[string]int{}
	for i, r := range Rules {
		order[r.Code] = i
	}
	return order
}()

// sortReasons puts stops first, then cares, then notes; each in the order of
// Rules.
func sortReasons(reasons []Reason) {
	slices.SortStableFunc(reasons, func(a, b Reason) int {
		if d := a.Weight.rank() - b.Weight.rank(); d != 0 {
			return d
		}
		return ruleOrder[a.Code] - ruleOrder[b.Code]
	})
}
