package match

import (
	"fmt"

	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/tongue"
)

// Asks are the sentences that say what an answer decides, of one frame and of
// several.
var Asks = []tongue.Said{
	tongue.In("Under %v, %v does not fit.", "En dessous de %v, %v ne convient pas.", "Unter %v passt %v nicht.", "Onder %v past %v niet."),
	tongue.In("Under %v, %v do not fit.", "En dessous de %v, %v ne conviennent pas.", "Unter %v passen %v nicht.", "Onder %v passen %v niet."),
	tongue.In("From %v on, %v does not fit.", "À partir de %v, %v ne convient pas.", "Ab %v passt %v nicht.", "Vanaf %v past %v niet."),
	tongue.In("From %v on, %v do not fit.", "À partir de %v, %v ne conviennent pas.", "Ab %v passen %v nicht.", "Vanaf %v passen %v niet."),
	tongue.In("From %v on, %v fits with nothing more to mind here.", "À partir de %v, %v convient sans réserve sur ce point.", "Ab %v passt %v in diesem Punkt ohne Einschränkung.", "Vanaf %v past %v op dit punt zonder voorbehoud."),
	tongue.In("From %v on, %v fit with nothing more to mind here.", "À partir de %v, %v conviennent sans réserve sur ce point.", "Ab %v passen %v in diesem Punkt ohne Einschränkung.", "Vanaf %v passen %v op dit punt zonder voorbehoud."),
	tongue.In("From %v on, %v fits only with care.", "À partir de %v, %v ne convient plus que sous réserve.", "Ab %v passt %v nur noch mit Einschränkung.", "Vanaf %v past %v alleen nog onder voorbehoud."),
	tongue.In("From %v on, %v fit only with care.", "À partir de %v, %v ne conviennent plus que sous réserve.", "Ab %v passen %v nur noch mit Einschränkung.", "Vanaf %v passen %v alleen nog onder voorbehoud."),

	tongue.In("If not, %v does not fit.", "Sinon, %v ne convient pas.", "Wenn nicht, passt %v nicht.", "Zo niet, dan past %v niet."),
	tongue.In("If not, %v do not fit.", "Sinon, %v ne conviennent pas.", "Wenn nicht, passen %v nicht.", "Zo niet, dan passen %v niet."),
	tongue.In("If so, %v does not fit.", "Si oui, %v ne convient pas.", "Wenn ja, passt %v nicht.", "Zo ja, dan past %v niet."),
	tongue.In("If so, %v do not fit.", "Si oui, %v ne conviennent pas.", "Wenn ja, passen %v nicht.", "Zo ja, dan passen %v niet."),
	tongue.In("If so, %v fits with nothing more to mind here.", "Si oui, %v convient sans réserve sur ce point.", "Wenn ja, passt %v in diesem Punkt ohne Einschränkung.", "Zo ja, dan past %v op dit punt zonder voorbehoud."),
	tongue.In("If so, %v fit with nothing more to mind here.", "Si oui, %v conviennent sans réserve sur ce point.", "Wenn ja, passen %v in diesem Punkt ohne Einschränkung.", "Zo ja, dan passen %v op dit punt zonder voorbehoud."),
	tongue.In("If so, %v fits only with care.", "Si oui, %v ne convient que sous réserve.", "Wenn ja, passt %v nur mit Einschränkung.", "Zo ja, dan past %v alleen onder voorbehoud."),
	tongue.In("If so, %v fit only with care.", "Si oui, %v ne conviennent que sous réserve.", "Wenn ja, passen %v nur mit Einschränkung.", "Zo ja, dan passen %v alleen onder voorbehoud."),

	tongue.In("With any at all, %v does not fit.", "Dès qu’il y en a, %v ne convient pas.", "Sobald überhaupt etwas mitfährt, passt %v nicht.", "Zodra er iets meegaat, past %v niet."),
	tongue.In("With any at all, %v do not fit.", "Dès qu’il y en a, %v ne conviennent pas.", "Sobald überhaupt etwas mitfährt, passen %v nicht.", "Zodra er iets meegaat, passen %v niet."),
	tongue.In("Before %v, %v does not fit.", "Avant %v, %v ne convient pas.", "Vor %v passt %v nicht.", "Vóór %v past %v niet."),
	tongue.In("Before %v, %v do not fit.", "Avant %v, %v ne conviennent pas.", "Vor %v passen %v nicht.", "Vóór %v passen %v niet."),
	tongue.In("The answer changes which frames come first.", "La réponse change l’ordre des premiers vélos.", "Die Antwort ändert, welche Räder vorn stehen.", "Het antwoord verandert welke fietsen vooraan staan."),
	tongue.In("%v Leave empty where there is none.", "%v Laissez vide s’il n’y en a pas.", "%v Leer lassen, wenn es keinen gibt.", "%v Leeg laten als er geen is."),
	tongue.In("%v, %v", "%v, %v", "%v, %v", "%v, %v"),
	tongue.In("%v and %v others", "%v et %v autres", "%v und %v weitere", "%v en %v andere"),
	tongue.In("%v and one other", "%v et un autre", "%v und ein weiteres", "%v en één andere"),
}

// mostSays is how many sentences say what an answer decides.
const mostSays = 3

// Asked is the question itself.
func (q *Question) Asked() Message {
	of, _ := profile.Of(q.Path)
	switch {
	case q.ifAny:
		return say("%v Leave empty where there is none.", Message{Format: of.Asked.English})
	case q.who == nil:
		return Message{Format: of.Asked.English}
	}
	return Message{of.Asked.English, []any{q.who}}
}

// Says tells what the answer decides: where frames are ruled out first.
func (q *Question) Says() []Message {
	var says []Message
	for _, out := range []bool{true, false} {
		for k := 0; k < len(q.Edges) && len(says) < mostSays; {
			e, n := q.Edges[k], 1
			for k+n < len(q.Edges) && q.Edges[k+n].same(e) {
				n++
			}
			if out == (e.Under == DoesNotFit || e.From == DoesNotFit) {
				says = append(says, q.clause(e, names(q.Edges[k:k+n]), n > 1))
			}
			k += n
		}
	}
	if len(says) == 0 {
		says = append(says, say("The answer changes which frames come first."))
	}
	return says
}

func (e Edge) same(f Edge) bool {
	return e.Figure == f.Figure && e.Under == f.Under && e.From == f.From
}

// names lists frames: three at most by name.
func names(edges []Edge) any {
	const most = 3
	var list any = edges[0].Frame.Called()
	for k, e := range edges[1:] {
		switch {
		case k+1 == len(edges)-1:
			return say("%v and %v", list, e.Frame.Called())
		case k+2 == most:
			list = say("%v, %v", list, e.Frame.Called())
			if more := len(edges) - most; more > 1 {
				return say("%v and %v others", list, more)
			}
			return say("%v and one other", list)
		}
		list = say("%v, %v", list, e.Frame.Called())
	}
	return list
}

// clause says one edge.
func (q *Question) clause(e Edge, frames any, many bool) Message {
	yesNo := q.Span == profile.Span{Most: 1}
	figure := q.shown(e.Figure, e.From.rank() < e.Under.rank())
	_, month := figure.(measure.Month)
	switch {
	case e.Under == DoesNotFit && yesNo:
		return oneOr(many, say("If not, %v does not fit.", frames), say("If not, %v do not fit.", frames))
	case e.Under == DoesNotFit && month:
		return oneOr(many, say("Before %v, %v does not fit.", figure, frames), say("Before %v, %v do not fit.", figure, frames))
	case e.Under == DoesNotFit:
		return oneOr(many, say("Under %v, %v does not fit.", figure, frames), say("Under %v, %v do not fit.", figure, frames))
	case e.From == DoesNotFit && yesNo:
		return oneOr(many, say("If so, %v does not fit.", frames), say("If so, %v do not fit.", frames))
	case e.From == DoesNotFit && e.Figure == 1 && carried(q.unit):
		return oneOr(many, say("With any at all, %v does not fit.", frames), say("With any at all, %v do not fit.", frames))
	case e.From == DoesNotFit:
		return oneOr(many, say("From %v on, %v does not fit.", figure, frames), say("From %v on, %v do not fit.", figure, frames))
	case e.From == Fits && yesNo:
		return oneOr(many, say("If so, %v fits with nothing more to mind here.", frames), say("If so, %v fit with nothing more to mind here.", frames))
	case e.From == Fits:
		return oneOr(many, say("From %v on, %v fits with nothing more to mind here.", figure, frames), say("From %v on, %v fit with nothing more to mind here.", figure, frames))
	case yesNo:
		return oneOr(many, say("If so, %v fits only with care.", frames), say("If so, %v fit only with care.", frames))
	}
	return oneOr(many, say("From %v on, %v fits only with care.", figure, frames), say("From %v on, %v fit only with care.", figure, frames))
}

// carried reports whether a unit is that of something taken along, which may
// be nothing.
func carried(unit string) bool { return unit == "kg" || unit == "litres" }

func oneOr(many bool, one, several Message) Message {
	if many {
		return several
	}
	return one
}

// shown is a figure as it is read: never so that a frame looks safer than it
// is. More helps tells that a frame fits better from the figure on.
func (q *Question) shown(figure int64, moreHelps bool) any {
	rounding := measure.Down
	if moreHelps {
		rounding = measure.Up
	}
	switch q.unit {
	case "cm":
		return Rounded{measure.Length(figure), rounding}
	case "kg":
		return Rounded{measure.Mass(figure), rounding}
	case "litres":
		return Rounded{measure.Volume(figure), rounding}
	case "cents":
		return Cost{measure.Money(figure), q.currency}
	case "percent":
		return measure.Percentage(figure)
	case "month":
		return measure.Month(figure)
	}
	return fmt.Sprint(figure)
}
