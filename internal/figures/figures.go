// Package figures is the one table of the figures that a shop may set: what each
// is called, its range, its unit, its default and the reason for it.
//
// Everything is an integer in the unit of its kind: grams, millimetres,
// ten-thousandths, days or a plain count. The default stands where the figure is
// used; one that is at its default is not stored, so that it follows the default.
package figures

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"regexp"
	"strconv"
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// Kind is how a figure of the settings is typed and shown.
type Kind uint8

// The kinds, each with its unit.
const (
	Mass   Kind = iota // grams
	Length             // millimetres
	Share              // ten-thousandths
	Days
	Count
	Speed  // metres an hour
	Effort // milliwatts for every kilogram
)

// Figure is one figure that the shop may change. Its default is where it is
// used.
type Figure struct {
	Name        string // in the store
	Label, Why  string
	Kind        Kind
	Least, Most int64
	Optional    bool // zero sets nothing, and an empty field is zero
}

// Text is something that the shop may say in its own words. It has none unless
// the shop writes some.
type Text struct {
	Name       string // in the store
	Label, Why string
}

// Group is what stands under one heading.
type Group struct {
	Title   string
	Why     string // of all of them
	Figures []Figure
	Texts   []Text // each below the figure of its rule, where there is one
}

const practice = "Common practice, no published source."

// share of a whole, in the small unit of a setting
const (
	whole   = int64(measure.Whole)
	percent = int64(measure.Percent)
	kilo    = int64(measure.Kilogram)
	centi   = int64(measure.Centimetre)
)

// Groups is the one table of the shop's figures; the criteria have their
// own, which follows from theirs.
var Groups = []Group{
	{Title: "What a weight becomes", Figures: []Figure{
		{"undressed_g", "Added to a weight taken undressed", "Shoes, clothes, helmet, lock and bag ride along. " + practice, Mass, 0, 20 * kilo, false},
		{"stated_g", "Added to a weight that was only said", "People remember less than they weigh. " + practice, Mass, 0, 30 * kilo, false},
		{"clothing_g", "Helmet and clothes of a passenger", "Added to what a child weighs, for every rating. " + practice, Mass, 0, 10 * kilo, false},
	}},
	{Title: "Children that were not weighed", Figures: []Figure{
		{"planning_percentile", "Percentile to plan with", "A child heavier than most is safe to plan with; the weights are those of the CDC 2000 growth reference, the choice of percentile is common practice.", Share, 50 * percent, 99 * percent, false},
		{"minimum_percentile", "Percentile for least weights", "Where a seat asks for a least weight, a light child has to reach it; from the same reference, the choice is common practice.", Share, 1 * percent, 50 * percent, false},
	}},
	{Title: "When to ask for care", Figures: []Figure{
		{"height_rounding_mm", "Rider’s height, outside the range", "The rounding of feet and inches; further out rules the frame out. " + practice, Length, 0, 10 * centi, false},
		{"height_margin_mm", "Rider’s height, near an end of the range", "A rider this near to an end should try the bike first. " + practice, Length, 0, 30 * centi, false},
		{"standover_margin_mm", "Room over the frame", "Inseam less standover, for who puts both feet down. " + practice, Length, 0, 30 * centi, false},
		{"carry_share", "What a rider carries, of their own weight", "Beyond it starting and stopping take strength. " + practice, Share, 10 * percent, 3 * whole, false},
		{"slack_margin_mm", "Room to spare at home", "Less than this and a handlebar measured wrong is a bike outside. " + practice, Length, 0, 100 * centi, false},
		{"steps_max", "Steps up to which weight is no matter", "More steps than these with a heavy bike need a try. " + practice, Count, 0, 100, false},
		{"steps_mass_g", "A heavy bike, on steps", "Bike and add-ons, as it is lifted. " + practice, Mass, 0, 100 * kilo, false},
		{"heavy_rider_g", "A heavy rider, where no limit is stated", "Most frames are made for less. " + practice, Mass, 0, 300 * kilo, false},
		{"heavy_cargo_g", "Heavy cargo, where the axles’ ratings are not stated", "Beyond it the axles should be known. " + practice, Mass, 0, 400 * kilo, false},
		{"estimate_margin_g", "Little to spare, where a weight is estimated", "An estimate may be this far out. " + practice, Mass, 0, 50 * kilo, false},
		{"hill_effort", "Effort on a hill, for every kilogram of the rider", "What a rider in everyday health keeps up for some minutes. " + practice, Effort, 500, 5000, false},
		{"hill_turns", "Least turns a minute in the lowest gear", "Slower strains the knees. " + practice, Count, 20, 100, false},
		{"hill_speed", "Slow on a hill", "Slower than a walk a laden bike is hard to hold upright. " + practice, Speed, 1000, 20000, false},
		{"brake_mass_g", "Heavy for coaster, rim or cable brakes", "All on the wheels together. " + practice, Mass, 0, 600 * kilo, false},
		{"brake_hill", "Steep for them with passengers", "The hill of the profile. " + practice, Share, 0, whole, false},
		{"front_share", "Least on the front wheel", "Of everything together; with less the steering goes light. " + practice, Share, 0, 50 * percent, false},
		{"side_margin_g", "One side heavier than the other", "Beyond it the bike pulls to one side. " + practice, Mass, 0, 50 * kilo, false},
		{"outgrown_months", "Outgrown soon, in months", "What is outgrown within these months needs a plan for after. " + practice, Count, 0, 120, false},
	}},
	{Title: "Local rules", Why: "As the shop has read the law of its place. Nothing is set until the shop sets it; each asks for care in the words written here, in the language they are written in. The law itself and the maker’s manual come first.",
		Figures: []Figure{
			{match.LocalRiderAge, "Least age of a rider with passengers", "In years. A rider whose age is not known asks for care too.", Count, 0, 100, true},
			{match.LocalPassengerAge, "Greatest age of a passenger", "In whole years: 7 is up to the eighth birthday.", Count, 0, 100, true},
			{match.LocalPassengers, "Greatest number of passengers", "At once, whatever the maker allows.", Count, 0, 8, true},
			{match.LocalWidth, "Greatest width of a bike", "With its add-ons.", Length, 0, 300 * centi, true},
		},
		Texts: []Text{
			{match.WordsOf(match.LocalRiderAge), "Age of the rider, in your words", "Said where the figure above is not kept. Empty: in plain words."},
			{match.WordsOf(match.LocalPassengerAge), "Age of passengers, in your words", "Said where the figure above is not kept. Empty: in plain words."},
			{match.WordsOf(match.LocalPassengers), "Number of passengers, in your words", "Said where the figure above is not kept. Empty: in plain words."},
			{match.WordsOf(match.LocalWidth), "Width, in your words", "Said where the figure above is not kept. Empty: in plain words."},
			{match.WordsOf(match.LocalHelmets), "Helmets, in your words", "Said wherever passengers ride. Empty: nothing is said."},
		}},
	{Title: "What the shop promises", Figures: []Figure{
		{"deposit_share", "Deposit on a quote", "Of the total, to be paid on signing. " + practice, Share, 0, whole, false},
		{"quote_days", "A quote is valid for", "After the day it was made on. " + practice, Days, 0, 3650, false},
		{"reservation_days", "A bike is held for", "After the day it was reserved on. " + practice, Days, 0, 3650, false},
		{FitSummaryDays, "A fit summary’s link opens for", "Long enough to decide, short enough for the figures to hold. " + practice, Days, 1, 3650, false},
	}},
	{Title: "What the shop should own", Figures: []Figure{
		{OwnDays, "Consultations of the last", "What was asked for lately says what to keep for a test ride. Those that are erased no longer count. " + practice, Days, 1, 3650, false},
		{OwnLeast, "Least consultations to say anything from", "Fewer than these say nothing of the next customers, and might tell of one of the last. " + practice, Count, 3, 1000, false},
	}},
	{Title: "What is forgotten", Figures: []Figure{
		{ForgetDays, "A consultation is erased, unused for", "With its fit summaries, quotes and rides, once nothing of it was saved for so long, no link to it opens and no bike is held; backups that old go with it. Long enough to come back and decide, short enough that nobody’s weight and home are kept without need. " + practice, Days, 1, 3650, false},
		{PapersYears, "An accepted quote is kept for, in years", "Many laws ask for seven years or more of the papers of a sale: ask your bookkeeper, since this is for the shop to decide. Common practice, from memory.", Count, 0, 30, false},
	}},
}

// Named returns the figure of a name, or nil.
func Named(name string) *Figure {
	f, _ := named(name)
	return f
}

// Label says what a figure or a text is called, with the heading that it stands
// under where it needs one.
func Label(name string) string {
	f, title := named(name)
	switch {
	case f != nil && title != "":
		return title + ": " + f.Label
	case f != nil:
		return f.Label
	}
	for _, g := range Groups {
		for _, t := range g.Texts {
			if t.Name == name {
				return t.Label
			}
		}
	}
	return name
}

// named finds a figure; that of a criterion with the name of that.
func named(name string) (f *Figure, title string) {
	for _, g := range Groups {
		for i := range g.Figures {
			if g.Figures[i].Name == name {
				return &g.Figures[i], ""
			}
		}
	}
	for _, g := range Criteria() {
		for i := range g.Figures {
			if g.Figures[i].Name == name {
				return &g.Figures[i], g.Title
			}
		}
	}
	return nil, ""
}

// criterionKinds says in what a criterion measures.
var criterionKinds = map[string]Kind{
	match.LoadHeadroom: Share, match.CarryShare: Share, match.HorizonShare: Share, match.RiderHeight: Share,
	match.StorageSlack: Length, match.Price: Share, match.HandlingMass: Mass, match.HillSpeed: Speed,
}

var criterionWhys = map[string]string{
	match.LoadHeadroom: "The least that is spare of the gross rating and of each axle’s, as its share, for the rider for whom it is least.",
	match.HillSpeed:    "Speed on the hill asked for, of the rider who is slowest.",
	match.CarryShare:   "Carried over the rider’s own weight, for the rider who has it worst.",
	match.HorizonShare: "Months until something is outgrown, over the years asked for.",
	match.RiderHeight:  "Distance to the nearer end over half the range, for the rider who has it worst.",
	match.StorageSlack: "The tightest place at home or on the way there.",
	match.Price:        "All of it over the budget, or over the dearest frame.",
	match.HandlingMass: "The bike and its add-ons, as pushed and lifted.",
}

// mostOf is the greatest end of a criterion.
var mostOf = map[Kind]int64{Speed: 50_000, Share: 10 * whole, Length: 1000 * centi, Mass: 300 * kilo}

// Criteria lists the three figures of every criterion.
func Criteria() []Group {
	var groups []Group
	for _, c := range match.DefaultSettings().Criteria {
		k := criterionKinds[c.Code]
		groups = append(groups, Group{Title: CriterionNames[c.Code], Why: criterionWhys[c.Code] + " " + practice, Figures: []Figure{
			{c.Code + "_weight", "Weight", "", Count, 0, 100, false},
			{c.Code + "_zero", "Counts nothing at", "", k, 0, mostOf[k], false},
			{c.Code + "_one", "Counts in full at", "", k, 0, mostOf[k], false},
		}})
	}
	return groups
}

// CriterionNames are what people call the criteria of a score.
var CriterionNames = map[string]string{
	match.LoadHeadroom: "Room under the ratings", match.HillSpeed: "The hill", match.CarryShare: "Load for the rider’s weight", match.HorizonShare: "How long it lasts",
	match.RiderHeight: "Rider’s height", match.StorageSlack: "Room at home", match.Price: "Price", match.HandlingMass: "Lifting and pushing",
}

// Defaults returns what every figure is where the shop has not said.
func Defaults() map[string]int64 {
	figures := match.DefaultSettings().Figures()
	maps.Copy(figures, quote.DefaultSettings().Figures())
	figures[FitSummaryDays] = defaultSummaryDays
	figures[ForgetDays], figures[PapersYears] = defaultForgetDays, defaultPapersYears
	figures[OwnDays], figures[OwnLeast] = defaultOwnDays, defaultOwnLeast
	return figures
}

// InForce returns every figure as it stands, out of those that the shop has
// changed. One that is not known here is left out.
func InForce(changed map[string]int64) map[string]int64 {
	figures := Defaults()
	for name, n := range changed {
		if _, known := figures[name]; known {
			figures[name] = n
		}
	}
	return figures
}

// Contradictions says, by the name of a figure, what keeps figures that are each
// in their range from standing together.
func Contradictions(figures map[string]int64) map[string]string {
	wrong := map[string]string{}
	if figures["minimum_percentile"] > figures["planning_percentile"] {
		wrong["minimum_percentile"] = "This is above the percentile to plan with."
	}
	sum := int64(0)
	for _, c := range match.DefaultSettings().Criteria {
		sum += figures[c.Code+"_weight"]
		if figures[c.Code+"_weight"] > 0 && figures[c.Code+"_zero"] == figures[c.Code+"_one"] {
			wrong[c.Code+"_one"] = "The two ends must differ, or the criterion says nothing."
		}
	}
	if sum == 0 {
		wrong[match.LoadHeadroom+"_weight"] = "Give at least one criterion a weight."
	}
	return wrong
}

// Changed parts figures into those to store and those at their default, which
// are not stored.
func Changed(figures map[string]int64) (set map[string]int64, reset []string) {
	set = map[string]int64{}
	defaults := Defaults()
	for name, n := range figures {
		if n == defaults[name] {
			reset = append(reset, name)
		} else {
			set[name] = n
		}
	}
	return set, reset
}

// Show writes a figure so that it is read again as it is.
func (k Kind) Show(n int64) string {
	switch k {
	case Mass:
		return exactly(measure.Mass(n)) + " kg"
	case Length:
		return exactly(measure.Length(n)) + " cm"
	case Share:
		return strings.ReplaceAll(measure.Percentage(n).String(), "\u00a0", " ")
	case Days:
		return days(n)
	case Speed, Effort:
		return strconv.FormatFloat(float64(n)/1000, 'f', -1, 64) + " " + k.unit()
	}
	return strconv.FormatInt(n, 10)
}

// unit is what a kind is shown in where the figure is a thousandth of that.
func (k Kind) unit() string {
	if k == Speed {
		return "km/h"
	}
	return "W"
}

func days(n int64) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

// exactly writes a quantity with all its decimals, as documents do.
func exactly(q interface{ MarshalJSON() ([]byte, error) }) string {
	text, err := q.MarshalJSON()
	if err != nil {
		panic("figures: " + err.Error()) // a number is always written
	}
	return string(text)
}

// Parse reads what Show writes, and any unit. The error is for whoever typed.
func (k Kind) Parse(text string) (int64, error) {
	switch k {
	case Mass:
		m, err := measure.ParseMass(text, measure.Metric)
		return int64(m), err
	case Length:
		l, err := measure.ParseLength(text, measure.Metric)
		return int64(l), err
	case Share:
		p, err := measure.ParsePercentage(text)
		return int64(p), err
	case Speed, Effort:
		return k.thousandths(text)
	}
	text = strings.TrimSpace(strings.ToLower(text))
	if k == Days {
		text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(text, "s"), "day"))
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		return 0, fmt.Errorf("write a whole number")
	}
	return n, nil // of one beyond all bounds the bound, which is beyond those of any figure
}

// thousandths reads a number with up to three decimals, with its unit or without.
func (k Kind) thousandths(text string) (int64, error) {
	number := strings.TrimSpace(text)
	if at := len(number) - len(k.unit()); at >= 0 && strings.EqualFold(number[at:], k.unit()) {
		number = strings.TrimSpace(number[:at])
	}
	m := plainNumber.FindStringSubmatch(number)
	if m == nil {
		return 0, fmt.Errorf("%q is not a figure in %s; write it like %s", strings.TrimSpace(text), k.unit(), k.Show(4500))
	}
	n, err := strconv.ParseInt(m[1]+(m[2] + "000")[:3], 10, 64)
	if err != nil {
		return math.MaxInt64, nil //nolint:nilerr // beyond all bounds, as with whole numbers
	}
	return n, nil
}

// plainNumber is a number with a decimal point or comma and thousandths at most.
var plainNumber = regexp.MustCompile(`^([0-9]+)(?:[.,]([0-9]{1,3}))?$`)

// Show writes the figure as Kind does, and nothing where zero sets nothing.
func (f Figure) Show(n int64) string {
	if f.Optional && n == 0 {
		return ""
	}
	return f.Kind.Show(n)
}

// Read reads what was typed for a setting; nothing is its default.
func (f Figure) Read(text string, fallback int64) (int64, error) {
	if strings.TrimSpace(text) == "" {
		return fallback, nil
	}
	n, err := f.Kind.Parse(text)
	var unread *measure.Error
	if errors.As(err, &unread) && unread.Code == measure.TooLarge || err == nil && (n < f.Least || n > f.Most) {
		err = fmt.Errorf("choose from %s to %s", f.Kind.Show(f.Least), f.Kind.Show(f.Most))
	}
	return n, err
}
