package inventory

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"kinwain/internal/coverage"
	"kinwain/internal/quote"
)

// writeCSV writes all counts by RFC 4180, a row each: of which part of the page it
// is, how many bikes or which frame or add-on it is about, by its code, and how
// many customers it counts. What does not apply is empty.
func (o *owned) writeCSV(w io.Writer) error {
	s, c := o.done.survey, o.shop.Catalogue
	rows := [][]string{{"part", "bikes", "code", "name", "detail", "customers", "without_care", "at_most"}}
	row := func(part, bikes, code, name, detail string, n ...int) {
		cells := []string{part, bikes, quote.Cell(code), quote.Cell(name), quote.Cell(detail), "", "", ""}
		for i := range n {
			cells[5+i] = strconv.Itoa(n[i])
		}
		rows = append(rows, cells)
	}
	frame := func(part string, i, n int) { row(part, "", c.Frames[i].Code, o.bike(i), "", n) }
	row("consultations", "", "", "", "", o.done.judged)
	row("served_now", strconv.Itoa(len(s.Have)), o.codes(s.Have), o.bikes(s.Have), "", s.Now.Served, s.Now.Well)
	row("served_by_any", strconv.Itoa(len(c.Frames)), "", "", "", s.Any.Served, s.Any.Well)
	for part, plans := range [][]coverage.Plan{s.Keep, s.Best} {
		for _, p := range plans {
			row([]string{"keep", "best"}[part], strconv.Itoa(len(p.Bikes)), o.codes(p.Bikes), o.bikes(p.Bikes), "", p.Count.Served, p.Count.Well, p.Most)
		}
	}
	for _, step := range s.Without {
		frame("lost_without", step.Bike, step.Customers)
	}
	for _, step := range s.Next {
		frame("one_more", step.Bike, step.Customers)
	}
	for _, one := range s.Helps {
		row("would_help", "", one.Of, changeWord(one.Of), "", one.Customers)
	}
	for _, one := range s.Missing {
		row("missing_add_on", "", c.AddOns[one.Of].Code, c.AddOns[one.Of].Name, "", one.Customers)
	}
	for _, one := range s.Stops {
		row("ruled_out", "", c.Frames[one.Of.Frame].Code, o.bike(one.Of.Frame), strings.TrimSuffix(string(one.Of.Code)+":"+one.Of.At, ":"), one.Customers)
	}
	for _, i := range s.Unneeded {
		row("not_needed", "", c.AddOns[i].Code, c.AddOns[i].Name, "", 0)
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2
	return out.WriteAll(rows)
}

func (o *owned) codes(bikes []int) string {
	var codes []string
	for _, i := range bikes {
		codes = append(codes, o.shop.Catalogue.Frames[i].Code)
	}
	return strings.Join(codes, " ")
}
