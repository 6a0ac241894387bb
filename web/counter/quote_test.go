package counter_test

import (
	"encoding/csv"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/testdata"
	"kinwain/web/webtest"
)

// cents reads an amount as it is shown.
func cents(t *testing.T, shown string) int {
	t.Helper()
	n, err := strconv.Atoi(strings.Replace(webtest.Amount(shown), ".", "", 1))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// unitLine returns what the page of a quote says of a bike.
func unitLine(a *webtest.Answer, tag string) string {
	return webtest.Words(a.Page.Find(".bikes li").FilterFunction(func(_ int, li *goquery.Selection) bool { return webtest.Words(li.Find("strong")) == tag }))
}

// TestQuoteSaysWhatTheFrameSays holds the total of every frame's quote, before
// and after it is made, to the total of its page; lines have to add up to it.
func TestQuoteSaysWhatTheFrameSays(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	for _, one := range webtest.ToldByRanking(v.Get(address + "/frames")) {
		frame := address + "/frames/" + one.Frame
		if one.Verdict == "does_not_fit" {
			continue
		}
		draft := v.Get(frame+"/quote").Is(http.StatusOK, frame+"/quote")
		made := v.Quoted(frame)
		for name, a := range map[string]*webtest.Answer{"draft": draft, "quote": made} {
			total, sum := cents(t, webtest.Words(a.One(".bill tfoot .total td"))), 0
			a.Page.Find(".bill tbody td:last-child").Each(func(_ int, td *goquery.Selection) { sum += cents(t, webtest.Words(td)) })
			if total != cents(t, one.Total) || sum != total {
				t.Errorf("%s, %s: the lines come to %v, the total is %v, the ranking says %v", one.Frame, name, sum, total, one.Total)
			}
			a.One(".cautions #cautions")
		}
		if !strings.Contains(made.Text(".plate"), "no rating plate") {
			t.Errorf("%s: %q", one.Frame, made.Text(".plate"))
		}
	}
}

// TestQuoteOfAChoice makes a quote of a set that was chosen by hand.
func TestQuoteOfAChoice(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Plain)) + "/frames/osier-m"
	query := "?" + url.Values{"chosen": {"yes"}, "on": {"stand-one-leg", "tray-front"}}.Encode()
	byHand := v.Get(frame + "/by-hand" + query)
	a := v.Get(frame + "/quote" + query)
	made := v.Post(frame+"/quote", webtest.Sent(a.One("form.make")))
	if got, want := webtest.Amount(made.Text(".bill tfoot .total td")), webtest.Amount(webtest.Words(byHand.One("#result > .figures tfoot td"))); got != want {
		t.Errorf("%v, by hand it was %v", got, want)
	}
	if text := made.Text(".bill tbody"); !strings.Contains(text, "Extra on the Osier M: ") || !strings.Contains(text, "Two spacers go under the tray,") {
		t.Errorf("what the tray asks for on this frame is not said: %s", text)
	}
	if done := v.Get(frame).Text(".actions small"); done != "quoted 25 November" {
		t.Errorf("that it was quoted is said as %q", done)
	}
	if link := v.Get(frame).Page.Find(".next a").FilterFunction(func(_ int, e *goquery.Selection) bool { return strings.HasPrefix(webtest.Words(e), "Quote ") }); link.AttrOr("href", "") != frame+"/quote" {
		t.Errorf("the frame's page leads to %q", link.AttrOr("href", ""))
	}
}

// TestQuoteStays changes every price after a quote was made, and lets its
// time run out.
func TestQuoteStays(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	made := v.Quoted(frame)
	if got := made.Text("h1"); got != "Quote Q-2026-0001" {
		t.Errorf("it is called %q", got)
	}
	dearer, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	for i := range dearer.Frames {
		dearer.Frames[i].Price *= 2
		dearer.Frames[i].Name += " II"
	}
	dearer.Shop.Tax, dearer.Shop.Currency = 1900, "SEK"
	if err := s.Store.ReplaceCatalogue(t.Context(), dearer); err != nil {
		t.Fatal(err)
	}
	if got := v.Get(made.Path); got.Text(".quote") != made.Text(".quote") {
		t.Errorf("it now says\n%s\nand said\n%s", got.Text(".quote"), made.Text(".quote"))
	}
	s.Passes(14 * 24 * time.Hour)
	v.Get(made.Path).Count(".quote .alert", 0)
	s.Passes(24 * time.Hour)
	over := v.Get(made.Path)
	over.Count(".quote .alert", 1)
	over.Count(`button[name="hold"]`, 0)
	if a := v.Post(made.Path+"/hold", url.Values{"hold": {"S-105"}, "until": {"2026-12-12"}}); a.Status != http.StatusUnprocessableEntity {
		t.Errorf("a bike is held for a quote that ran out: %d", a.Status)
	}
}

func TestQuoteForASpreadsheet(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	made := v.Quoted(v.Interview([]byte(webtest.Family)) + "/frames/osier-m")
	a := v.Get(made.Path + ".csv")
	if a.Header.Get("Content-Type") != "text/csv; charset=utf-8" || a.Header.Get("Content-Disposition") != `attachment; filename="Q-2026-0001.csv"` {
		t.Errorf("%v", a.Header)
	}
	rows, err := csv.NewReader(strings.NewReader(string(a.Body))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(rows, func(row []string) bool { return row[3] == "total" })
	if at < 0 || webtest.Amount(rows[at][8]) != webtest.Amount(made.Text(".bill tfoot .total td")) {
		t.Errorf("%q", rows)
	}
}

func TestQuoteNameThatIsTooLong(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	frame := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	long := strings.Repeat("ä", 121)
	a := v.Post(frame+"/quote", url.Values{"customer": {long}}).Is(http.StatusUnprocessableEntity, frame+"/quote")
	if a.One("#customer").AttrOr("value", "") != long || a.Text("#customer-error") == "" {
		t.Errorf("%q is lost, or not called too long", long)
	}
	v.Post(frame+"/quote", url.Values{"customer": {long[2:]}}).One(".quote")
}

// TestHold reserves a bike, sees it on every page, and lets the reservation
// run out without anybody doing anything.
func TestHold(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	frame := address + "/frames/osier-m"
	first, second := v.Quoted(frame), v.Quoted(frame)
	inShop := func(want bool) {
		t.Helper()
		for _, page := range []string{frame, address + "/frames"} {
			a := v.Get(page)
			if got := strings.Contains(a.Text("main"), "Ride it now: D-014"); got != want {
				t.Errorf("%s on %s: to be ridden %v, want %v", page, s.Clock().Format(time.DateTime), got, want)
			}
		}
	}
	inShop(true)
	if got := v.Holds(first, "D-014", "2026-11-27"); !strings.Contains(unitLine(got, "D-014"), "Reserved until 27 November 2026 for this customer, Q-2026-0001") {
		t.Errorf("the line is %q", unitLine(got, "D-014"))
	}
	inShop(false)
	late := v.Post(second.Path+"/hold", url.Values{"hold": {"D-014"}, "until": {"2026-11-28"}}).Is(http.StatusConflict, second.Path+"/hold")
	if got := late.Text(".hold .alert"); !strings.HasPrefix(got, "Somebody was quicker") {
		t.Errorf("the one who comes late reads %q", got)
	}
	if got := unitLine(late, "D-014"); !strings.Contains(got, "for this customer, Q-2026-0001") || strings.Contains(got, "Hold D-014") {
		t.Errorf("the line is %q", got)
	}
	s.Passes(2*24*time.Hour + 14*time.Hour) // 27 November, 23:30
	inShop(false)
	s.Passes(time.Hour)
	inShop(true)
	if got := v.Holds(second, "D-014", "2026-11-29"); !strings.Contains(unitLine(got, "D-014"), "29 November 2026 for this customer, Q-2026-0002") {
		t.Errorf("the line is %q", unitLine(got, "D-014"))
	}
	v.Post(second.Path+"/hold", url.Values{"release": {"D-014"}}).Is(http.StatusOK, second.Path)
	inShop(true)
}

func TestHoldUntilNonsense(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	made := v.Quoted(v.Interview([]byte(webtest.Family)) + "/frames/osier-m")
	for _, until := range []string{"", "soon", "2026-11", "2026-02-30", "2026-11-24", "2027-11-26", "9999-12-31"} {
		a := v.Post(made.Path+"/hold", url.Values{"hold": {"S-105"}, "until": {until}}).Is(http.StatusUnprocessableEntity, made.Path+"/hold")
		if a.Text("#until-error") == "" || a.One("#until").AttrOr("value", "") != until {
			t.Errorf("%q: %q, and the field holds %q", until, a.Text("#until-error"), a.One("#until").AttrOr("value", ""))
		}
	}
	for _, values := range []url.Values{{"hold": {"X"}, "until": {"2026-11-26"}}, {"hold": {"D-011"}, "until": {"2026-11-26"}}, {"release": {"S-105"}}} {
		v.Post(made.Path+"/hold", values).Is(http.StatusConflict, made.Path+"/hold")
	}
	v.Post(made.Path+"/hold", url.Values{"hold": {"S-105"}, "until": {"2026-11-25"}}).Is(http.StatusOK, made.Path)
}

// quoteID returns the ID of a quote from its page.
func quoteID(a *webtest.Answer) string { return strings.TrimPrefix(a.Path, "/quotes/") }

func date(t *testing.T, text string) measure.Date {
	t.Helper()
	d, err := measure.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestQuoteSaysWhereTheShopIs changes how the shop is reached.
func TestQuoteSaysWhereTheShopIs(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	made := v.Quoted(v.Interview([]byte(webtest.Family)) + "/frames/osier-m")
	made.Count(".reach", 0)
	texts := map[string]string{"contact_address": "3 Low Quay, Marrowhithe", "contact_phone": "000 555 0142", "contact_email": "hello@lowquay.example"}
	if err := s.Store.SetTexts(t.Context(), texts); err != nil {
		t.Fatal(err)
	}
	reach := v.Get(made.Path)
	reach.Count(".reach", len(texts))
	for _, text := range texts {
		if !strings.Contains(reach.Text(".quote header"), text) {
			t.Errorf("%q is not said", text)
		}
	}
}

// TestWhatDoesNotFitIsNotPromised holds that neither quote nor ride is made of
// a frame or of a set of add-ons that does not fit, also where its address is
// typed or a form is posted to it, and that the answer says why.
func TestWhatDoesNotFitIsNotPromised(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	for frame, c := range map[string]struct {
		query         url.Values
		heading, back string
	}{
		"yarrow":  {url.Values{}, "The Yarrow does not fit", "/frames/yarrow"},
		"osier-m": {url.Values{"chosen": {"yes"}, "on": {"stand-one-leg"}}, "The Osier M does not fit with these add-ons", "/frames/osier-m/by-hand?chosen=yes&on=stand-one-leg"},
	} {
		for _, page := range []string{"/quote", "/ride"} {
			path := address + "/frames/" + frame + page
			posted := url.Values{"customer": {"A"}, "unit": {"D-014"}, "date": {"2026-11-26"}, "time": {"10:00"}, "minutes": {"30"}}
			for name, values := range c.query {
				posted[name] = values
			}
			for method, a := range map[string]*webtest.Answer{"typed": v.Get(path + "?" + c.query.Encode()), "posted": v.Post(path, posted)} {
				if a.Status != http.StatusUnprocessableEntity || a.Text("h1") != c.heading || a.One("main .button").AttrOr("href", "") != address+c.back {
					t.Errorf("%s, %s: %d, %s, %s", path, method, a.Status, a.Text("main"), a.One("main .button").AttrOr("href", ""))
				}
				if text := a.Text("main p"); !strings.Contains(text, "Only what fits is ridden, quoted or sent home.") || strings.Index(text, "Only what fits") < 20 {
					t.Errorf("%s, %s: the reason is not said: %q", path, method, text)
				}
			}
		}
	}
	quotes, err := s.Store.Quotes(t.Context(), strings.TrimPrefix(address, "/consultations/"))
	rides, err2 := s.Store.Rides(t.Context(), strings.TrimPrefix(address, "/consultations/"))
	if len(quotes)+len(rides) > 0 || err != nil || err2 != nil {
		t.Errorf("kept are %v, %v; %v, %v", quotes, rides, err, err2)
	}
}

// TestQuoteOutlook holds that a quote says what the stages cost, that nothing
// of that is promised, and says so still when the shop has changed its prices;
// where tax comes on top, that is in the outlook as it is in the total.
func TestQuoteOutlook(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview(webtest.Customers(t)["baby-on-the-way"])
	frame := address + "/frames/osier-m"
	draft := v.Get(frame + "/quote?lang=en").Text(".outlook")
	for _, part := range []string{"2 stages until the end of October 2034: €3,094.00 in all.", "€2,746.00 due. Bought and fitted: deck bag;", "From 14 March 2027: first child rides a bike of their own.", "€348.00 due.", "an outlook, not a promise"} {
		if !strings.Contains(draft, part) {
			t.Errorf("%q is not in %q", part, draft)
		}
	}
	made := v.Post(frame+"/quote", url.Values{"lang": {"en"}})
	if got := made.Text(".outlook"); got != draft {
		t.Errorf("the quote says %q, the draft %q", got, draft)
	}
	c, err := s.Store.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	dearer := *c
	dearer.Shop.PricesIncludeTax = false
	if err := s.Store.ReplaceCatalogue(t.Context(), &dearer); err != nil {
		t.Fatal(err)
	}
	if got := v.Get(made.Path).Text(".outlook"); got != draft {
		t.Errorf("later it says %q", got)
	}
	// 2746.00 and 348.00, each with a fifth and a hundredth more.
	if got := v.Get(frame + "/quote?lang=en").Text(".outlook"); !strings.Contains(got, "€3,743.74 in all") || !strings.Contains(got, "€3,322.66 due") || !strings.Contains(got, "€421.08 due") {
		t.Errorf("with tax on top: %q", got)
	}
	v.Get(v.Interview([]byte(webtest.Plain))+"/frames/osier-m/quote").Count(".outlook", 0)
}
