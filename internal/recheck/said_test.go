package recheck

import "encoding/json"

// What the program says.

type reason struct {
	Code, Weight, Rider, Passenger, Zone, Axle string
	AddOn                                      string `json:"add_on"`
	Field, Part, Day, Month, Rule              string
	Over                                       grams       `json:"over_kg"`
	OverSize                                   millimetres `json:"over_cm"`
	OverPrice                                  int64       `json:"over_cents"`
	Slack                                      millimetres `json:"slack_cm"`
	Rating                                     string
	Spare                                      grams `json:"spare_kg"`
	Speed                                      int64 `json:"metres_per_hour"`
	Text                                       string
}

// reasons are one for each figure, where one names several.
type reasons []reason

func (list *reasons) UnmarshalJSON(data []byte) error {
	type several struct {
		reason
		Fields []string
	}
	said, err := read[[]several](data, true)
	for _, s := range said {
		for _, field := range s.Fields {
			s.Field = field
			*list = append(*list, s.reason)
		}
		if len(s.Fields) == 0 {
			*list = append(*list, s.reason)
		}
	}
	return err
}

type zoneLoad struct {
	Zone   string
	Mass   grams `json:"kg"`
	Rating grams `json:"rating_kg"`
}

type sheet struct {
	Rider     string
	Total     grams `json:"total_kg"`
	Gross     grams `json:"gross_rating_kg"`
	Spare     grams `json:"spare_kg"`
	Carried   grams `json:"carried_kg"`
	Guideline grams `json:"carry_guideline_kg"`
	Zones     []zoneLoad
	Combined  []zoneLoad
	Front     *grams `json:"front_axle_kg"`
	Rear      *grams `json:"rear_axle_kg"`
}

type limit struct {
	Rating    string
	Rider     string
	Passenger string
	Mass      grams `json:"kg"`
	Most      grams `json:"rating_kg"`
	Spare     grams `json:"spare_kg"`
}

type seat struct {
	Passenger string
	AddOn     string `json:"add_on"`
	Place     int
}

type share struct {
	Carrier, Zone string
	Mass          grams       `json:"kg"`
	Volume        millilitres `json:"litres"`
}

type build struct {
	AddOns   []string `json:"add_ons"`
	TakenOff []string `json:"taken_off"`
	Price    int64    `json:"price_cents"`
	Labour   int64    `json:"labour_cents"`
	Weight   grams    `json:"weight_kg"`
	Seating  []seat
	Pet      string
	Cargo    []share
}

// everything is the set of add-ons that the sheets are of, where the build
// leaves out something of what was asked.
type everything struct {
	AddOns   []string `json:"add_ons"`
	TakenOff []string `json:"taken_off"`
	Weight   grams    `json:"weight_kg"`
	NoPlace  grams    `json:"without_place_kg"`
}

// lasting is a build that lasts longer, and what it costs more.
type lasting struct {
	AddOns   []string `json:"add_ons"`
	TakenOff []string `json:"taken_off"`
	More     int64    `json:"more_cents"`
	Horizon  *string
	GivesOut *string `json:"horizon_limit"`
}

type criterion struct {
	Code   string
	Value  float64
	Weight float64
}

type change struct {
	Change    string
	Kg        *grams       `json:"to_kg"`
	Litres    *millilitres `json:"to_litres"`
	To        millimetres  `json:"to_cm"`
	By        millimetres  `json:"by_cm"`
	Cents     int64        `json:"to_cents"`
	Part      string
	Day       string
	Rider     string
	Passenger string
	Text      string
}

type parked struct {
	Fits     bool
	How      string
	Tightest string
	Slack    millimetres `json:"slack_cm"`
}

type match struct {
	Frame    string
	Verdict  string
	Score    *float64
	Relaxed  []string
	Open     []string `json:"open_questions"`
	Criteria []criterion
	Reasons  reasons
	Build    build
	Asked    *everything
	Loads    []sheet
	Limits   []limit
	Horizon  *string
	Early    *string `json:"horizon_early"`
	Late     *string `json:"horizon_late"`
	GivesOut *string `json:"horizon_limit"`
	Longer   *lasting
	Stages   []stage
	Ahead    *ahead `json:"years_ahead"`
	Parking  *parked
	Total    int64   `json:"total_cents"`
	Change   *change `json:"would_fit_if"`
}

type matches struct {
	Cautions []string
	Matches  []match
	// The next questions are asked for and held to brute force elsewhere.
	Questions []json.RawMessage
}
