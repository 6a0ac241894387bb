package inventory

import (
	"fmt"
	"strconv"
	"strings"

	"kinwain/internal/coverage"
	"kinwain/internal/match"
	"kinwain/internal/picture"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// shownOwn is how many rows of the longer tables the page shows; the file has all.
const shownOwn = 20

func customers(n int) string { return say.Counted(n, "customer", "customers") }

// working says how far the customers are judged.
func (o *owned) working(view *Own) {
	view.Lead = fmt.Sprintf("From the consultations of the last %s.", say.Counted(o.days, "day", "days"))
	view.Seen, view.Of = o.seen, o.of
	view.Working = fmt.Sprintf("%d of %s judged.", o.seen, say.Counted(o.of, "consultation", "consultations"))
	if o.seen == o.of {
		view.Working = fmt.Sprintf("All %d consultations are judged. The best choices are being worked out.", o.of)
	}
}

// tooFew reports whether so few consultations could be judged that nothing may
// be said of them.
func (o *owned) tooFew() bool { return o.done.judged < o.least }

// draw says what the shop should own.
func (o *owned) draw(view *Own) {
	view.Notes = o.notes()
	if o.tooFew() {
		view.Lead = fmt.Sprintf("From the consultations of the last %s.", say.Counted(o.days, "day", "days"))
		view.TooFew = fmt.Sprintf("There are fewer than %d consultations to judge: too few to say anything.", o.least)
		return
	}
	s := o.done.survey
	view.Lead = fmt.Sprintf("From %s of the last %s, as they would be answered today. Only counts are kept, of nobody in particular. A customer has a bike to ride where a frame fits, with care or without.",
		say.Counted(o.done.judged, "consultation", "consultations"), say.Counted(o.days, "day", "days"))
	view.Said = o.said()
	chart := ownChart(s)
	view.Chart = &chart
	view.Tables = []OwnTable{
		o.plans("keep", "Which demo bikes to keep", "The choice among the demo bikes with which most customers had one that fits, for every number of them. Of equals the one with fewer bikes, then the cheapest.", s.Keep),
		o.demoBikes(), o.oneMore(),
		o.plans("best", "The best of all frames", "The same choice among everything in the catalogue, as if the shop began anew.", s.Best),
		o.helps(), o.missing(), o.stops(), o.unneeded(),
	}
}

// notes say what the counts leave out.
func (o *owned) notes() []string {
	var notes []string
	if o.forgotten < o.days {
		notes = append(notes, fmt.Sprintf("A consultation that nobody has used for %s is erased, and no longer counts here.", say.Counted(o.forgotten, "day", "days")))
	}
	if o.tooFew() {
		return notes
	}
	if o.cut {
		notes = append(notes, fmt.Sprintf("There are more consultations. The last %d count.", mostSurveyed))
	}
	if few := o.of - o.done.judged; few > 0 {
		notes = append(notes, say.Counted(few, "consultation has", "consultations have")+" too few answers to be judged.")
	}
	if n := o.done.survey.Unsettled; n > 0 {
		notes = append(notes, say.Counted(n, "answer about a frame was", "answers about a frame were")+" not found in time, and counts as one that does not fit.")
	}
	return notes
}

// said is what the manager wants to know, in sentences.
func (o *owned) said() []string {
	s := o.done.survey
	list := []string{"The shop has no demo bike."}
	if len(s.Have) > 0 {
		list[0] = fmt.Sprintf("With your %s, %d of %s had one that fits; %d of them without care.",
			say.Counted(len(s.Have), "demo bike", "demo bikes"), s.Now.Served, customers(o.done.judged), s.Now.Well)
	}
	if n := len(s.Keep); n > 0 && len(s.Keep[n-1].Bikes) < len(s.Have) && s.Keep[n-1].Count.Served == s.Now.Served {
		list = append(list, fmt.Sprintf("%d of these bikes would do for as many: %s.", len(s.Keep[n-1].Bikes), o.bikes(s.Keep[n-1].Bikes)))
	}
	if len(s.Next) > 0 {
		list = append(list, fmt.Sprintf("Next: the %s would fit %d more.", o.bike(s.Next[0].Bike), s.Next[0].Customers))
	} else {
		list = append(list, "No other frame would fit anybody more.")
	}
	if len(s.Without) > 0 {
		least := s.Without[0]
		lost := "nobody would be left without a bike to ride"
		if least.Customers > 0 {
			lost = customers(least.Customers) + " would have nothing to ride"
		}
		list = append(list, fmt.Sprintf("To sell: the %s; %s.", o.bike(least.Bike), lost))
	}
	if none := o.done.judged - s.Any.Served; none > 0 {
		list = append(list, fmt.Sprintf("No frame of the catalogue fits %s.", customers(none)))
	}
	return list
}

func (o *owned) bike(i int) string { return o.shop.Catalogue.Frames[i].Called() }

func (o *owned) bikes(list []int) string {
	var names []string
	for _, i := range list {
		names = append(names, o.bike(i))
	}
	return strings.Join(names, ", ")
}

func (o *owned) frameAt(i int) string {
	return wareAt(wares.FrameList, o.shop.Catalogue.Frames[i].Code)
}

// wareAt is the address of a frame or an add-on.
func wareAt(list, code string) string {
	h, _ := shelfOf(list)
	return h.address(code)
}

// plans is a table of choices by their number of bikes.
func (o *owned) plans(id, title, why string, plans []coverage.Plan) OwnTable {
	t := OwnTable{ID: id, Title: title, Why: why, Empty: "There is nothing to choose among.", Name: "Bikes",
		Columns: []Column{{Label: "Which", Text: true}, {Label: "Customers"}, {Label: "Without care", Minor: true}}}
	for _, p := range plans {
		served := strconv.Itoa(p.Count.Served)
		if !p.Proved() {
			served = fmt.Sprintf("%d, at most %d", p.Count.Served, p.Most)
		}
		t.Rows = append(t.Rows, OwnRow{Name: strconv.Itoa(len(p.Bikes)), Cells: []string{o.bikes(p.Bikes), served, strconv.Itoa(p.Count.Well)}})
	}
	return t
}

func (o *owned) demoBikes() OwnTable {
	s := o.done.survey
	t := OwnTable{ID: "demo", Title: "Your demo bikes", Why: "Whom each fits, and who would have nothing to ride without it: the first is the one to sell. A second bike of one frame and size fits the same people.",
		Empty: "No unit of any frame is a demo.", Name: "Frame", Columns: []Column{{Label: "Fits"}, {Label: "Only this one"}}}
	for _, step := range s.Without {
		t.Rows = append(t.Rows, OwnRow{Href: o.frameAt(step.Bike), Name: o.bike(step.Bike),
			Cells: []string{strconv.Itoa(s.Table.Served([]int{step.Bike}).Served), strconv.Itoa(step.Customers)}})
	}
	return t
}

func (o *owned) oneMore() OwnTable {
	t := OwnTable{ID: "next", Title: "One demo bike more", Why: "How many customers each other frame would add, beside all that there are.", Empty: "No other frame would fit anybody more.",
		Name: "Frame", Columns: []Column{{Label: "More customers"}, {Label: "Price", Minor: true}}}
	for _, step := range o.done.survey.Next {
		t.Rows = append(t.Rows, OwnRow{Href: o.frameAt(step.Bike), Name: o.bike(step.Bike),
			Cells: []string{strconv.Itoa(step.Customers), o.shop.Catalogue.Frames[step.Bike].Price.Show(o.shop.Catalogue.Shop.Currency)}})
	}
	return t.short()
}

var changeWords = map[string]string{
	"less_cargo": "Less to carry", "fewer_litres": "Fewer litres to carry", "lying_flat": "Need not stand upright at home", "wider_doorway": "A wider doorway",
	"wider_corner": "A wider corner", "larger_space": "More space at home", "larger_lift": "A larger lift", "without_pet": "The pet stays at home",
	"wait_until": "To wait until somebody is old enough", "without_rider": "One rider fewer", "without_passenger": "One passenger fewer", "more_budget": "A higher budget",
}

func changeWord(code string) string {
	if words, known := changeWords[code]; known {
		return words
	}
	return say.Capital(plainWord(code))
}

func (o *owned) helps() OwnTable {
	t := OwnTable{ID: "helps", Title: "What would have helped whom nothing fits", Why: "The single change with which some frame of the catalogue would fit. A customer counts once for each.",
		Empty: "There is nobody whom nothing fits and a single change would help.", Name: "Change", Columns: []Column{{Label: "Customers"}}}
	for _, one := range o.done.survey.Helps {
		t.Rows = append(t.Rows, OwnRow{Name: changeWord(one.Of), Cells: []string{strconv.Itoa(one.Customers)}})
	}
	return t
}

func (o *owned) addOn(i int) OwnRow {
	a := &o.shop.Catalogue.AddOns[i]
	return OwnRow{Href: wareAt(wares.AddOnList, a.Code), Name: a.Name}
}

func (o *owned) missing() OwnTable {
	t := OwnTable{ID: "missing", Title: "Add-ons that no demo bike can have", Why: "Of customers whom no demo bike fits: what is on the best builds of the frames that do, and goes on none of the demo bikes.",
		Empty: "No add-on is missing: what would help goes on a demo bike, or is the frame itself.", Name: "Add-on", Columns: []Column{{Label: "Customers"}}}
	for _, one := range o.done.survey.Missing {
		row := o.addOn(one.Of)
		row.Cells = []string{strconv.Itoa(one.Customers)}
		t.Rows = append(t.Rows, row)
	}
	return t.short()
}

func (o *owned) stops() OwnTable {
	t := OwnTable{ID: "stops", Title: "What ruled frames out", Why: "For how many customers a figure of a frame was a stop. A customer counts for every frame and figure.",
		Empty: "No frame was ruled out.", Name: "Frame", Columns: []Column{{Label: "Reason", Text: true}, {Label: "Customers"}}}
	for _, one := range o.done.survey.Stops {
		t.Rows = append(t.Rows, OwnRow{Href: o.frameAt(one.Of.Frame), Name: o.bike(one.Of.Frame), Cells: []string{o.stopWords(one.Of), strconv.Itoa(one.Customers)}})
	}
	return t.short()
}

// stopWords says what ruled a frame out, in a few words.
func (o *owned) stopWords(s coverage.Stop) string {
	words := match.Short(s.Code).English
	if a := o.shop.Catalogue.AddOn(s.At); a != nil {
		return words + ": " + strings.ToLower(a.Name)
	}
	if s.At != "" {
		return words + ": " + strings.ReplaceAll(plainWord(s.At), "+", " and ") // zones that share a rating
	}
	return words
}

func (o *owned) unneeded() OwnTable {
	t := OwnTable{ID: "unneeded", Title: "Add-ons that nobody needed", Why: "In no best build of a frame that fits.", Empty: "Every add-on is in some best build.",
		Name: "Add-on", Columns: []Column{{Label: "Fits"}, {Label: "Price", Minor: true}}}
	for _, i := range o.done.survey.Unneeded {
		a := &o.shop.Catalogue.AddOns[i]
		row := o.addOn(i)
		row.Cells = []string{say.Counted(len(a.Fits), "frame", "frames"), a.Price.Show(o.shop.Catalogue.Shop.Currency)}
		t.Rows = append(t.Rows, row)
	}
	return t.short()
}

// short keeps what the page shows of a table.
func (t OwnTable) short() OwnTable {
	if more := len(t.Rows) - shownOwn; more > 0 {
		t.Rows, t.More = t.Rows[:shownOwn], fmt.Sprintf("And %d more, in the file.", more)
	}
	return t
}

// ownChart draws how many customers so many bikes serve.
func ownChart(s *coverage.Survey) kit.Drawing {
	line := func(plans []coverage.Plan, most int) []int {
		served := []int{0}
		for i := range plans {
			served = append(served, plans[i].Count.Served)
		}
		for len(served) <= most && len(plans) > 0 {
			served = append(served, served[len(served)-1]) // one bike more serves nobody more
		}
		return served
	}
	bikes := max(len(s.Have), len(s.Best))
	kept, best := line(s.Keep, len(s.Have)), line(s.Best, bikes)
	p := picture.Reached(len(s.Table.Rows), s.Any.Served, [2]int{len(s.Have), s.Now.Served}, kept, best)
	d := kit.Draw("reach", "Customers with a bike to ride, by the number of demo bikes", "The figures are in the tables below.", &p, func(shape *picture.Shape) string {
		switch shape.Kind {
		case picture.Kept:
			return "The best choice among your demo bikes"
		case picture.Best:
			return "The best choice among all frames"
		case picture.Rating:
			return fmt.Sprintf("Some frame of the catalogue fits %s", customers(s.Any.Served))
		case picture.Now:
			return fmt.Sprintf("All your demo bikes: %s", customers(s.Now.Served))
		}
		return ""
	})
	d.Letter = 88
	d.Notes = []string{"Solid: your demo bikes. Dashed: all frames. The line across: whom any frame fits."}
	letters(&d, &p, best, s)
	return d
}

// letters writes the number of bikes under the chart, and of customers to it.
func letters(d *kit.Drawing, p *picture.Picture, best []int, s *coverage.Survey) {
	at := func(point picture.Point, class, text string, up int) {
		d.Texts = append(d.Texts, kit.MarkText{X: int(point.X), Y: d.High - int(point.Y) - up, Class: class, Text: text})
	}
	points := p.Of(picture.Best)[0].Points
	ground, most := p.Of(picture.Ground)[0].Points, p.Of(picture.Rating)[0].Points
	every := 1 + len(best)/12
	for n := every; n < len(points); n += every {
		at(picture.Point{X: points[n].X, Y: ground[0].Y}, "about", strconv.Itoa(n), -90)
	}
	at(most[0], "", customers(s.Any.Served), 25)
	if now := p.Of(picture.Now)[0].Points[0]; len(s.Have) > 0 && s.Now.Served < s.Any.Served {
		at(picture.Point{X: now.X + 50, Y: now.Y}, "to", strconv.Itoa(s.Now.Served), -100)
	}
}
