package desk_test

import (
	"context"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
	"kinwain/web/say"
	"kinwain/web/webtest"
)

// sideBySide opens a comparison.
func sideBySide(v *webtest.Visitor, address string, codes ...string) *webtest.Answer {
	v.Helper()
	path := address + "/compare?" + url.Values{"frame": codes}.Encode()
	return v.Get(path).Is(http.StatusOK, path)
}

// heads lists the frames over the columns.
func heads(a *webtest.Answer) []string {
	var names []string
	a.Page.Find(".compare:not(.riders) thead th a").Each(func(_ int, link *goquery.Selection) {
		names = append(names, link.AttrOr("href", "")[strings.LastIndex(link.AttrOr("href", ""), "/")+1:])
	})
	return names
}

// cells lists what the cells of a row say.
func cells(a *webtest.Answer, row string) []string {
	var list []string
	a.Page.Find(`tr[data-row="` + row + `"] td`).Each(func(_ int, cell *goquery.Selection) { list = append(list, webtest.Words(cell)) })
	return list
}

// TestCompareKeepsTheOrder holds that frames stand as they were asked for, and
// that nothing said of a frame depends on where it stands.
func TestCompareKeepsTheOrder(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	codes := []string{"teasel", "osier-m", "yarrow-assist", "knapweed-s"}
	a := sideBySide(v, address, codes...)
	if got := heads(a); !slices.Equal(got, codes) {
		t.Errorf("asked for %v, shown %v", codes, got)
	}
	turned := slices.Clone(codes)
	slices.Reverse(turned)
	b := sideBySide(v, address, turned...)
	rows := 0
	a.Page.Find("tr[data-row]").Each(func(_ int, r *goquery.Selection) {
		rows++
		there, back := cells(a, r.AttrOr("data-row", "")), cells(b, r.AttrOr("data-row", ""))
		slices.Reverse(back)
		if !slices.Equal(there, back) {
			t.Errorf("%s: %q, in another order %q", r.AttrOr("data-row", ""), there, back)
		}
	})
	if rows < 12 {
		t.Errorf("%d rows differ", rows)
	}
	if twice := sideBySide(v, address, "teasel", "osier-m", "teasel"); len(heads(twice)) != 2 {
		t.Errorf("a frame asked for twice: %v", heads(twice))
	}
}

// TestCompareAgreesWithTheMatches holds the page to what the matches say, as
// the interchange document carries it.
func TestCompareAgreesWithTheMatches(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	codes := []string{"teasel", "osier-m", "osier-assist"}
	a := sideBySide(v, address, codes...)
	shop, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse([]byte(webtest.Family))
	if err != nil {
		t.Fatal(err)
	}
	for i, code := range codes {
		m, err := match.One(context.Background(), shop, shop.Frame(code), p, match.DefaultSettings(), match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		spare := min(m.Sheets[0].Spare(), m.Sheets[1].Spare())
		for row, want := range map[string]string{
			"total_price": say.New(say.English, measure.Metric).Money(m.Total, "EUR"), "spare": spare.Show(measure.Metric, measure.Down), "score": m.Score.FloatString(1),
			"horizon": m.Horizon.Month.Month().String() + " " + strconv.Itoa(m.Horizon.Month.Year()), "length": m.Bike.Flat.Length.Show(measure.Metric, measure.Up),
			"home": m.Home.Slack.Show(measure.Metric, measure.Down),
		} {
			got := cells(a, row)
			if want = strings.Join(strings.Fields(want), " "); len(got) != 3 || !strings.HasPrefix(strings.Replace(got[i], ".0 ", " ", 1), want) {
				t.Errorf("%s of %s: %q, want %q", row, code, got, want)
			}
		}
	}
}

// decimals are the figures of a text.
var decimals = regexp.MustCompile(`-?[0-9][0-9,]*(?:\.[0-9]+)?`)

func number(t *testing.T, text string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(strings.ReplaceAll(decimals.FindString(text), ",", ""), 64)
	if err != nil {
		t.Fatalf("no figure in %q", text)
	}
	return n
}

// TestLeadsCanBeCheckedOnPaper holds every lead to the figures shown: it is
// the difference of the winner and the next best, in both systems of units.
func TestLeadsCanBeCheckedOnPaper(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	for _, units := range []string{"metric", "imperial"} {
		address := v.Interview([]byte(webtest.Family))
		if units == "imperial" {
			f := v.Get(address).Form()
			f.Set("units", "imperial")
			v.Press(f, address, "save")
		}
		a := sideBySide(v, address, "teasel", "osier-m", "osier-assist", "yarrow")
		leads := 0
		a.Page.Find(".compare:not(.riders) tr[data-row]").Each(func(_ int, r *goquery.Selection) {
			code, win := r.AttrOr("data-row", ""), r.Find(".win")
			if win.Length() > 1 {
				t.Errorf("%s has %d winners", code, win.Length())
			}
			if win.Length() == 0 || code == "horizon" { // months apart are not on the page
				return
			}
			leads++
			lead := number(t, webtest.Words(win))
			best := number(t, webtest.Words(r.Find("td.best .figure")))
			gap := -1.0
			r.Find("td:not(.best)").Each(func(_ int, cell *goquery.Selection) {
				if cell.Find(".figure:not(.hint)").Length() == 0 || strings.Contains(webtest.Words(cell), "*") {
					return
				}
				if apart := max(best, number(t, webtest.Words(cell.Find(".figure")))) - min(best, number(t, webtest.Words(cell.Find(".figure")))); gap < 0 || apart < gap {
					gap = apart
				}
			})
			if diff := gap - lead; diff > 0.001 || diff < -0.001 {
				t.Errorf("%s, %s: the lead is %q, on paper %.2f", units, code, webtest.Words(win), gap)
			}
		})
		if text := a.Text(".compare"); leads < 6 || strings.Contains(text, " cm") == (units == "imperial") || strings.Contains(text, " lb") != (units == "imperial") {
			t.Errorf("%s: %d leads; %.200s", units, leads, text)
		}
	}
}

// TestCompareFoldsWhatIsTheSame compares two frames whose brakes are the same.
func TestCompareFoldsWhatIsTheSame(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	a := sideBySide(v, v.Interview([]byte(webtest.Family)), "osier-m", "osier-l")
	a.Count(`tr[data-row="brakes"]`, 0)
	folded := map[string]string{}
	a.Page.Find("details.same dl > div").Each(func(_ int, row *goquery.Selection) {
		folded[webtest.Words(row.Find("dt"))] = webtest.Words(row.Find("dd"))
	})
	if folded["Brakes, front and rear"] != "hydraulic disc" || folded["Motor"] != "not stated" {
		t.Errorf("folded: %q", folded)
	}
	a.One("details.same:not([open])")
	a.Page.Find("tr[data-row]").Each(func(_ int, r *goquery.Selection) {
		var said []string
		r.Find("td").Each(func(_ int, cell *goquery.Selection) { said = append(said, webtest.Words(cell)) })
		if said[0] == said[1] && r.AttrOr("data-row", "") != "reasons" { // which say in short what differs in length
			t.Errorf("%s is the same: %q", r.AttrOr("data-row", ""), said)
		}
	})
}

// TestNoLeadThatCannotBeSeen compares two lowest gears of 2.013 and 1.999 m a
// turn: a winner in metres, and the same 6.6 ft.
func TestNoLeadThatCannotBeSeen(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	if a := sideBySide(v, address, "osier-m", "teasel-short"); webtest.Words(a.One(`tr[data-row="low_gear"] .win`)) != "0.01 m lower" {
		t.Errorf("in metres: %q", cells(a, "low_gear"))
	}
	f := v.Get(address).Form()
	f.Set("units", "imperial")
	v.Press(f, address, "save")
	a := sideBySide(v, address, "osier-m", "teasel-short")
	if got := cells(a, "low_gear"); !slices.Equal(got, []string{"6.6 ft", "6.6 ft"}) {
		t.Errorf("in feet: %q", got)
	}
}

// TestCompareMarksPartialBuilds holds that what leaves the children at home
// wins nothing for it.
func TestCompareMarksPartialBuilds(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	a := sideBySide(v, v.Interview([]byte(webtest.Family)), "knapweed-s", "teasel", "osier-m")
	if head := webtest.Words(a.Page.Find(".compare thead th").First()); !strings.Contains(head, "* leaves out") {
		t.Errorf("the head says %q", head)
	}
	for _, row := range []string{"total_price", "spare", "length", "handling_mass"} {
		got := cells(a, row)
		if len(got) != 3 || !strings.HasSuffix(got[0], "*") {
			t.Errorf("%s: %q", row, got)
		}
	}
	a.Count(`tr[data-row="total_price"] td:first-of-type .win`, 0)
	a.One(`tr[data-row="total_price"] .win`)
	a.Page.Find(".riders tbody tr").First().Find(".win").Each(func(_ int, win *goquery.Selection) {
		if !strings.Contains(webtest.Words(win), "more room") { // the height is the frame's own
			t.Errorf("among the riders it wins %q", webtest.Words(win))
		}
	})
}

// TestCompareRefuses holds that what cannot be compared says what to do, and
// that the way back has everything still ticked.
func TestCompareRefuses(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	for name, c := range map[string]struct {
		codes, kept []string
		status      int
		says        string
	}{
		"none":         {nil, nil, http.StatusUnprocessableEntity, "Tick two, three or four"},
		"nothing":      {[]string{""}, nil, http.StatusUnprocessableEntity, "Tick two, three or four"},
		"one":          {[]string{"teasel"}, []string{"teasel"}, http.StatusUnprocessableEntity, "Tick two, three or four"},
		"one, twice":   {[]string{"teasel", "teasel"}, []string{"teasel"}, http.StatusUnprocessableEntity, "Tick two, three or four"},
		"five":         {[]string{"sedge", "teasel", "osier-m", "osier-l", "yarrow"}, []string{"osier-l", "osier-m", "sedge", "teasel", "yarrow"}, http.StatusUnprocessableEntity, "four at most"},
		"unknown":      {[]string{"teasel", "no-such", "yarrow"}, []string{"teasel", "yarrow"}, http.StatusNotFound, "no longer"},
		"odd unknowns": {[]string{"<b>", "\x00"}, nil, http.StatusNotFound, "no longer"},
	} {
		path := address + "/compare"
		if len(c.codes) > 0 {
			path += "?" + url.Values{"frame": c.codes}.Encode()
		}
		a := v.Get(path).Is(c.status, path)
		if text := a.Text(".say p"); !strings.Contains(text, c.says) {
			t.Errorf("%s: it says %q", name, text)
		}
		back := v.Get(a.One(".say a.button").AttrOr("href", ""))
		if back.Status != http.StatusOK || !slices.Equal(tickedFrames(back), c.kept) {
			t.Errorf("%s: back at %s with %v ticked", name, back.Path, tickedFrames(back))
		}
	}
	blank, _ := v.Consultation()
	v.Get(blank+"/compare?frame=teasel&frame=sedge").Is(http.StatusOK, blank+"/frames")
	v.Get("/consultations/no-such/compare?frame=teasel&frame=sedge").Is(http.StatusNotFound, "/consultations/no-such/compare?frame=teasel&frame=sedge")
}

// tickedFrames lists the frames that are ticked in the ranking, by code.
func tickedFrames(a *webtest.Answer) []string {
	var codes []string
	a.Page.Find(`.ranked input[name="frame"][checked]`).Each(func(_ int, box *goquery.Selection) { codes = append(codes, box.AttrOr("value", "")) })
	slices.Sort(codes)
	return codes
}

// TestCompareLeadsOn follows every link of a comparison, and that of a frame.
func TestCompareLeadsOn(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	a := sideBySide(v, address, "teasel", "osier-m", "knapweed-s")
	a.Page.Find("main a[href]").Each(func(_ int, link *goquery.Selection) {
		if got := v.Get(link.AttrOr("href", "")); got.Status != http.StatusOK {
			t.Errorf("%s leads to %d", webtest.Words(link), got.Status)
		}
	})
	less := v.Get(a.Page.Find(".next a").First().AttrOr("href", ""))
	if got := heads(less); !slices.Equal(got, []string{"osier-m", "knapweed-s"}) {
		t.Errorf("without the first: %v", got)
	}
	less.Count(".next a", 0)
	back := v.Get(a.One(".back a").AttrOr("href", ""))
	if got := tickedFrames(back); !slices.Equal(got, []string{"knapweed-s", "osier-m", "teasel"}) {
		t.Errorf("back with %v ticked", got)
	}
	back.One("details.unfit[open]") // one of them lies in there
	frame := v.Get(address + "/frames/teasel")
	next := frame.Page.Find(".next a").FilterFunction(func(_ int, link *goquery.Selection) bool { return webtest.Words(link) == "Compare" })
	if got := tickedFrames(v.Get(next.AttrOr("href", ""))); !slices.Equal(got, []string{"teasel"}) {
		t.Errorf("from the frame's page: %v ticked", got)
	}
}

// TestRankingSendsTicks holds that the boxes of the ranking are one form that
// works without script.
func TestRankingSendsTicks(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	a := v.Get(address + "/frames")
	form := a.One("form.comparing")
	if form.AttrOr("action", "") != address+"/compare" || form.AttrOr("method", "") != "get" || form.Find("button").Length() != 1 {
		t.Errorf("the form goes to %s", form.AttrOr("action", ""))
	}
	if got := form.Find(`.ranked input[type="checkbox"][name="frame"]`).Length(); got != 14 {
		t.Errorf("%d boxes", got)
	}
	form.Find("form").Each(func(_ int, inner *goquery.Selection) { t.Error("a form within the form") })
	names := map[string]bool{}
	form.Find("label.tick-frame").Each(func(_ int, label *goquery.Selection) { names[webtest.Words(label)] = true })
	if len(names) < 8 || names["Compare"] {
		t.Errorf("the boxes are called %v", names)
	}
}
