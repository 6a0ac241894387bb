package web_test

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
)

// quoted makes a quote for a frame, as it is proposed, from the form on the
// page, and returns its page.
func (v *visitor) quoted(frame string) *answer {
	v.Helper()
	a := v.get(frame+"/quote").is(http.StatusOK, frame+"/quote")
	a = v.post(frame+"/quote", sent(a.one("form.make")))
	if a.status != http.StatusOK || !strings.HasPrefix(a.path, "/quotes/") {
		v.Fatalf("no quote: %d at %s", a.status, a.path)
	}
	return a
}

// holds reserves a bike from the page of a quote.
func (v *visitor) holds(quote *answer, tag, until string) *answer {
	v.Helper()
	path, _, _ := strings.Cut(quote.path, "#")
	v.post(path+"/hold", url.Values{"hold": {tag}, "until": {until}})
	return v.get(path).is(http.StatusOK, path)
}

// sent reads what a form sends besides its button.
func sent(form *goquery.Selection) url.Values {
	values := url.Values{}
	form.Find("input, select, textarea").Each(func(_ int, field *goquery.Selection) {
		name, value := field.AttrOr("name", ""), field.AttrOr("value", "")
		_, checked := field.Attr("checked")
		switch kind := field.AttrOr("type", goquery.NodeName(field)); {
		case kind == "textarea":
			value = field.Text()
		case kind == "select":
			chosen := field.Find("option[selected]")
			if chosen.Length() == 0 {
				chosen = field.Find("option").First()
			}
			value = chosen.AttrOr("value", "")
		case (kind == "radio" || kind == "checkbox") && !checked:
			return
		}
		values.Add(name, value)
	})
	return values
}

// cents reads an amount as it is shown.
func cents(t *testing.T, shown string) int {
	t.Helper()
	n, err := strconv.Atoi(strings.Replace(amount(shown), ".", "", 1))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// unitLine returns what the page of a quote says of a bike.
func unitLine(a *answer, tag string) string {
	return words(a.page.Find(".bikes li").FilterFunction(func(_ int, li *goquery.Selection) bool { return words(li.Find("strong")) == tag }))
}

// TestQuoteSaysWhatTheFrameSays holds the total of every frame's quote, before
// and after it is made, to the total of its page; lines have to add up to it.
func TestQuoteSaysWhatTheFrameSays(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	for _, one := range toldByRanking(v.get(address + "/frames")) {
		frame := address + "/frames/" + one.Frame
		draft := v.get(frame+"/quote").is(http.StatusOK, frame+"/quote")
		made := v.quoted(frame)
		for name, a := range map[string]*answer{"draft": draft, "quote": made} {
			total, sum := cents(t, words(a.one(".bill tfoot .total td"))), 0
			a.page.Find(".bill tbody td:last-child").Each(func(_ int, td *goquery.Selection) { sum += cents(t, words(td)) })
			if total != cents(t, one.Total) || sum != total {
				t.Errorf("%s, %s: the lines come to %v, the total is %v, the ranking says %v", one.Frame, name, sum, total, one.Total)
			}
			if stops := one.Verdict == "does_not_fit"; stops != (a.page.Find("#warnings").Length() == 1) {
				t.Errorf("%s, %s: %s, and its warnings are %q", one.Frame, name, one.Verdict, a.text("[aria-labelledby=warnings]"))
			}
			a.one(".cautions #cautions")
		}
		if !strings.Contains(made.text(".plate"), "no rating plate") {
			t.Errorf("%s: %q", one.Frame, made.text(".plate"))
		}
	}
}

// TestQuoteOfAChoice makes a quote of a set that was chosen by hand.
func TestQuoteOfAChoice(t *testing.T) {
	s := open(t)
	v := s.staff()
	frame := v.interview([]byte(family)) + "/frames/osier-m"
	query := "?" + url.Values{"chosen": {"yes"}, "on": {"stand-one-leg", "tray-front"}}.Encode()
	byHand := v.get(frame + "/by-hand" + query)
	a := v.get(frame + "/quote" + query)
	made := v.post(frame+"/quote", sent(a.one("form.make")))
	if got, want := amount(made.text(".bill tfoot .total td")), amount(words(byHand.one("#result > .figures tfoot td"))); got != want {
		t.Errorf("%v, by hand it was %v", got, want)
	}
	if text := made.text(".bill tbody"); !strings.Contains(text, "Extra on the Osier: ") || !strings.Contains(text, "Two spacers go under the tray,") {
		t.Errorf("what the tray asks for on this frame is not said: %s", text)
	}
	if link := v.get(frame).page.Find(".next a").FilterFunction(func(_ int, e *goquery.Selection) bool { return words(e) == "Quote" }); link.AttrOr("href", "") != frame+"/quote" {
		t.Errorf("the frame's page leads to %q", link.AttrOr("href", ""))
	}
}

// TestQuoteStays changes every price after a quote was made, and lets its
// time run out.
func TestQuoteStays(t *testing.T) {
	s := open(t)
	v := s.staff()
	frame := v.interview([]byte(family)) + "/frames/osier-m"
	made := v.quoted(frame)
	if got := made.text("h1"); got != "Quote Q-2026-0001" {
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
	if err := s.store.ReplaceCatalogue(t.Context(), dearer); err != nil {
		t.Fatal(err)
	}
	if got := v.get(made.path); got.text(".quote") != made.text(".quote") {
		t.Errorf("it now says\n%s\nand said\n%s", got.text(".quote"), made.text(".quote"))
	}
	s.passes(14 * 24 * time.Hour)
	v.get(made.path).count(".quote .alert", 0)
	s.passes(24 * time.Hour)
	over := v.get(made.path)
	over.count(".quote .alert", 1)
	over.count(`button[name="hold"]`, 0)
	if a := v.post(made.path+"/hold", url.Values{"hold": {"S-105"}, "until": {"2026-12-12"}}); a.status != http.StatusUnprocessableEntity {
		t.Errorf("a bike is held for a quote that ran out: %d", a.status)
	}
}

func TestQuoteForASpreadsheet(t *testing.T) {
	s := open(t)
	v := s.staff()
	made := v.quoted(v.interview([]byte(family)) + "/frames/osier-m")
	a := v.get(made.path + ".csv")
	if a.header.Get("Content-Type") != "text/csv; charset=utf-8" || a.header.Get("Content-Disposition") != `attachment; filename="Q-2026-0001.csv"` {
		t.Errorf("%v", a.header)
	}
	rows, err := csv.NewReader(strings.NewReader(string(a.body))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(rows, func(row []string) bool { return row[3] == "total" })
	if at < 0 || amount(rows[at][8]) != amount(made.text(".bill tfoot .total td")) {
		t.Errorf("%q", rows)
	}
}

func TestQuoteNameThatIsTooLong(t *testing.T) {
	s := open(t)
	v := s.staff()
	frame := v.interview([]byte(family)) + "/frames/osier-m"
	long := strings.Repeat("ä", 121)
	a := v.post(frame+"/quote", url.Values{"customer": {long}}).is(http.StatusUnprocessableEntity, frame+"/quote")
	if a.one("#customer").AttrOr("value", "") != long || a.text("#customer-error") == "" {
		t.Errorf("%q is lost, or not called too long", long)
	}
	v.post(frame+"/quote", url.Values{"customer": {long[2:]}}).one(".quote")
}

// TestHold reserves a bike, sees it on every page, and lets the reservation
// run out without anybody doing anything.
func TestHold(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	frame := address + "/frames/osier-m"
	first, second := v.quoted(frame), v.quoted(frame)
	inShop := func(want bool) {
		t.Helper()
		for _, page := range []string{frame, address + "/frames"} {
			a := v.get(page)
			if got := strings.Contains(a.text("main"), "Ride it now: D-014"); got != want {
				t.Errorf("%s on %s: to be ridden %v, want %v", page, s.clock().Format(time.DateTime), got, want)
			}
		}
	}
	inShop(true)
	if got := v.holds(first, "D-014", "2026-11-27"); !strings.Contains(unitLine(got, "D-014"), "Reserved until 27 November 2026 for Q-2026-0001") {
		t.Errorf("the line is %q", unitLine(got, "D-014"))
	}
	inShop(false)
	late := v.post(second.path+"/hold", url.Values{"hold": {"D-014"}, "until": {"2026-11-28"}}).is(http.StatusConflict, second.path+"/hold")
	if got := late.text(".hold .alert"); !strings.HasPrefix(got, "Somebody was quicker") {
		t.Errorf("the one who comes late reads %q", got)
	}
	if got := unitLine(late, "D-014"); !strings.Contains(got, "for Q-2026-0001") || strings.Contains(got, "Hold D-014") {
		t.Errorf("the line is %q", got)
	}
	s.passes(2*24*time.Hour + 14*time.Hour) // 27 November, 23:30
	inShop(false)
	s.passes(time.Hour)
	inShop(true)
	if got := v.holds(second, "D-014", "2026-11-29"); !strings.Contains(unitLine(got, "D-014"), "29 November 2026 for Q-2026-0002") {
		t.Errorf("the line is %q", unitLine(got, "D-014"))
	}
	v.post(second.path+"/hold", url.Values{"release": {"D-014"}}).is(http.StatusOK, second.path)
	inShop(true)
}

func TestHoldUntilNonsense(t *testing.T) {
	s := open(t)
	v := s.staff()
	made := v.quoted(v.interview([]byte(family)) + "/frames/osier-m")
	for _, until := range []string{"", "soon", "2026-11", "2026-02-30", "2026-11-24", "2027-11-26", "9999-12-31"} {
		a := v.post(made.path+"/hold", url.Values{"hold": {"S-105"}, "until": {until}}).is(http.StatusUnprocessableEntity, made.path+"/hold")
		if a.text("#until-error") == "" || a.one("#until").AttrOr("value", "") != until {
			t.Errorf("%q: %q, and the field holds %q", until, a.text("#until-error"), a.one("#until").AttrOr("value", ""))
		}
	}
	for _, values := range []url.Values{{"hold": {"X"}, "until": {"2026-11-26"}}, {"hold": {"D-011"}, "until": {"2026-11-26"}}, {"release": {"S-105"}}} {
		v.post(made.path+"/hold", values).is(http.StatusConflict, made.path+"/hold")
	}
	v.post(made.path+"/hold", url.Values{"hold": {"S-105"}, "until": {"2026-11-25"}}).is(http.StatusOK, made.path)
}

// quoteID returns the ID of a quote from its page.
func quoteID(a *answer) string { return strings.TrimPrefix(a.path, "/quotes/") }

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
	s := open(t)
	v := s.staff()
	made := v.quoted(v.interview([]byte(family)) + "/frames/osier-m")
	made.count(".reach", 0)
	texts := map[string]string{"contact_address": "3 Low Quay, Marrowhithe", "contact_phone": "000 555 0142", "contact_email": "hello@lowquay.example"}
	if err := s.store.SetTexts(t.Context(), texts); err != nil {
		t.Fatal(err)
	}
	reach := v.get(made.path)
	reach.count(".reach", len(texts))
	for _, text := range texts {
		if !strings.Contains(reach.text(".quote header"), text) {
			t.Errorf("%q is not said", text)
		}
	}
}
