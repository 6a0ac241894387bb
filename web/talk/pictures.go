package talk

import (
	"strings"

	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/picture"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// Side draws the build from the side, under the rider for whom least is to
// spare. A discreet drawing tells no weight, nor which rider is the heaviest:
// it shows the first.
func (v *Viewer) Side(discreet bool) kit.Drawing {
	sheet := v.drawnSheet(discreet)
	pic := picture.Side(v.Match, sheet, v.sitter(sheet, discreet))
	name := v.Speaker.Frame(v.Frame)
	title := v.Say("%v from the side, to scale", name)
	if sheet != nil {
		title = v.Say("%v from the side, to scale, under rider %v", name, sheet.Rider.Label)
	}
	said := v.said(&pic)
	d := kit.Draw("side", title, strings.Join(said, " "), &pic, v.shapeWords)
	d.Notes, d.Letter = said, d.Wide/sideLetters
	d.Texts = v.axleTexts(&pic, d.Letter)
	return d
}

// Glance draws the same small, without what only figures explain.
func (v *Viewer) Glance() kit.Drawing {
	sheet := v.drawnSheet(false)
	pic := picture.Side(v.Match, sheet, v.sitter(sheet, false))
	small := pic.Glance()
	return kit.Glance(&small)
}

func (v *Viewer) drawnSheet(discreet bool) *load.Sheet {
	var drawn *load.Sheet
	for i := range v.Sheets {
		if s := &v.Sheets[i]; drawn == nil || !discreet && s.Spare() < drawn.Spare() {
			drawn = s
		}
	}
	return drawn
}

func (v *Viewer) sitter(sheet *load.Sheet, discreet bool) picture.Sitter {
	s := picture.Sitter{Discreet: discreet}
	for _, r := range v.Profile.Riders {
		if sheet == nil || r.Label == sheet.Rider.Label {
			s.Height, s.Inseam = r.Height.Or(0), r.Inseam.Or(0)
			break
		}
	}
	return s
}

// assumedWords name what a picture may have taken as usual.
var assumedWords = map[picture.Assumption]string{
	picture.AssumedWheelbase: "how far apart the wheels are", picture.AssumedWheels: "the size of the wheels", picture.AssumedRider: "where on the bike the rider sits",
	picture.AssumedZones: "where the load sits", picture.AssumedHeights: "how high the load sits",
	picture.AssumedStature: "how tall a passenger is", picture.AssumedBulk: "how much room the cargo takes",
}

// said explains a picture from the side, and says what in it was assumed.
func (v *Viewer) said(p *picture.Picture) []string {
	var list []string
	switch {
	case len(p.Of(picture.Rating)) > 0:
		list = append(list, v.Say("The arrows show what each axle bears, the lines across them what it may bear."))
	case len(p.Of(picture.AxleLoad)) > 0:
		list = append(list, v.Say("The arrows show what each axle bears."))
	}
	if balance, wheels := p.Of(picture.Balance), p.Of(picture.Wheel); len(balance) > 0 {
		at, rear := balance[0].Points[0], wheels[0].Points[0]
		ground := rear.Y - wheels[0].Radius
		list = append(list, v.Say("The circle shows where everything together balances: %v ahead of the rear axle, %v above the ground.", at.X-rear.X, at.Y-ground))
	}
	var assumed []string
	for _, a := range p.Assumed {
		if a == picture.HiddenShares {
			list = append(list, v.Say("Cargo is drawn where it lies, not how much of it."))
			continue
		}
		assumed = append(assumed, v.Say(assumedWords[a]))
	}
	if len(assumed) > 0 {
		list = append(list, v.Say("Drawn as is usual, because it is not stated: %v.", v.Speaker.List(assumed)))
	}
	return list
}

// sideLetters is how many letters high would be as high as a picture from the
// side is wide.
const sideLetters = 27

// axleTexts write beside the arrows what they stand for, towards the middle of
// the bike.
func (v *Viewer) axleTexts(p *picture.Picture, letter int) []kit.MarkText {
	var texts []kit.MarkText
	for _, s := range p.Of(picture.AxleLoad) {
		low, high := s.Bounds()
		x, class := int(high.X)+40, "from"
		if s.Of == load.FrontAxle {
			x, class = int(low.X)-40, "to"
		}
		ground := int(p.Height) - int(s.Points[0].Y)
		texts = append(texts, kit.MarkText{X: x, Y: ground + letter*11/10, Class: class, Text: v.Speaker.Mass(s.Mass, measure.Up)})
		if s.Limit > 0 {
			texts = append(texts, kit.MarkText{X: x, Y: ground + letter*22/10, Class: class, Text: v.Say("of %v", Down(s.Limit))})
		}
	}
	return texts
}

// shapeWords say what a shape is.
func (v *Viewer) shapeWords(s *picture.Shape) string {
	name := ""
	switch s.Kind {
	case picture.Wheel:
		tyre := v.Frame.RearTyre
		if s.Of == load.FrontAxle {
			tyre = v.Frame.FrontTyre
		}
		if tyre == "" {
			return ""
		}
		return v.Say("Wheel %v", tyre)
	case picture.Zone:
		name = say.Capital(v.ZoneLabel(s.Of))
	case picture.AddOn:
		name = v.AddOnName(s.Of)
	case picture.Rider:
		name = v.Say("Rider %v", s.Of)
	case picture.Passenger:
		name = v.Speaker.Label(match.Label{Text: s.Of, Begins: true})
	case picture.Pet:
		name = v.Say("Pet")
	case picture.Cargo:
		name = v.Say("Cargo")
	case picture.AxleLoad:
		name = v.Say(map[string]string{load.FrontAxle: "Front axle", load.RearAxle: "Rear axle"}[s.Of])
	case picture.Balance:
		name = v.Say("Centre of mass")
	}
	if s.Mass > 0 && s.Kind != picture.Balance {
		name += ", " + v.Speaker.Mass(s.Mass, measure.Up)
	}
	return name
}
