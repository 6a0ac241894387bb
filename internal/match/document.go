package match

import (
	"math/big"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/parking"
)

func itoa(n int) string { return strconv.Itoa(n) }

// Document writes matches as the interchange document, with what is to be
// minded before anybody rides at its head. The same matches are always the
// same bytes.
func Document(matches []*Match) ([]byte, error) {
	doc := struct {
		Cautions []string   `json:"cautions"`
		Matches  []document `json:"matches"`
	}{Matches: make([]document, len(matches))}
	for _, c := range Cautions {
		doc.Cautions = append(doc.Cautions, c.English)
	}
	for i, m := range matches {
		doc.Matches[i] = documentOf(m)
	}
	return json.Marshal(doc, json.Deterministic(true), jsontext.WithIndent("  "))
}

type document struct {
	Frame        string               `json:"frame"`
	Verdict      Verdict              `json:"verdict"`
	Score        *decimal             `json:"score"`
	Relaxed      []fitting.Relaxation `json:"relaxed"`
	Open         []string             `json:"open_questions"`
	Criteria     []criterion          `json:"criteria"`
	Reasons      []Reason             `json:"reasons"`
	Build        *build               `json:"build"`
	Asked        *asked               `json:"asked,omitzero"`
	Loads        []sheet              `json:"loads"`
	Limits       []Limit              `json:"limits"`
	Horizon      *string              `json:"horizon"`
	HorizonLimit *string              `json:"horizon_limit"`
	Longer       *longer              `json:"longer,omitzero"`
	Parking      *home                `json:"parking"`
	Total        *measure.Money       `json:"total_cents"`
	Change       *Change              `json:"would_fit_if"`
	Unsettled    []Part               `json:"unsettled,omitzero"`
}

// build is a build, with how far it is from being proved the best, if at all.
type build struct {
	*fitting.Build
	Unproved *unproved `json:"unproved,omitzero"`
}

type unproved struct {
	Cheaper *measure.Money `json:"cheaper_at_most_cents,omitzero"` // where the cheapest build was looked for
}

// asked is the set of add-ons that the loads and the limits are of, where the
// build leaves something out.
type asked struct {
	AddOns   []string     `json:"add_ons"`
	TakenOff []string     `json:"taken_off"`
	Weight   measure.Mass `json:"weight_kg"`
	NoPlace  measure.Mass `json:"without_place_kg"` // counted in the gross weight alone
}

// longer is the build that lasts longest, with how much more it costs.
type longer struct {
	AddOns   []string      `json:"add_ons"`
	TakenOff []string      `json:"taken_off"`
	Horizon  *string       `json:"horizon"` // null where it lasts ten years
	More     measure.Money `json:"more_cents"`
}

type criterion struct {
	Code   string  `json:"code"`
	Value  decimal `json:"value"`
	Weight int64   `json:"weight"`
}

type sheet struct {
	Rider     string          `json:"rider"`
	Total     measure.Mass    `json:"total_kg"`
	Rating    measure.Mass    `json:"gross_rating_kg"`
	Spare     measure.Mass    `json:"spare_kg"`
	Carried   measure.Mass    `json:"carried_kg"`
	Guideline measure.Mass    `json:"carry_guideline_kg"`
	Zones     []load.ZoneLoad `json:"zones"`
	Combined  []load.ZoneLoad `json:"combined,omitzero"`
	Front     *measure.Mass   `json:"front_axle_kg,omitzero"`
	Rear      *measure.Mass   `json:"rear_axle_kg,omitzero"`
}

type home struct {
	Fits     bool           `json:"fits"`
	How      parking.How    `json:"how"`
	Tightest string         `json:"tightest"`
	Slack    measure.Length `json:"slack_cm"`
}

// decimal is an exact figure written with few decimals.
type decimal struct {
	figure *big.Rat
	places int
}

// MarshalJSON writes the figure rounded to its decimals, halves away from
// zero.
func (d decimal) MarshalJSON() ([]byte, error) {
	f, _ := strconv.ParseFloat(d.figure.FloatString(d.places), 64)
	return strconv.AppendFloat(nil, f, 'f', -1, 64), nil
}

func documentOf(m *Match) document {
	d := document{
		Frame: m.Frame.Code, Verdict: m.Verdict, Relaxed: m.Relaxed, Open: m.Open, Reasons: m.Reasons,
		Limits: m.Limits, Change: m.Change, Unsettled: m.Unsettled,
	}
	if m.Verdict == NotJudged {
		return d // there is no build to tell of
	}
	d.Build, d.Total = buildOf(m), &m.Total
	if m.Score != nil {
		d.Score = &decimal{m.Score, 1}
	}
	for _, c := range m.Criteria {
		d.Criteria = append(d.Criteria, criterion{c.Code, decimal{c.Value, 4}, c.Weight})
	}
	if a := m.Asked; a != nil {
		d.Asked = &asked{a.Build.AddOns, a.Build.TakenOff, a.Build.Weight, a.NoPlace}
	}
	for i := range m.Sheets {
		d.Loads = append(d.Loads, sheetOf(&m.Sheets[i]))
	}
	if m.Horizon != nil && m.Horizon.Ends {
		month, limit := m.Horizon.Month.String(), m.Horizon.Limit.String()
		d.Horizon, d.HorizonLimit = &month, &limit
	}
	if l := m.Longer; l != nil {
		d.Longer = &longer{AddOns: l.Build.AddOns, TakenOff: l.Build.TakenOff, More: l.More}
		if month := l.Horizon.Month.String(); l.Horizon.Ends {
			d.Longer.Horizon = &month
		}
	}
	if h := m.Home; h != nil {
		d.Parking = &home{h.Fits, h.How, h.Tightest, h.Slack}
	}
	return d
}

func buildOf(m *Match) *build {
	b := &build{Build: m.Build}
	if m.Build.Unproved {
		b.Unproved = &unproved{}
		if by, known := m.CheaperAtMost(); known {
			b.Unproved.Cheaper = &by
		}
	}
	return b
}

func sheetOf(s *load.Sheet) sheet {
	out := sheet{
		Rider: s.Rider.Label, Total: s.Total, Rating: s.Rating, Spare: s.Spare(), Carried: s.Carried,
		Guideline: s.Guideline, Zones: s.Zones, Combined: s.Combined,
	}
	if s.Axles {
		out.Front, out.Rear = &s.Front, &s.Rear
	}
	return out
}
