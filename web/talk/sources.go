package talk

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// sourceWords say where a figure comes from. Each is the key of its
// translations.
var sourceWords = map[string]string{"rating_plate": "rating plate", "manual": "manual", "maker_answer": "maker’s answer", "own_measure": "own scale or tape"}

// proof is where a figure comes from: rating plate, March 2026; and the page of a
// photo of that, for whoever may see it.
type proof struct{ words, photo string }

// from says where a figure of the frame comes from.
func (v *Viewer) from(figure string) proof { return v.fromOf(v.Frame.Evidence, figure) }

// fromOf says where a figure comes from, by the evidence of its thing. Of what was
// told before anybody asked for sources nothing is said.
func (v *Viewer) fromOf(evidence []catalog.Evidence, figure string) proof {
	if e := catalog.Source(evidence, figure); e != nil {
		p := proof{words: v.Say(sourceWords[e.Kind]) + ", " + v.Speaker.Month(e.On.InMonth())}
		if e.Photo != "" && v.PhotoAt != nil {
			p.photo = v.PhotoAt(e.Photo)
		}
		return p
	}
	asked := len(v.Frame.Evidence)+len(evidence) > 0 || slices.ContainsFunc(v.Match.Reasons, func(r match.Reason) bool { return r.Code == match.ReasonSourceMissing })
	if !asked {
		return proof{}
	}
	return proof{words: v.Say("no source noted")}
}

// evidenceOf returns the evidence of an add-on, or of the frame where none is
// named.
func (v *Viewer) evidenceOf(addOn string) []catalog.Evidence {
	if a := v.Catalogue.AddOn(addOn); a != nil {
		return a.Evidence
	}
	return v.Frame.Evidence
}

// bearers lists what places, add-ons and the stand bear, each against its own
// limit, the one with the least left first; of several add-ons of a kind the one
// that bears most.
func (v *Viewer) bearers(sh *load.Sheet) []kit.Zone {
	var zones []kit.Zone
	told := map[string]bool{}
	for _, l := range v.Match.Limits {
		name := v.Speaker.Message(l.Name)
		if p, bears := v.ofBearer(l); bears && !told[name] {
			told[name] = true
			kind, code, _ := strings.Cut(l.Rating, ":")
			switch kind { // names by themselves, and not within a sentence
			case "place":
				name = v.Say("Place of %v", v.Speaker.Label(match.Label{Text: l.Passenger}))
			case "add_on":
				name = v.bearer(code)
			case "stand":
				name = v.bearer(v.stand(l.Most))
			}
			zones = append(zones, v.zone(say.Capital(name), p, l.Mass, l.Most, nil))
		}
	}
	for i := range sh.Items {
		item := &sh.Items[i]
		if a := v.Catalogue.AddOn(item.Code); item.Kind == load.Pet && a != nil && a.Pet > 0 {
			zones = append(zones, v.zone(v.Say("Pet")+", "+v.Speaker.Within(v.AddOnName(a.Code)), v.fromOf(a.Evidence, "pet_kg"), item.Mass, a.Pet, nil))
		}
	}
	for i := range zones {
		zones[i].Alike = true
	}
	return zones
}

// bearer names an add-on as what bears something, and not as what weighs something.
func (v *Viewer) bearer(code string) string {
	return v.Say("The %v", v.Speaker.Within(v.AddOnName(code)))
}

// ofBearer says where the limit of a place, an add-on or the stand comes from; it
// is false of any other, which has a row among zones and axles.
func (v *Viewer) ofBearer(l match.Limit) (p proof, bears bool) {
	switch kind, code, _ := strings.Cut(l.Rating, ":"); kind {
	case "place":
		seated := v.Aboard()
		if i := slices.IndexFunc(seated, func(s fitting.Seated) bool { return s.Passenger == l.Passenger }); i >= 0 {
			p = v.fromOf(v.evidenceOf(seated[i].AddOn), placeFigure(&seated[i], "max_kg"))
		}
	case "add_on":
		p = v.fromOf(v.evidenceOf(code), v.loadFigure(code))
	case "stand":
		p = v.fromOf(v.evidenceOf(v.stand(l.Most)), "stand_max_kg")
	default:
		return proof{}, false
	}
	return p, true
}

// placeFigure names a limit of the place in which somebody sits.
func placeFigure(s *fitting.Seated, limit string) string {
	return "places[" + strconv.Itoa(s.Seat.Place) + "]." + limit
}

// loadFigure names the figure of what an add-on may carry on this frame.
func (v *Viewer) loadFigure(code string) string {
	if a := v.Catalogue.AddOn(code); a != nil && a.OnFrame[v.Frame.Code].MaxLoad != nil {
		return "on_frame." + v.Frame.Code
	}
	return "max_load_kg"
}

// stand returns the code of the stand on the bike that bears so much.
func (v *Viewer) stand(most measure.Mass) string {
	for i := range v.Fitted {
		if v.Fitted[i].StandMax == most {
			return v.Fitted[i].Code
		}
	}
	return ""
}

// placeLimits says whom a place takes, and where that comes from: once where all
// of it comes from the same, else each limit with its own, and plain without.
func (v *Viewer) placeLimits(s *fitting.Seated) (text, plain string, from proof) {
	p := s.Place
	w := &limitWriter{Viewer: v, proofs: map[string]proof{}}
	for limit, stated := range map[string]bool{"min_months": p.MinMonths > 0, "max_months": p.MaxMonths > 0, "min_kg": p.MinMass > 0, "max_kg": p.MaxMass > 0, "max_stature_cm": p.MaxStature > 0} {
		if stated {
			w.proofs[limit] = v.fromOf(v.evidenceOf(s.AddOn), placeFigure(s, limit))
		}
	}
	text, from = w.limits(p), w.all()
	plain = text
	if from.words != "" {
		from.words = v.Say("Limits: %v", from.words)
	} else if w.alike = true; len(w.proofs) > 0 {
		plain = w.limits(p)
	}
	return text, plain, from
}

// limits says whom a place takes.
func (w *limitWriter) limits(p *catalog.Place) string {
	var limits []string
	if p.MinMonths > 0 || p.MaxMonths > 0 {
		limits = append(limits, w.part("min_months", "max_months", func(of told) string {
			if p.MaxMonths == 0 {
				return w.Say("%v months and up", p.MinMonths)
			}
			return w.span(p.MinMonths > 0, true, of("min_months", p.MinMonths), of("max_months", w.Say("%v months", p.MaxMonths)))
		}))
	}
	if p.MinMass > 0 || p.MaxMass > 0 {
		limits = append(limits, w.part("min_kg", "max_kg", func(of told) string {
			return w.span(p.MinMass > 0, p.MaxMass > 0, of("min_kg", up(p.MinMass)), of("max_kg", Down(p.MaxMass)))
		}))
	}
	if p.MaxStature > 0 {
		limits = append(limits, w.part("max_stature_cm", "max_stature_cm", func(told) string { return w.Say("up to %v tall", Down(p.MaxStature)) }))
	}
	if len(limits) == 0 {
		return w.Say("The maker states no limits for this place.")
	}
	return w.Say("For %v.", w.Speaker.List(limits))
}

// limitWriter writes the limits of a place with where each comes from.
type limitWriter struct {
	*Viewer
	proofs map[string]proof // by the limits that are stated
	alike  bool             // nothing is said of where each comes from
}

// told writes the figure of a limit, with where it comes from where the other end
// comes from elsewhere.
type told func(limit string, figure any) any

// all says where all limits come from; no words where that is not the same.
func (w *limitWriter) all() proof {
	var all proof
	for i, limit := range slices.Sorted(maps.Keys(w.proofs)) {
		one := w.proofs[limit]
		if all.photo = cmp.Or(all.photo, one.photo); i == 0 { // any will do: its page tells what it shows
			all.words = one.words
		} else if all.words != one.words {
			all.words = ""
		}
	}
	return all
}

// part writes both ends of a limit.
func (w *limitWriter) part(least, most string, write func(told) string) string {
	plain := func(_ string, figure any) any { return figure }
	a, first := w.proofs[least]
	b, second := w.proofs[most]
	switch {
	case w.alike || w.all().words != "" || a.words+b.words == "":
		return write(plain)
	case !first:
		return w.Say("%v (%v)", write(plain), b.words)
	case !second || a.words == b.words:
		return w.Say("%v (%v)", write(plain), a.words)
	}
	return write(func(limit string, figure any) any { return w.Say("%v (%v)", figure, w.proofs[limit].words) })
}
