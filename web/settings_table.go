package web

import (
	"fmt"
	"maps"
	"strconv"
	"strings"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
)

// kind is how a figure of the settings is typed and shown.
type kind uint8

const (
	massKind   kind = iota // grams
	lengthKind             // millimetres
	shareKind              // ten-thousandths
	daysKind
	countKind
)

// setting is one figure that the shop may change. Its default is where it is
// used.
type setting struct {
	name        string // in the store
	label, why  string
	kind        kind
	least, most int64
}

// settingGroup is what stands under one heading.
type settingGroup struct {
	title    string
	why      string // of all of them
	settings []setting
}

const practice = "Common practice, no published source."

// share of a whole, in the small unit of a setting
const (
	whole   = int64(measure.Whole)
	percent = int64(measure.Percent)
	kilo    = int64(measure.Kilogram)
	centi   = int64(measure.Centimetre)
)

// figureGroups is the one table of the shop's figures; the criteria have their
// own, which follows from theirs.
var figureGroups = []settingGroup{
	{"What a weight becomes", "", []setting{
		{"undressed_g", "Added to a weight taken undressed", "Shoes, clothes, helmet, lock and bag ride along. " + practice, massKind, 0, 20 * kilo},
		{"stated_g", "Added to a weight that was only said", "People remember less than they weigh. " + practice, massKind, 0, 30 * kilo},
		{"clothing_g", "Helmet and clothes of a passenger", "Added to what a child weighs, for every rating. " + practice, massKind, 0, 10 * kilo},
	}},
	{"Children that were not weighed", "", []setting{
		{"planning_percentile", "Percentile to plan with", "A child heavier than most is safe to plan with; the weights are those of the CDC 2000 growth reference, the choice of percentile is common practice.", shareKind, 50 * percent, 99 * percent},
		{"minimum_percentile", "Percentile for least weights", "Where a seat asks for a least weight, a light child has to reach it; from the same reference, the choice is common practice.", shareKind, 1 * percent, 50 * percent},
	}},
	{"When to ask for care", "", []setting{
		{"height_margin_mm", "Rider’s height, near an end of the range", "A rider this near to an end should try the bike first. " + practice, lengthKind, 0, 30 * centi},
		{"standover_margin_mm", "Room over the frame", "Inseam less standover, for who puts both feet down. " + practice, lengthKind, 0, 30 * centi},
		{"carry_share", "What a rider carries, of their own weight", "Beyond it starting and stopping take strength. " + practice, shareKind, 10 * percent, 3 * whole},
		{"slack_margin_mm", "Room to spare at home", "Less than this and a handlebar measured wrong is a bike outside. " + practice, lengthKind, 0, 100 * centi},
		{"budget_margin", "Over the budget, before it rules out", "Only where the customer calls the budget firm. " + practice, shareKind, 0, whole},
		{"steps_max", "Steps up to which weight is no matter", "More steps than these with a heavy bike need a try. " + practice, countKind, 0, 100},
		{"steps_mass_g", "A heavy bike, on steps", "Bike and add-ons, as it is lifted. " + practice, massKind, 0, 100 * kilo},
	}},
	{"What the shop promises", "", []setting{
		{"deposit_share", "Deposit on a quote", "Of the total, to be paid on signing. " + practice, shareKind, 0, whole},
		{"quote_days", "A quote is valid for", "After the day it was made on. " + practice, daysKind, 0, 3650},
		{"reservation_days", "A bike is held for", "After the day it was reserved on. " + practice, daysKind, 0, 3650},
		{fitSummaryDays, "A fit summary’s link opens for", "Long enough to decide, short enough for the figures to hold. " + practice, daysKind, 1, 3650},
	}},
}

// criterionKinds says in what a criterion measures.
var criterionKinds = map[string]kind{
	match.LoadHeadroom: shareKind, match.CarryShare: shareKind, match.HorizonShare: shareKind, match.RiderHeight: shareKind,
	match.StorageSlack: lengthKind, match.Price: shareKind, match.HandlingMass: massKind,
}

var criterionWhys = map[string]string{
	match.LoadHeadroom: "Spare under the heaviest rider, of the gross rating.",
	match.CarryShare:   "Carried over the rider’s own weight, for the rider who has it worst.",
	match.HorizonShare: "Months until something is outgrown, over the years asked for.",
	match.RiderHeight:  "Distance to the nearer end over half the range, for the rider who has it worst.",
	match.StorageSlack: "The tightest place at home or on the way there.",
	match.Price:        "All of it over the budget, or over the dearest frame.",
	match.HandlingMass: "The bike and its add-ons, as pushed and lifted.",
}

// mostOf is the greatest end of a criterion.
var mostOf = map[kind]int64{shareKind: 10 * whole, lengthKind: 1000 * centi, massKind: 300 * kilo}

// criterionGroups lists the three figures of every criterion.
func criterionGroups() []settingGroup {
	var groups []settingGroup
	for _, c := range match.DefaultSettings().Criteria {
		k := criterionKinds[c.Code]
		groups = append(groups, settingGroup{criterionNames[c.Code], criterionWhys[c.Code] + " " + practice, []setting{
			{c.Code + "_weight", "Weight", "", countKind, 0, 100},
			{c.Code + "_zero", "Counts nothing at", "", k, 0, mostOf[k]},
			{c.Code + "_one", "Counts in full at", "", k, 0, mostOf[k]},
		}})
	}
	return groups
}

// defaultFigures returns what every figure is where the shop has not said.
func defaultFigures() map[string]int64 {
	figures := match.DefaultSettings().Figures()
	maps.Copy(figures, quote.DefaultSettings().Figures())
	figures[fitSummaryDays] = defaultFitSummaryDays
	return figures
}

// show writes a figure so that it is read again as it is.
func (k kind) show(n int64) string {
	switch k {
	case massKind:
		return exactly(measure.Mass(n)) + " kg"
	case lengthKind:
		return exactly(measure.Length(n)) + " cm"
	case shareKind:
		return strings.ReplaceAll(measure.Percentage(n).String(), "\u00a0", " ")
	case daysKind:
		return counted(int(n), "day", "days")
	}
	return strconv.FormatInt(n, 10)
}

// exactly writes a quantity with all its decimals, as documents do.
func exactly(q interface{ MarshalJSON() ([]byte, error) }) string {
	text, err := q.MarshalJSON()
	if err != nil {
		panic("settings: " + err.Error()) // a number is always written
	}
	return string(text)
}

// parse reads what show writes, and any unit. The error is for whoever typed.
func (k kind) parse(text string) (int64, error) {
	switch k {
	case massKind:
		m, err := measure.ParseMass(text, measure.Metric)
		return int64(m), err
	case lengthKind:
		l, err := measure.ParseLength(text, measure.Metric)
		return int64(l), err
	case shareKind:
		p, err := measure.ParsePercentage(text)
		return int64(p), err
	}
	text = strings.TrimSpace(strings.ToLower(text))
	if k == daysKind {
		text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(text, "s"), "day"))
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if err != nil || n < 0 {
		return 0, fmt.Errorf("write a whole number")
	}
	return n, nil
}

// read reads what was typed for a setting; nothing is its default.
func (s setting) read(text string, fallback int64) (int64, error) {
	if strings.TrimSpace(text) == "" {
		return fallback, nil
	}
	n, err := s.kind.parse(text)
	if err == nil && (n < s.least || n > s.most) {
		err = fmt.Errorf("choose from %s to %s", s.kind.show(s.least), s.kind.show(s.most))
	}
	return n, err
}
