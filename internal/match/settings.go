// Package match judges every frame of a catalogue for one customer: verdict,
// reasons, ranking, horizon, and the one change that would make a frame fit.
package match

import (
	"slices"
	"time"

	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// Settings are the figures a shop may change. Those without a source are
// common practice.
type Settings struct {
	fitting.Settings
	HeightRounding  measure.Length // outside the rider range by no more than this needs attention
	HeightMargin    measure.Length // inside the rider range but this near to an end needs attention
	StandoverMargin measure.Length
	CarryShare      measure.Share  // of the rider's own weight
	SlackMargin     measure.Length // less than this at home needs attention
	StepsMax        int            // more than these with more than StepsMass needs attention
	StepsMass       measure.Mass
	HeavyRider      measure.Mass // beyond it a rider leans on a limit that is not stated
	HeavyCargo      measure.Mass // beyond it cargo leans on what the axles are not stated to bear
	EstimateMargin  measure.Mass // less than this left of the first limit, where a weight is estimated
	HillEffort      int64        // milliwatts per kilogram of the rider
	HillTurns       int64        // of the lowest gear, a minute
	HillSpeed       int64        // metres an hour; slower needs attention
	BrakeMass       measure.Mass // more than this on weak brakes needs attention
	BrakeHill       measure.Percentage
	FrontShare      measure.Share // of everything, the least on the front axle
	SideMargin      measure.Mass  // between left and right
	OutgrownMonths  int64         // a horizon less than this far off needs attention
	Local           Local         // empty by default
	Criteria        []CriterionSetting
	Patience        time.Duration // with one frame, of the program and not of the shop; zero: as long as it takes
}

// CriterionSetting says where a criterion counts nothing and all, in its own
// small unit (ten-thousandths, millimetres, grams or metres an hour), and how much it weighs.
type CriterionSetting struct {
	Code   string
	Zero   int64
	One    int64
	Weight int64
}

// The criteria of the score.
const (
	LoadHeadroom = "load_headroom" // the least spare of the gross rating and of each axle's, as its share
	HillSpeed    = "hill"          // speed on the hill asked for, worst rider
	CarryShare   = "carry_share"   // carried over the rider's own weight, worst rider
	HorizonShare = "horizon"       // months it lasts over the years asked for
	RiderHeight  = "rider_height"  // distance to the nearer end over half the range, worst rider
	StorageSlack = "storage_slack" // tightest slack at home
	Price        = "price"         // all of it over the budget, or over the dearest frame
	HandlingMass = "handling_mass" // bare weight and add-ons
)

// DefaultSettings returns the figures a shop starts with.
func DefaultSettings() Settings {
	return Settings{
		Settings:        fitting.DefaultSettings(),
		HeightRounding:  5 * measure.Millimetre,
		HeightMargin:    2 * measure.Centimetre,
		StandoverMargin: 2 * measure.Centimetre,
		CarryShare:      80 * measure.Percent,
		SlackMargin:     5 * measure.Centimetre,
		StepsMax:        3,
		StepsMass:       25 * measure.Kilogram,
		HeavyRider:      110 * measure.Kilogram,
		HeavyCargo:      25 * measure.Kilogram,
		EstimateMargin:  5 * measure.Kilogram,
		HillEffort:      1800,
		HillTurns:       50,
		HillSpeed:       4000,
		BrakeMass:       150 * measure.Kilogram,
		BrakeHill:       measure.Percentage(8 * measure.Percent),
		FrontShare:      20 * measure.Percent,
		SideMargin:      5 * measure.Kilogram,
		OutgrownMonths:  6,
		Patience:        DefaultPatience,
		Criteria: []CriterionSetting{
			{LoadHeadroom, 0, int64(25 * measure.Percent), 3},
			{HillSpeed, 3000, 9000, 1},
			{CarryShare, int64(100 * measure.Percent), int64(40 * measure.Percent), 2},
			{HorizonShare, 0, int64(100 * measure.Percent), 3},
			{RiderHeight, 0, int64(60 * measure.Percent), 2},
			{StorageSlack, 0, int64(20 * measure.Centimetre), 1},
			{Price, int64(120 * measure.Percent), int64(60 * measure.Percent), 2},
			{HandlingMass, int64(60 * measure.Kilogram), int64(18 * measure.Kilogram), 1},
		},
	}
}

// entry is one figure of the settings under the name it is kept by.
type entry struct {
	name   string
	figure *int64
}

// entries lists every figure.
func (s *Settings) entries() []entry {
	list := []entry{
		{"undressed_g", (*int64)(&s.Undressed)},
		{"stated_g", (*int64)(&s.Stated)},
		{"clothing_g", (*int64)(&s.Clothing)},
		{"planning_percentile", (*int64)(&s.Planning)},
		{"minimum_percentile", (*int64)(&s.Minimum)},
		{"height_rounding_mm", (*int64)(&s.HeightRounding)},
		{"height_margin_mm", (*int64)(&s.HeightMargin)},
		{"standover_margin_mm", (*int64)(&s.StandoverMargin)},
		{"carry_share", (*int64)(&s.CarryShare)},
		{"slack_margin_mm", (*int64)(&s.SlackMargin)},
		{"steps_mass_g", (*int64)(&s.StepsMass)},
		{"heavy_rider_g", (*int64)(&s.HeavyRider)},
		{"heavy_cargo_g", (*int64)(&s.HeavyCargo)},
		{"estimate_margin_g", (*int64)(&s.EstimateMargin)},
		{"hill_effort", &s.HillEffort},
		{"hill_turns", &s.HillTurns},
		{"hill_speed", &s.HillSpeed},
		{"brake_mass_g", (*int64)(&s.BrakeMass)},
		{"brake_hill", (*int64)(&s.BrakeHill)},
		{"front_share", (*int64)(&s.FrontShare)},
		{"side_margin_g", (*int64)(&s.SideMargin)},
		{"outgrown_months", &s.OutgrownMonths},
		{LocalRiderAge, &s.Local.RiderAge},
		{LocalPassengerAge, &s.Local.PassengerAge},
		{LocalPassengers, &s.Local.Passengers},
		{LocalWidth, (*int64)(&s.Local.Width)},
	}
	for i := range s.Criteria {
		c := &s.Criteria[i]
		list = append(list, entry{c.Code + "_zero", &c.Zero}, entry{c.Code + "_one", &c.One}, entry{c.Code + "_weight", &c.Weight})
	}
	return list
}

const stepsMaxName = "steps_max"

// Figures returns the settings by name, as a store keeps them.
func (s Settings) Figures() map[string]int64 {
	figures := map[string]int64{stepsMaxName: int64(s.StepsMax)}
	for _, e := range s.entries() {
		figures[e.name] = *e.figure
	}
	return figures
}

// SettingsOf returns the default settings with the named figures replaced.
// Names that it does not know are ignored: a store may be newer than this.
func SettingsOf(figures map[string]int64) Settings {
	s := DefaultSettings()
	s.Criteria = slices.Clone(s.Criteria)
	for _, e := range s.entries() {
		if n, ok := figures[e.name]; ok {
			*e.figure = n
		}
	}
	if n, ok := figures[stepsMaxName]; ok {
		s.StepsMax = int(n)
	}
	return s
}
