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
// minded before anybody rides at its head and what is worth asking at its end.
// The same matches are always the same bytes.
func Document(matches []*Match, asked []Question) ([]byte, error) {
	doc := answer{Matches: make([]document, len(matches)), Questions: make([]question, len(asked))}
	for i := range asked {
		doc.Questions[i] = questionOf(&asked[i])
	}
	for _, c := range Cautions {
		doc.Cautions = append(doc.Cautions, c.English)
	}
	for i, m := range matches {
		doc.Matches[i] = documentOf(m)
	}
	return json.Marshal(doc, json.Deterministic(true), jsontext.WithIndent("  "))
}

// answer is the whole document. Of a key that its name does not explain, the
// tag says what it holds: the schema for other programs tells it.
type answer struct {
	Cautions  []string   `json:"cautions" says:"to be minded before anybody rides, and shown wherever a match is"`
	Matches   []document `json:"matches" says:"every frame of the shop, the best first"`
	Questions []question `json:"questions" says:"the open answers that decide most, at most three"`
}

type document struct {
	Frame        string               `json:"frame" says:"the code of the frame"`
	Verdict      Verdict              `json:"verdict"`
	Score        *decimal             `json:"score" says:"0 to 100; null where the frame does not fit or is not judged"`
	Relaxed      []fitting.Relaxation `json:"relaxed" says:"what the build leaves out, where no build does all that was asked"`
	Open         []string             `json:"open_questions" says:"the paths of answers that are not known yet"`
	Criteria     []criterion          `json:"criteria"`
	Reasons      []Reason             `json:"reasons"`
	Build        *build               `json:"build" says:"the add-ons chosen and who sits where; null where the frame is not judged"`
	Asked        *asked               `json:"asked,omitzero" says:"the set of add-ons that loads and limits are of, where the build leaves something out"`
	Loads        []sheet              `json:"loads" says:"the sum of all weights, under each rider"`
	Limits       []Limit              `json:"limits" says:"every rating that something leans on, the one with the least left first"`
	Horizon      *string              `json:"horizon" says:"the last month that the build still carries everybody; null where nothing is outgrown within ten years"`
	HorizonEarly *string              `json:"horizon_early" says:"the same where the children grow fast"`
	HorizonLate  *string              `json:"horizon_late" says:"and where they grow slowly"`
	HorizonLimit *string              `json:"horizon_limit" says:"the rating or limit that ends it"`
	Longer       *longer              `json:"longer,omitzero" says:"the build that lasts longest, where it costs more"`
	Stages       []stage              `json:"stages,omitzero" says:"the cheapest sequence of builds over the years asked for"`
	Ahead        *yearsAhead          `json:"years_ahead,omitzero"`
	Parking      *home                `json:"parking" says:"how the build gets home and fits there; null where no home is known"`
	Total        *measure.Money       `json:"total_cents" says:"frame, add-ons and labour"`
	Change       *Change              `json:"would_fit_if" says:"the first single change that would make it fit; null where it fits or none would"`
	Unsettled    []Part               `json:"unsettled,omitzero" says:"parts of the answer that were left open when time was over"`
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

// question is an answer that would decide something.
type question struct {
	Path  string     `json:"question"`
	Worth decimal    `json:"worth"`
	Edges []edgeLine `json:"edges"`
	Text  string     `json:"text"`
}

// edgeLine is a figure, in the unit that its question is answered in, at which
// the verdict of a frame changes.
type edgeLine struct {
	Mass    *measure.Mass       `json:"at_kg,omitzero"`
	Length  *measure.Length     `json:"at_cm,omitzero"`
	Volume  *measure.Volume     `json:"at_litres,omitzero"`
	Money   *measure.Money      `json:"at_cents,omitzero"`
	Percent *measure.Percentage `json:"at_percent,omitzero"`
	Month   string              `json:"at_month,omitzero"`
	Number  *int64              `json:"at,omitzero"`
	Frame   string              `json:"frame"`
	Under   Verdict             `json:"under"`
	From    Verdict             `json:"from"`
}

func questionOf(q *Question) question {
	out := question{Path: q.Path, Worth: decimal{big.NewRat(int64(q.Worth), int64(measure.Whole)), 2}, Text: q.Asked().In(measure.Metric)}
	for _, s := range q.Says() {
		out.Text += " " + s.In(measure.Metric)
	}
	for _, e := range q.Edges {
		line := edgeLine{Frame: e.Frame.Code, Under: e.Under, From: e.From}
		switch q.unit {
		case "kg":
			line.Mass = new(measure.Mass(e.Figure))
		case "cm":
			line.Length = new(measure.Length(e.Figure))
		case "litres":
			line.Volume = new(measure.Volume(e.Figure))
		case "cents":
			line.Money = new(measure.Money(e.Figure))
		case "percent":
			line.Percent = new(measure.Percentage(e.Figure))
		case "month":
			line.Month = measure.Month(e.Figure).String()
		default:
			line.Number = &e.Figure
		}
		out.Edges = append(out.Edges, line)
	}
	return out
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
	if d.Horizon = monthOf(m.Horizon); d.Horizon != nil {
		limit := m.Horizon.Limit.String()
		d.HorizonLimit = &limit
	}
	if m.Band != nil {
		d.HorizonEarly, d.HorizonLate = monthOf(&m.Band.Early), monthOf(&m.Band.Late)
	}
	d.Stages, d.Ahead = stagesOf(m.Stages)
	if l := m.Longer; l != nil {
		d.Longer = &longer{AddOns: l.Build.AddOns, TakenOff: l.Build.TakenOff, More: l.More, Horizon: monthOf(&l.Horizon)}
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
