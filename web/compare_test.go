package web_test

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
)

// sideBySide opens a comparison.
func (v *visitor) sideBySide(address string, codes ...string) *answer {
	v.Helper()
	path := address + "/compare?" + url.Values{"frame": codes}.Encode()
	return v.get(path).is(http.StatusOK, path)
}

// heads lists the frames over the columns.
func heads(a *answer) []string {
	var names []string
	a.page.Find(".compare:not(.riders) thead th a").Each(func(_ int, link *goquery.Selection) {
		names = append(names, link.AttrOr("href", "")[strings.LastIndex(link.AttrOr("href", ""), "/")+1:])
	})
	return names
}

// cells lists what the cells of a row say.
func cells(a *answer, row string) []string {
	var list []string
	a.page.Find(`tr[data-row="` + row + `"] td`).Each(func(_ int, cell *goquery.Selection) { list = append(list, words(cell)) })
	return list
}

// TestCompareKeepsTheOrder holds that frames stand as they were asked for, and
// that nothing said of a frame depends on where it stands.
func TestCompareKeepsTheOrder(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
	codes := []string{"teasel", "osier-m", "yarrow-assist", "knapweed-s"}
	a := v.sideBySide(address, codes...)
	if got := heads(a); !slices.Equal(got, codes) {
		t.Errorf("asked for %v, shown %v", codes, got)
	}
	turned := slices.Clone(codes)
	slices.Reverse(turned)
	b := v.sideBySide(address, turned...)
	rows := 0
	a.page.Find("tr[data-row]").Each(func(_ int, r *goquery.Selection) {
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
	if twice := v.sideBySide(address, "teasel", "osier-m", "teasel"); len(heads(twice)) != 2 {
		t.Errorf("a frame asked for twice: %v", heads(twice))
	}
}

// TestCompareAgreesWithTheMatches holds the page to what the matches say, as
// the interchange document carries it.
func TestCompareAgreesWithTheMatches(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
	codes := []string{"teasel", "osier-m", "osier-assist"}
	a := v.sideBySide(address, codes...)
	shop, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse([]byte(family))
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
			"total_price": m.Total.Show("EUR"), "spare": spare.Show(measure.Metric, measure.Down), "score": m.Score.FloatString(1),
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
	v := open(t).staff()
	for _, units := range []string{"metric", "imperial"} {
		address := v.interview([]byte(family))
		if units == "imperial" {
			f := v.get(address).form()
			f.set("units", "imperial")
			v.press(f, address, "save")
		}
		a := v.sideBySide(address, "teasel", "osier-m", "osier-assist", "yarrow")
		leads := 0
		a.page.Find(".compare:not(.riders) tr[data-row]").Each(func(_ int, r *goquery.Selection) {
			code, win := r.AttrOr("data-row", ""), r.Find(".win")
			if win.Length() > 1 {
				t.Errorf("%s has %d winners", code, win.Length())
			}
			if win.Length() == 0 || code == "horizon" { // months apart are not on the page
				return
			}
			leads++
			lead := number(t, words(win))
			best := number(t, words(r.Find("td.best .figure")))
			gap := -1.0
			r.Find("td:not(.best)").Each(func(_ int, cell *goquery.Selection) {
				if cell.Find(".figure:not(.hint)").Length() == 0 || strings.Contains(words(cell), "*") {
					return
				}
				if apart := max(best, number(t, words(cell.Find(".figure")))) - min(best, number(t, words(cell.Find(".figure")))); gap < 0 || apart < gap {
					gap = apart
				}
			})
			if diff := gap - lead; diff > 0.001 || diff < -0.001 {
				t.Errorf("%s, %s: the lead is %q, on paper %.2f", units, code, words(win), gap)
			}
		})
		if text := a.text(".compare"); leads < 6 || strings.Contains(text, " cm") == (units == "imperial") || strings.Contains(text, " lb") != (units == "imperial") {
			t.Errorf("%s: %d leads; %.200s", units, leads, text)
		}
	}
}

// TestCompareFoldsWhatIsTheSame compares two frames whose brakes are the same.
func TestCompareFoldsWhatIsTheSame(t *testing.T) {
	v := open(t).staff()
	a := v.sideBySide(v.interview([]byte(family)), "osier-m", "osier-l")
	a.count(`tr[data-row="brakes"]`, 0)
	folded := map[string]string{}
	a.page.Find("details.same dl > div").Each(func(_ int, row *goquery.Selection) { folded[words(row.Find("dt"))] = words(row.Find("dd")) })
	if folded["Brakes, front and rear"] != "hydraulic disc" || folded["Motor"] != "not stated" {
		t.Errorf("folded: %q", folded)
	}
	a.one("details.same:not([open])")
	a.page.Find("tr[data-row]").Each(func(_ int, r *goquery.Selection) {
		var said []string
		r.Find("td").Each(func(_ int, cell *goquery.Selection) { said = append(said, words(cell)) })
		if said[0] == said[1] && r.AttrOr("data-row", "") != "reasons" { // which say in short what differs in length
			t.Errorf("%s is the same: %q", r.AttrOr("data-row", ""), said)
		}
	})
}

// TestNoLeadThatCannotBeSeen compares two lowest gears of 2.013 and 1.999 m a
// turn: a winner in metres, and the same 6.6 ft.
func TestNoLeadThatCannotBeSeen(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
	if a := v.sideBySide(address, "osier-m", "teasel-short"); words(a.one(`tr[data-row="low_gear"] .win`)) != "0.01 m lower" {
		t.Errorf("in metres: %q", cells(a, "low_gear"))
	}
	f := v.get(address).form()
	f.set("units", "imperial")
	v.press(f, address, "save")
	a := v.sideBySide(address, "osier-m", "teasel-short")
	if got := cells(a, "low_gear"); !slices.Equal(got, []string{"6.6 ft", "6.6 ft"}) {
		t.Errorf("in feet: %q", got)
	}
}

// TestCompareMarksPartialBuilds holds that what leaves the children at home
// wins nothing for it.
func TestCompareMarksPartialBuilds(t *testing.T) {
	v := open(t).staff()
	a := v.sideBySide(v.interview([]byte(family)), "knapweed-s", "teasel", "osier-m")
	if head := words(a.page.Find(".compare thead th").First()); !strings.Contains(head, "* leaves out") {
		t.Errorf("the head says %q", head)
	}
	for _, row := range []string{"total_price", "spare", "length", "handling_mass"} {
		got := cells(a, row)
		if len(got) != 3 || !strings.HasSuffix(got[0], "*") {
			t.Errorf("%s: %q", row, got)
		}
	}
	a.count(`tr[data-row="total_price"] td:first-of-type .win`, 0)
	a.one(`tr[data-row="total_price"] .win`)
	a.page.Find(".riders tbody tr").First().Find(".win").Each(func(_ int, win *goquery.Selection) {
		if !strings.Contains(words(win), "more room") { // the height is the frame's own
			t.Errorf("among the riders it wins %q", words(win))
		}
	})
}

// TestCompareRefuses holds that what cannot be compared says what to do, and
// that the way back has everything still ticked.
func TestCompareRefuses(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
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
		a := v.get(path).is(c.status, path)
		if text := a.text(".say p"); !strings.Contains(text, c.says) {
			t.Errorf("%s: it says %q", name, text)
		}
		back := v.get(a.one(".say a.button").AttrOr("href", ""))
		if back.status != http.StatusOK || !slices.Equal(tickedFrames(back), c.kept) {
			t.Errorf("%s: back at %s with %v ticked", name, back.path, tickedFrames(back))
		}
	}
	blank, _ := v.consultation()
	v.get(blank+"/compare?frame=teasel&frame=sedge").is(http.StatusOK, blank+"/frames")
	v.get("/consultations/no-such/compare?frame=teasel&frame=sedge").is(http.StatusNotFound, "/consultations/no-such/compare?frame=teasel&frame=sedge")
}

// tickedFrames lists the frames that are ticked in the ranking, by code.
func tickedFrames(a *answer) []string {
	var codes []string
	a.page.Find(`.ranked input[name="frame"][checked]`).Each(func(_ int, box *goquery.Selection) { codes = append(codes, box.AttrOr("value", "")) })
	slices.Sort(codes)
	return codes
}

// TestCompareLeadsOn follows every link of a comparison, and that of a frame.
func TestCompareLeadsOn(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
	a := v.sideBySide(address, "teasel", "osier-m", "knapweed-s")
	a.page.Find("main a[href]").Each(func(_ int, link *goquery.Selection) {
		if got := v.get(link.AttrOr("href", "")); got.status != http.StatusOK {
			t.Errorf("%s leads to %d", words(link), got.status)
		}
	})
	less := v.get(a.page.Find(".next a").First().AttrOr("href", ""))
	if got := heads(less); !slices.Equal(got, []string{"osier-m", "knapweed-s"}) {
		t.Errorf("without the first: %v", got)
	}
	less.count(".next a", 0)
	back := v.get(a.one(".back a").AttrOr("href", ""))
	if got := tickedFrames(back); !slices.Equal(got, []string{"knapweed-s", "osier-m", "teasel"}) {
		t.Errorf("back with %v ticked", got)
	}
	back.one("details.unfit[open]") // one of them lies in there
	frame := v.get(address + "/frames/teasel")
	next := frame.page.Find(".next a").FilterFunction(func(_ int, link *goquery.Selection) bool { return words(link) == "Compare" })
	if got := tickedFrames(v.get(next.AttrOr("href", ""))); !slices.Equal(got, []string{"teasel"}) {
		t.Errorf("from the frame's page: %v ticked", got)
	}
}

// TestRankingSendsTicks holds that the boxes of the ranking are one form that
// works without script.
func TestRankingSendsTicks(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
	a := v.get(address + "/frames")
	form := a.one("form.comparing")
	if form.AttrOr("action", "") != address+"/compare" || form.AttrOr("method", "") != "get" || form.Find("button").Length() != 1 {
		t.Errorf("the form goes to %s", form.AttrOr("action", ""))
	}
	if got := form.Find(`.ranked input[type="checkbox"][name="frame"]`).Length(); got != 14 {
		t.Errorf("%d boxes", got)
	}
	form.Find("form").Each(func(_ int, inner *goquery.Selection) { t.Error("a form within the form") })
	names := map[string]bool{}
	form.Find("label.tick-frame").Each(func(_ int, label *goquery.Selection) { names[words(label)] = true })
	if len(names) < 8 || names["Compare"] {
		t.Errorf("the boxes are called %v", names)
	}
}
