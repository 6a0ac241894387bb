package quote_test

import (
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/quote"
	"kinwain/testdata"
)

func minutes(n int) *int { return &n }

// bench is a small shop with odd prices, so that every rounding shows.
func bench(included bool) *catalog.Catalogue {
	return &catalog.Catalogue{
		Shop:   catalog.Shop{Name: "Bench", Currency: "EUR", LabourPerHour: 5999, Tax: 2100, PricesIncludeTax: included},
		Frames: []catalog.Frame{{Code: "sedge", Name: "Sedge", Price: 189_001, ComesWith: []string{"stand"}}},
		AddOns: []catalog.AddOn{
			{Code: "rack", Name: "Front rack", Price: 7_907, FittingMinutes: 20, OnFrame: map[string]catalog.Pair{"sedge": {FittingMinutes: minutes(35), Note: "Needs two spacers."}}},
			{Code: "seat", Name: "Seat", Price: 15_903, FittingMinutes: 25, OnFrame: map[string]catalog.Pair{"sedge": {Note: "Mind the cables."}}},
			{Code: "stand", Name: "Stand", Price: 2_000, FittingMinutes: 7},
			{Code: "strap", Name: "Strap", Price: 499},
			{Code: "tray", Name: "Tray", Price: 5_000, FittingMinutes: 30, OnFrame: map[string]catalog.Pair{"sedge": {FittingMinutes: minutes(10)}}},
		},
	}
}

// TestWorkedExample holds a quote to amounts worked out on paper: 59.99 an
// hour is 99.983… cents a minute; every piece of work is rounded half up.
func TestWorkedExample(t *testing.T) {
	t.Parallel()
	c := bench(true)
	b := &fitting.Build{AddOns: []string{"rack", "seat", "seat", "strap", "tray"}, TakenOff: []string{"stand"}}
	got := quote.NewSum(c, &c.Frames[0], b, quote.DefaultSettings())
	want := quote.Sum{
		Lines: []quote.Line{
			{Kind: quote.Frame, Code: "sedge", Name: "Sedge", Quantity: 1, Each: 189_001, Amount: 189_001},
			{Kind: quote.AddOn, Code: "rack", Name: "Front rack", Quantity: 1, Each: 7_907, Amount: 7_907},
			{Kind: quote.Fitting, Code: "rack", Name: "Front rack", Quantity: 1, Minutes: 20, Each: 2_000, Amount: 2_000},                           // 1999.67
			{Kind: quote.Extra, Code: "rack", Name: "Front rack", Note: "Needs two spacers.", Quantity: 1, Minutes: 15, Each: 1_499, Amount: 1_499}, // 3499.42 − 1999.67, each rounded
			{Kind: quote.AddOn, Code: "seat", Name: "Seat", Note: "Mind the cables.", Quantity: 2, Each: 15_903, Amount: 31_806},
			{Kind: quote.Fitting, Code: "seat", Name: "Seat", Quantity: 2, Minutes: 25, Each: 2_500, Amount: 5_000}, // 2499.58
			{Kind: quote.AddOn, Code: "strap", Name: "Strap", Quantity: 1, Each: 499, Amount: 499},
			{Kind: quote.AddOn, Code: "tray", Name: "Tray", Quantity: 1, Each: 5_000, Amount: 5_000},
			{Kind: quote.Fitting, Code: "tray", Name: "Tray", Quantity: 1, Minutes: 30, Each: 3_000, Amount: 3_000},  // 2999.50: half up
			{Kind: quote.Extra, Code: "tray", Name: "Tray", Quantity: 1, Minutes: -20, Each: -2_000, Amount: -2_000}, // 999.83 − 2999.50, each rounded
			{Kind: quote.TakingOff, Code: "stand", Name: "Stand", Quantity: 1, Minutes: 7, Each: 700, Amount: 700},   // 699.88
		},
		LabourPerHour: 5999, TaxIncluded: true, TaxRate: 2100, DepositShare: 2000,
		Subtotal: 244_412, Total: 244_412, Tax: 42_419, Net: 201_993, Deposit: 48_882, // 42418.61…, 48882.4
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(− worked out, + got)\n%s", diff)
	}
	c = bench(false)
	got = quote.NewSum(c, &c.Frames[0], b, quote.DefaultSettings())
	if got.Net != 244_412 || got.Tax != 51_327 || got.Total != 295_739 || got.Deposit != 59_148 { // 51326.52, 59147.8
		t.Errorf("tax added: net %v, tax %v, total %v, deposit %v", got.Net, got.Tax, got.Total, got.Deposit)
	}
}

// halfUp rounds a fraction that is not negative.
func halfUp(r *big.Rat) measure.Money {
	r = new(big.Rat).Add(r, big.NewRat(1, 2))
	return measure.Money(new(big.Int).Quo(r.Num(), r.Denom()).Int64())
}

// TestAnyQuoteAddsUp holds any quote against exact fractions.
func TestAnyQuoteAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		c, b := anyBuild(r)
		s := quote.Settings{Deposit: measure.Share(rapid.IntRange(0, 10_000).Draw(r, "deposit"))}
		sum := quote.NewSum(c, &c.Frames[0], b, s)
		var lines, exact measure.Money
		exact = c.Frames[0].Price
		for _, l := range sum.Lines {
			if l.Amount != l.Each*measure.Money(l.Quantity) {
				r.Fatalf("%+v", l)
			}
			lines += l.Amount
		}
		work := func(code string) measure.Money {
			return halfUp(big.NewRat(int64(c.Shop.LabourPerHour)*int64(c.AddOn(code).On("f").FittingMinutes), 60))
		}
		for _, code := range b.AddOns {
			exact += c.AddOn(code).Price + work(code)
		}
		for _, code := range b.TakenOff {
			exact += work(code)
		}
		if lines != sum.Subtotal || lines != exact {
			r.Fatalf("the lines come to %v, shown %v, exactly %v", lines, sum.Subtotal, exact)
		}
		rate := big.NewRat(int64(c.Shop.Tax), 10_000)
		gross := new(big.Rat).SetInt64(int64(exact))
		tax := new(big.Rat).Mul(gross, rate)
		if c.Shop.PricesIncludeTax {
			tax.Quo(tax, new(big.Rat).Add(rate, big.NewRat(1, 1)))
		}
		if sum.Tax != halfUp(tax) || sum.Net+sum.Tax != sum.Total {
			r.Fatalf("%v + %v = %v, want a tax of %v", sum.Net, sum.Tax, sum.Total, tax.FloatString(3))
		}
		if deposit := halfUp(big.NewRat(int64(sum.Total)*int64(s.Deposit), 10_000)); sum.Deposit != deposit {
			r.Fatalf("a deposit of %v, want %v", sum.Deposit, deposit)
		}
	})
}

func anyBuild(r *rapid.T) (*catalog.Catalogue, *fitting.Build) {
	money := func(label string) measure.Money { return measure.Money(rapid.IntRange(0, 1_000_000).Draw(r, label)) }
	c := &catalog.Catalogue{
		Shop: catalog.Shop{LabourPerHour: money("labour"), Tax: measure.Percentage(rapid.IntRange(0, 10_000).Draw(r, "tax")),
			PricesIncludeTax: rapid.Bool().Draw(r, "included")},
		Frames: []catalog.Frame{{Code: "f", Price: money("frame")}},
	}
	b := &fitting.Build{}
	for i := range rapid.IntRange(0, 6).Draw(r, "add-ons") {
		a := catalog.AddOn{Code: fmt.Sprint("a", i), Price: money("price"), FittingMinutes: rapid.IntRange(0, 600).Draw(r, "minutes")}
		if rapid.Bool().Draw(r, "pair") {
			a.OnFrame = map[string]catalog.Pair{"f": {FittingMinutes: minutes(rapid.IntRange(0, 600).Draw(r, "on frame")), Note: "x"}}
		}
		c.AddOns = append(c.AddOns, a)
		for range rapid.IntRange(0, 3).Draw(r, "copies") {
			b.AddOns = append(b.AddOns, a.Code)
		}
		if rapid.Bool().Draw(r, "off") {
			b.TakenOff = append(b.TakenOff, a.Code)
		}
	}
	return c, b
}

// TestTotalIsTheMatchs holds the quote of every frame of the demo shop for
// every sample customer to the total that the ranking shows.
func TestTotalIsTheMatchs(t *testing.T) {
	t.Parallel()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil || !c.Shop.PricesIncludeTax {
		t.Fatal(err)
	}
	files, err := filepath.Glob("../../testdata/profiles/*.json")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	kinds, longest := map[quote.Kind]int{}, 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		ranked, err := match.Rank(t.Context(), c, p, match.DefaultSettings(), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ranked {
			sum := quote.NewSum(c, m.Frame, m.Build, quote.DefaultSettings())
			if sum.Total != m.Total {
				t.Errorf("%s on %s: %v, the match says %v", file, m.Frame.Code, sum.Total, m.Total)
			}
			longest = max(longest, len(sum.Lines))
			for _, l := range sum.Lines {
				kinds[l.Kind]++
			}
		}
	}
	if longest > 28 { // a browser test prints as many on one page
		t.Errorf("a quote of %d lines may take more than one page", longest)
	}
	t.Logf("at most %d lines", longest)
	for _, kind := range []quote.Kind{quote.Frame, quote.AddOn, quote.Fitting, quote.Extra, quote.TakingOff} {
		if kinds[kind] == 0 {
			t.Errorf("no line is for %s: %v", kind, kinds)
		}
	}
}

func TestSettingsOf(t *testing.T) {
	t.Parallel()
	for name, test := range map[string]struct {
		figures map[string]int64
		want    quote.Settings
	}{
		"none":     {nil, quote.Settings{Deposit: 2000, Days: 14, ReservationDays: 7}},
		"all":      {map[string]int64{"deposit_share": 0, "quote_days": 30, "reservation_days": 2}, quote.Settings{Days: 30, ReservationDays: 2}},
		"nonsense": {map[string]int64{"deposit_share": 20_000, "quote_days": -1, "reservation_days": 1 << 40}, quote.Settings{Deposit: 10_000, ReservationDays: 3650}},
	} {
		if got := quote.SettingsOf(test.figures); got != test.want {
			t.Errorf("%s: %+v, want %+v", name, got, test.want)
		}
	}
}

func TestAfter(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		from string
		days int
		want string
	}{{"2026-11-25", 14, "2026-12-09"}, {"2028-02-28", 1, "2028-02-29"}, {"2026-12-31", 1, "2027-01-01"}, {"2026-03-28", 2, "2026-03-30"}} {
		from, err := measure.ParseDate(test.from)
		if err != nil {
			t.Fatal(err)
		}
		if got := quote.After(from, test.days).String(); got != test.want {
			t.Errorf("%s + %d days: %s, want %s", test.from, test.days, got, test.want)
		}
	}
}

func TestStatus(t *testing.T) {
	t.Parallel()
	day := func(d int) measure.Date { return measure.Date{Year: 2026, Month: 11, Day: d} }
	held := []quote.Reservation{{Unit: "D-1", Until: day(25)}}
	for _, test := range []struct {
		tag, status string
		today       int
		want        string
	}{
		{"D-1", "reserved", 25, "reserved"}, {"D-1", "reserved", 26, "available"}, {"D-1", "available", 25, "reserved"}, {"D-1", "available", 26, "available"},
		{"D-1", "sold", 25, "sold"}, {"D-1", "sold", 26, "sold"}, {"D-1", "on_test_ride", 25, "on_test_ride"}, {"D-1", "on_test_ride", 26, "on_test_ride"},
		{"D-2", "reserved", 26, "reserved"}, {"D-2", "available", 20, "available"},
	} {
		units := []catalog.Unit{{Tag: test.tag, Status: test.status}}
		got := quote.Standing(units, held, day(test.today))
		if got[0].Status != test.want || units[0].Status != test.status {
			t.Errorf("%s %s on the %d: %s, want %s; the list given now says %s", test.tag, test.status, test.today, got[0].Status, test.want, units[0].Status)
		}
	}
}
