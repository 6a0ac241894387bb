package quote_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
)

func counted(n int) *int { return &n }

// stocked is a shop that counts seats and stands, and no straps.
func stocked() *catalog.Catalogue {
	return &catalog.Catalogue{
		AddOns: []catalog.AddOn{{Code: "seat", Stock: counted(3)}, {Code: "stand", Stock: counted(0)}, {Code: "strap"}},
		Units:  []catalog.Unit{{Tag: "S-1", Fitted: []string{"seat"}, Status: quote.Reserved}, {Tag: "S-2", Status: quote.Available}},
	}
}

func TestPromised(t *testing.T) {
	t.Parallel()
	for name, test := range map[string]struct {
		promises []quote.Promise
		but      string
		want     map[string]int
	}{
		"nothing": {want: map[string]int{}},
		"of two open quotes the one that takes more": {promises: []quote.Promise{
			{Consultation: "a", AddOns: map[string]int{"seat": 1, "strap": 2}}, {Consultation: "a", AddOns: map[string]int{"seat": 2}}},
			want: map[string]int{"seat": 2, "strap": 2}},
		"two customers": {promises: []quote.Promise{
			{Consultation: "a", AddOns: map[string]int{"seat": 1}}, {Consultation: "b", AddOns: map[string]int{"seat": 2}}},
			want: map[string]int{"seat": 3}},
		"firm goes before open, and adds up": {promises: []quote.Promise{
			{Consultation: "a", AddOns: map[string]int{"seat": 5}}, {Consultation: "a", Firm: true, AddOns: map[string]int{"seat": 1}},
			{Consultation: "a", Firm: true, AddOns: map[string]int{"seat": 1}}},
			want: map[string]int{"seat": 2}},
		"what is on the bike already": {promises: []quote.Promise{
			{Consultation: "a", Firm: true, Unit: "S-1", AddOns: map[string]int{"seat": 2}}, {Consultation: "b", Firm: true, Unit: "gone", AddOns: map[string]int{"seat": 1}}},
			want: map[string]int{"seat": 2}},
		"without the open ones of one customer": {promises: []quote.Promise{
			{Consultation: "a", AddOns: map[string]int{"seat": 1}}, {Consultation: "b", AddOns: map[string]int{"seat": 1}}}, but: "a",
			want: map[string]int{"seat": 1}},
		"the firm one of that customer counts": {promises: []quote.Promise{{Consultation: "a", Firm: true, AddOns: map[string]int{"seat": 1}}}, but: "a",
			want: map[string]int{"seat": 1}},
	} {
		if diff := cmp.Diff(test.want, quote.Promised(stocked(), test.promises, test.but)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func TestToOrder(t *testing.T) {
	t.Parallel()
	line := func(code string, n int) quote.Line { return quote.Line{Kind: quote.AddOn, Code: code, Quantity: n} }
	for name, test := range map[string]struct {
		lines    []quote.Line
		unit     string
		promised map[string]int
		want     map[string]int
	}{
		"all there":             {[]quote.Line{line("seat", 3)}, "", nil, map[string]int{}},
		"one more than free":    {[]quote.Line{line("seat", 2)}, "", map[string]int{"seat": 2}, map[string]int{"seat": 1}},
		"promised over":         {[]quote.Line{line("seat", 2)}, "", map[string]int{"seat": 9}, map[string]int{"seat": 2}},
		"none is a count":       {[]quote.Line{line("stand", 1)}, "", nil, map[string]int{"stand": 1}},
		"nobody counts":         {[]quote.Line{line("strap", 9)}, "", map[string]int{"strap": 9}, map[string]int{}},
		"on the bike already":   {[]quote.Line{line("seat", 1)}, "S-1", map[string]int{"seat": 3}, map[string]int{}},
		"work takes no goods":   {[]quote.Line{{Kind: quote.Fitting, Code: "stand", Quantity: 1}}, "", nil, map[string]int{}},
		"no longer in the shop": {[]quote.Line{line("bell", 1)}, "", nil, map[string]int{}},
	} {
		if diff := cmp.Diff(test.want, quote.ToOrder(stocked(), test.lines, test.unit, test.promised)); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func TestHandOver(t *testing.T) {
	t.Parallel()
	c := stocked()
	q := &quote.Quote{Sum: quote.Sum{Lines: []quote.Line{{Kind: quote.AddOn, Code: "seat", Quantity: 2}, {Kind: quote.Fitting, Code: "seat", Quantity: 2},
		{Kind: quote.AddOn, Code: "stand", Quantity: 1}, {Kind: quote.AddOn, Code: "strap", Quantity: 1}}}}
	want := stocked()
	want.AddOns[0].Stock, want.Units[0].Status = counted(2), quote.Sold // one of the two seats was on the bike
	if diff := cmp.Diff(want, quote.HandOver(c, q, []string{"S-1"})); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(stocked(), c); diff != "" {
		t.Errorf("what was given is changed: %s", diff)
	}
}

func TestMayHold(t *testing.T) {
	t.Parallel()
	may := map[string]bool{}
	for _, status := range catalog.UnitStatuses {
		may[status], may[status+", held"] = quote.MayHold(status, false), quote.MayHold(status, true)
	}
	want := map[string]bool{"available": true, "available, held": true, "ordered": true, "ordered, held": false, "on_test_ride": false, "on_test_ride, held": false,
		"reserved": false, "reserved, held": false, "sold": false, "sold, held": false, "in_repair": false, "in_repair, held": false}
	if diff := cmp.Diff(want, may); diff != "" {
		t.Error(diff)
	}
}
