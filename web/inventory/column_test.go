package inventory_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/web/webtest"
)

// columnOf reads the form of a column as it would be sent.
func columnOf(a *webtest.Answer) url.Values {
	a.Helper()
	values := url.Values{"do": {"save"}}
	a.One("form#column").Find("input[name], select").Each(func(_ int, s *goquery.Selection) {
		if goquery.NodeName(s) == "select" {
			values.Add(s.AttrOr("name", ""), s.Find("option[selected]").AttrOr("value", ""))
			return
		}
		values.Add(s.AttrOr("name", ""), s.AttrOr("value", ""))
	})
	return values
}

// typeAt types a figure into the row of a thing.
func typeAt(t *testing.T, values url.Values, code, figure string) {
	t.Helper()
	at := slices.Index(values["code"], code)
	if at < 0 {
		t.Fatalf("no row of %s in %v", code, values["code"])
	}
	values["to"][at] = figure
}

func TestTypingAColumn(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	before := v.Catalogue()
	one, other := before.AddOns[0], before.AddOns[3]
	const path = "/inventory/add-ons?edit=price_cents"
	form := columnOf(v.Get(path).Is(http.StatusOK, path))
	if len(form["code"]) != len(before.AddOns) {
		t.Fatalf("%d rows of %d", len(form["code"]), len(before.AddOns))
	}
	typeAt(t, form, one.Code, "12,50")
	typeAt(t, form, other.Code, "dear")
	a := v.Post(path, form).Is(http.StatusUnprocessableEntity, path)
	if wrong := a.Text(".typed.bad"); !strings.Contains(wrong, "dear") {
		t.Errorf("the fault: %q", wrong)
	}
	form = columnOf(a)
	if !slices.Contains(form["to"], "12,50") || !slices.Contains(form["to"], "dear") {
		t.Fatal("what was typed is lost")
	}
	typeAt(t, form, other.Code, "99.9")
	a = v.Sure(path, form).Is(http.StatusOK, path)
	if said := a.Text(".done"); said != "Saved: 2 figures of “Price” changed." {
		t.Errorf("said %q", said)
	}
	want := *before
	want.AddOns = slices.Clone(before.AddOns)
	want.AddOns[0].Price, want.AddOns[3].Price = 1250, 9990
	same(t, v.Catalogue(), &want)
	// One save, which the history has and undoes field by field.
	if past := v.Get("/inventory/history").Text("table.history"); !strings.Contains(past, one.Code) || !strings.Contains(past, other.Code) {
		t.Errorf("history: %s", past)
	}
	if again := v.Post(path, columnOf(v.Get(path))).Text(".done"); again != "Saved. Nothing was different." {
		t.Errorf("said %q", again)
	}
}

// same holds two catalogues against each other by what changes between them.
func same(t *testing.T, got, want *catalog.Catalogue) {
	t.Helper()
	if changes, err := catalog.Edits(want, got); err != nil || len(changes) > 0 {
		t.Errorf("not the same: %v %v", changes, err)
	}
}

// TestTwoPeopleTypeOneColumn: different rows go together, the same row asks.
func TestTwoPeopleTypeOneColumn(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	const path = "/inventory/frames?edit=price_cents"
	mine, theirs := columnOf(v.Get(path)), columnOf(v.Get(path))
	typeAt(t, theirs, c.Frames[0].Code, "1111")
	typeAt(t, theirs, c.Frames[1].Code, "2222")
	v.Sure(path, theirs).Is(http.StatusOK, path)
	typeAt(t, mine, c.Frames[1].Code, "3333")
	typeAt(t, mine, c.Frames[2].Code, "4444")
	a := v.Sure(path, mine).Is(http.StatusUnprocessableEntity, path)
	if wrong := a.Text(".typed.bad"); !strings.Contains(wrong, "2222") {
		t.Fatalf("the clash: %q", wrong)
	}
	v.Sure(path, columnOf(a)).Is(http.StatusOK, path)
	got := v.Catalogue()
	for i, want := range []measure.Money{1111_00, 3333_00, 4444_00} {
		if got.Frames[i].Price != want {
			t.Errorf("%s costs %v, want %v", got.Frames[i].Code, got.Frames[i].Price, want)
		}
	}
}

// TestAColumnThatCannotBe: what the catalogue refuses is told at its row, and
// nothing is saved of the others.
func TestAColumnThatCannotBe(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	before := v.Catalogue()
	const path = "/inventory/frames?edit=gross_rating_kg"
	form := columnOf(v.Get(path))
	typeAt(t, form, before.Frames[0].Code, "1")
	typeAt(t, form, before.Frames[1].Code, "")
	typeAt(t, form, before.Frames[2].Code, "200")
	a := v.Post(path, form).Is(http.StatusUnprocessableEntity, path)
	a.Count(".typed.bad", 2)
	same(t, v.Catalogue(), before)
}

func TestPricesByPerCent(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	before := v.Catalogue()
	path := "/inventory/add-ons?edit=price_cents&q=seat"
	sum := url.Values{"do": {"sum"}, "how": {"percent"}, "much": {"−3,5"}, "round": {"0.95"}}
	a := v.Post(path, sum).Is(http.StatusOK, path)
	same(t, v.Catalogue(), before) // shown, not saved
	list := v.Get("/inventory/add-ons?q=seat")
	shown := map[string]bool{}
	list.Page.Find(".wares tbody th .kind").Each(func(_ int, s *goquery.Selection) { shown[s.Text()] = true })
	want := *before
	want.AddOns = slices.Clone(before.AddOns)
	by := catalog.Revision{Percent: -350, Round: catalog.Rounding{Step: 100, Below: 5}}
	changed := 0
	for i := range want.AddOns {
		if old := want.AddOns[i].Price; shown[want.AddOns[i].Code] && old > 0 {
			if want.AddOns[i].Price = measure.Money(by.Of(int64(old))); want.AddOns[i].Price != old {
				changed++
			}
		}
	}
	if changed < 2 || changed == len(want.AddOns) {
		t.Fatalf("%d of %d would change", changed, len(want.AddOns))
	}
	a.Count(".changed tbody tr", changed)
	saved := v.Post(path, webtest.Sent(a.One("form[method=post]:has(.consequences)"))).Is(http.StatusOK, path)
	if said := saved.Text(".done"); said != fmt.Sprintf("Saved: %d figures of “Price” changed.", changed) {
		t.Errorf("said %q", said)
	}
	same(t, v.Catalogue(), &want)
}

// TestASumIsShownAnew: where somebody has changed one of the figures between
// the page that showed it and the press, it is shown again.
func TestASumIsShownAnew(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path = "/inventory/add-ons?edit=fitting_minutes"
	a := v.Post(path, url.Values{"do": {"sum"}, "how": {"plus"}, "much": {"5"}}).Is(http.StatusOK, path)
	other := columnOf(v.Get(path))
	typeAt(t, other, v.Catalogue().AddOns[0].Code, "90")
	v.Sure(path, other).Is(http.StatusOK, path)
	press := webtest.Sent(a.One("form[method=post]:has(.consequences)"))
	again := v.Post(path, press)
	if shown := again.Text(".changed"); !strings.Contains(shown, "95") {
		t.Fatalf("shown again: %s", shown)
	}
	v.Post(path, webtest.Sent(again.One("form[method=post]:has(.consequences)"))).Is(http.StatusOK, path)
	if got := v.Catalogue().AddOns[0].FittingMinutes; got != 95 {
		t.Errorf("%d minutes", got)
	}
}

func TestPricesFromAList(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	const path = "/inventory/add-ons?edit=price_cents"
	one, other := c.AddOns[1].Code, c.AddOns[2].Code
	a := v.Post(path, url.Values{"do": {"list"}, "list": {one + "\t10\r\nnobody 20\n" + one + ";30\n\n" + other + " much\n" + other}}).Is(http.StatusUnprocessableEntity, path)
	faults := a.Text(".file-faults")
	for _, part := range []string{"Line 2: no add-on has the code “nobody”", "Line 3: “" + one + "” stands here twice", "Line 5", "Line 6: no figure"} {
		if !strings.Contains(faults, part) {
			t.Errorf("not told: %s in %s", part, faults)
		}
	}
	if typed := a.Text("textarea#list"); !strings.Contains(typed, "nobody 20") {
		t.Errorf("lost: %q", typed)
	}
	a = v.Post(path, url.Values{"do": {"list"}, "list": {one + "\t10,00\n" + other + " 20"}}).Is(http.StatusOK, path)
	v.Post(path, webtest.Sent(a.One("form[method=post]:has(.consequences)"))).Is(http.StatusOK, path)
	if got := v.Catalogue(); got.AddOns[1].Price != 1000 || got.AddOns[2].Price != 2000 {
		t.Errorf("%v %v", got.AddOns[1].Price, got.AddOns[2].Price)
	}
}

func TestSortedLists(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	slices.SortStableFunc(c.Frames, func(a, b catalog.Frame) int { return int(a.Price - b.Price) })
	order := func(path string) []string {
		var codes []string
		v.Get(path).Page.Find(".wares tbody th .kind").Each(func(_ int, s *goquery.Selection) { codes = append(codes, s.Text()) })
		return codes
	}
	var want []string
	for _, f := range c.Frames {
		want = append(want, f.Code)
	}
	if got := order("/inventory/frames?sort=price_cents"); !slices.Equal(got, want) {
		t.Errorf("cheapest first: %v, want %v", got, want)
	}
	a := v.Get("/inventory/frames?sort=price_cents")
	a.Count(`th[aria-sort="ascending"]`, 1)
	back := order(a.One(`th[aria-sort] a`).AttrOr("href", ""))
	if len(back) != len(want) || back[0] != want[len(want)-1] {
		t.Errorf("dearest first: %v", back)
	}
	v.Get("/inventory/frames?sort=nothing").Count("th[aria-sort]", 0)
	if types := order("/inventory/frames?sort=type"); len(types) != len(want) {
		t.Errorf("%d by type", len(types))
	}
}
