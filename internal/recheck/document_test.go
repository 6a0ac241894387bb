// Package recheck works every answer out a second time, from the documents
// alone and as simply as can be: a catalogue and a profile go in, the matches
// come out, and every figure of them but the choice of add-ons is worked out
// anew and compared. It shares no code with what it checks.
package recheck

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
)

// Counts of grams, millimetres and millilitres, which documents write as
// kilograms, centimetres and litres.
type (
	grams       int64
	millimetres int64
	millilitres int64
	percent     float64 // to a hundredth
)

const kg = grams(1000)

func counted(data []byte, per float64) (int64, error) {
	f, err := strconv.ParseFloat(string(data), 64)
	return int64(math.Round(f * per)), err
}

func (g *grams) UnmarshalJSON(data []byte) error {
	n, err := counted(data, 1000)
	*g = grams(n)
	return err
}

func (l *millimetres) UnmarshalJSON(data []byte) error {
	n, err := counted(data, 10)
	*l = millimetres(n)
	return err
}

func (v *millilitres) UnmarshalJSON(data []byte) error {
	n, err := counted(data, 1000)
	*v = millilitres(n)
	return err
}

func (p *percent) UnmarshalJSON(data []byte) error {
	n, err := counted(data, 100)
	*p = percent(n) / 100
	return err
}

// answer is what the customer said: nothing, "don't know yet", or a value.
type answer[T any] struct {
	given, open bool
	value       T
}

func (a *answer[T]) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		a.open = true
		return nil
	}
	a.given = true
	return json.Unmarshal(data, &a.value)
}

type place struct {
	Zone       string
	Kind       string
	MinMonths  int         `json:"min_months"`
	MaxMonths  int         `json:"max_months"`
	MinMass    grams       `json:"min_kg"`
	MaxMass    grams       `json:"max_kg"`
	MaxStature millimetres `json:"max_stature_cm"`
	Needs      [][]string
	Ahead      millimetres `json:"ahead_of_rear_axle_cm"`
}

type zone struct {
	Code    string
	Rating  grams       `json:"rating_kg"`
	Ahead   millimetres `json:"ahead_of_rear_axle_cm"`
	Side    string
	Cargo   grams       `json:"cargo_kg"`
	CargoIn millilitres `json:"cargo_litres"`
}

type box struct {
	Length millimetres `json:"length_cm"`
	Width  millimetres `json:"width_cm"`
	Height millimetres `json:"height_cm"`
}

type frame struct {
	Code      string
	Type      string
	Gross     grams       `json:"gross_rating_kg"`
	Bare      grams       `json:"bare_weight_kg"`
	RiderMin  millimetres `json:"rider_min_cm"`
	RiderMax  millimetres `json:"rider_max_cm"`
	RiderKg   grams       `json:"rider_max_kg"`
	Seats     int         `json:"passengers_max"`
	Standover millimetres `json:"standover_cm"`
	SaddleMin millimetres `json:"saddle_min_cm"`
	SaddleMax millimetres `json:"saddle_max_cm"`
	Price     int64       `json:"price_cents"`
	box
	Upright    box
	Wheelbase  millimetres `json:"wheelbase_cm"`
	Rider      millimetres `json:"rider_ahead_of_rear_axle_cm"`
	FrontShare float64     `json:"bare_front_share"`
	FrontMax   grams       `json:"front_axle_max_kg"`
	RearMax    grams       `json:"rear_axle_max_kg"`
	FrontTyre  string      `json:"front_tyre"`
	RearTyre   string      `json:"rear_tyre"`
	OddWheel   bool        `json:"odd_wheel"`
	FrontBrake string      `json:"front_brake"`
	RearBrake  string      `json:"rear_brake"`
	Chainring  []float64
	Sprockets  []float64
	Assist     float64 `json:"assist_watts"`
	Zones      []zone
	Combined   []struct {
		Zones  []string
		Rating grams `json:"rating_kg"`
	}
	Mounts []struct {
		Code     string
		Capacity int
	}
	Places    []place
	Provides  []string
	ComesWith []string `json:"comes_with"`
	Evidence  []source
}

// source says that somebody noted where a figure comes from.
type source struct{ Figure string }

type addOn struct {
	Code    string
	Weight  grams `json:"weight_kg"`
	Price   int64 `json:"price_cents"`
	Minutes int64 `json:"fitting_minutes"`
	Fits    []string
	Uses    []struct {
		Mount string
		Count int
	}
	Needs           [][]string
	Excludes        []string
	Provides        []string
	Zone            string
	Ahead           millimetres `json:"ahead_of_rear_axle_cm"`
	StandMax        grams       `json:"stand_max_kg"`
	MaxLoad         grams       `json:"max_load_kg"`
	Cargo           grams       `json:"cargo_kg"`
	CargoIn         millilitres `json:"cargo_litres"`
	Pet             grams       `json:"pet_kg"`
	Displaces       grams       `json:"displaces_kg"`
	DisplacesVolume millilitres `json:"displaces_litres"`
	UpTo            int         `json:"up_to"`
	Places          []place
	FrontOver       millimetres                `json:"front_overhang_cm"`
	RearOver        millimetres                `json:"rear_overhang_cm"`
	Width           millimetres                `json:"overall_width_cm"`
	Height          millimetres                `json:"overall_height_cm"`
	Blocks          bool                       `json:"blocks_upright"`
	OnFrame         map[string]json.RawMessage `json:"on_frame"`
	Evidence        []source
}

type catalogue struct {
	Shop struct {
		Labour int64 `json:"labour_cents_per_hour"`
	}
	Frames []frame
	AddOns []addOn `json:"add_ons"`
}

// on returns the add-on of a code with the facts of its pair with a frame.
func (c *catalogue) on(f *frame, code string) *addOn {
	for _, a := range c.AddOns {
		if a.Code != code {
			continue
		}
		if pair, ok := a.OnFrame[f.Code]; ok {
			if err := json.Unmarshal(pair, &a); err != nil {
				panic(err)
			}
		}
		return &a
	}
	return nil
}

type rider struct {
	Label   string
	Height  answer[millimetres] `json:"height_cm"`
	Inseam  answer[millimetres] `json:"inseam_cm"`
	Weight  answer[grams]       `json:"weight_kg"`
	Weighed answer[string]
	Grip    answer[string]
}

type passenger struct {
	Label   string
	Born    answer[string]
	Sex     answer[string]
	Weight  answer[grams]       `json:"weight_kg"`
	Stature answer[millimetres] `json:"stature_cm"`
	Sits    answer[bool]        `json:"sits_unaided"`
	Joins   answer[string]
	Leaves  answer[int] `json:"leaves_at_years"`
}

type home struct {
	Length    answer[millimetres] `json:"length_cm"`
	Width     answer[millimetres] `json:"width_cm"`
	Height    answer[millimetres] `json:"height_cm"`
	Clearance answer[millimetres] `json:"clearance_cm"`
	Upright   answer[bool]        `json:"must_stand_upright"`
	Doorways  answer[[]struct {
		Width  answer[millimetres] `json:"width_cm"`
		Height answer[millimetres] `json:"height_cm"`
	}]
	Corners answer[[]struct {
		In  answer[millimetres] `json:"in_cm"`
		Out answer[millimetres] `json:"out_cm"`
	}]
	Lift answer[struct {
		Length answer[millimetres] `json:"length_cm"`
		Width  answer[millimetres] `json:"width_cm"`
		Height answer[millimetres] `json:"height_cm"`
		Door   answer[millimetres] `json:"door_cm"`
	}]
	Steps answer[int]
}

type profile struct {
	AsOf       string `json:"as_of"`
	Objective  string
	Riders     []rider
	Passengers answer[[]passenger]
	Pet        answer[grams]       `json:"pet_kg"`
	Cargo      answer[grams]       `json:"cargo_kg"`
	Litres     answer[millilitres] `json:"cargo_litres"`
	Home       answer[home]
	Budget     answer[int64] `json:"budget_cents"`
	Firm       answer[bool]  `json:"budget_firm"`
	Years      answer[int]
	Hill       answer[percent] `json:"hill_percent"`
}

// read reads a document. Whoever writes a figure that is not known here is
// told so: it would go unchecked.
func read[T any](data []byte, strict bool) (T, error) {
	var into T
	d := json.NewDecoder(bytes.NewReader(data))
	if strict {
		d.DisallowUnknownFields()
	}
	err := d.Decode(&into)
	return into, err
}
