package match

import (
	"reflect"

	"kinwain/internal/fitting"
	"kinwain/internal/parking"
	"kinwain/internal/schema"
)

// Schemas are those of the document of matches and its parts, by what they are
// called.
func Schemas() schema.Properties {
	var codes []Code
	for _, r := range Rules {
		codes = append(codes, r.Code)
	}
	text := schema.Schema{Type: schema.Types{schema.Text}}
	types := schema.Writer{
		reflect.TypeFor[Verdict]():            *schema.Words(Fits, FitsWithCare, NotJudged, DoesNotFit),
		reflect.TypeFor[Weight]():             *schema.Words(Stop, Care, Note),
		reflect.TypeFor[Code]():               *schema.Words(codes...),
		reflect.TypeFor[fitting.Relaxation](): *schema.Words(fitting.EveryRelaxation...),
		reflect.TypeFor[parking.How]():        *schema.Words(parking.Flat, parking.Turned, parking.Upright),
		reflect.TypeFor[Part]():               *schema.Words(WhyNot, LeftOut, WouldFitIf),
		reflect.TypeFor[decimal]():            {Type: schema.Types{schema.Number}},
		reflect.TypeFor[Message]():            text,
	}
	match, asked := types.Of(reflect.TypeFor[document]()), types.Of(reflect.TypeFor[question]())
	types[reflect.TypeFor[document]()], types[reflect.TypeFor[question]()] = *schema.To("Match"), *schema.To("Question")
	return schema.Properties{{Name: "Matches", Of: types.Of(reflect.TypeFor[answer]())}, {Name: "Match", Of: match}, {Name: "Question", Of: asked}}
}
