package desk_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

// named collects the figures of a page by what they are of.
type named map[string]map[string]bool

func (n named) say(of, figure string) {
	of = strings.ToLower(strings.TrimSuffix(strings.TrimSpace(of), ", dressed"))
	figure = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(figure), "-"), ".0")
	if n[of] == nil {
		n[of] = map[string]bool{}
	}
	n[of][figure] = true
}

var (
	amount    = `(-?[0-9.]+)[ \x{a0}](?:kg|lb)`
	ofTitle   = regexp.MustCompile(`^(.*): ` + amount + `$`)
	ofNote    = regexp.MustCompile(`^` + amount + ` dressed`)
	estimated = regexp.MustCompile(`(\S+ child|child [0-9]+|\S+) (?:is not weighed and counts with an estimated|is not born yet and counts with) ` + amount)
	bearsOnly = regexp.MustCompile(`Under rider (\S+) the front wheel bears only ` + amount + ` of ` + amount)
	ofWhole   = regexp.MustCompile(`^` + amount + ` of ` + amount + `: `)
	toSpare   = regexp.MustCompile(amount + ` to spare`)
)

// oneFigure holds that there is one figure of one thing on the page of a frame:
// in rows, bars, titles, seats, add-ons, reasons and the headline. It returns
// of how many things there is one.
func oneFigure(t *testing.T, frame string, a *webtest.Answer) int {
	t.Helper()
	all := figuresOf(a)
	for of, figures := range all {
		if len(figures) > 1 {
			t.Errorf("%s: %s is %v", frame, of, figures)
		}
	}
	return len(all)
}

// figuresOf collects the figures of the page of a frame.
func figuresOf(a *webtest.Answer) named {
	all := named{}
	a.Page.Find("figure.sheet").Each(func(i int, sheet *goquery.Selection) {
		rider := " under " + webtest.Words(sheet.Find("caption.sr"))
		sums := map[string]int64{}
		sheet.Find(".sum tbody tr").Each(func(_ int, row *goquery.Selection) {
			if webtest.Words(row.Find("th")) == "Rounding" {
				return // the figure of no thing
			}
			sums[webtest.Words(row.Find("th"))] += tenthsOf(webtest.Words(row.Find("td")))
		})
		for of, tenths := range sums { // of two of a kind what both are together
			all.say(of, shownTenths(tenths))
		}
		titles := map[string]int64{}
		sheet.Find(".bar.tall title").Each(func(_ int, title *goquery.Selection) {
			if m := ofTitle.FindStringSubmatch(title.Text()); m != nil {
				titles[m[1]] += tenthsOf(m[2])
			}
		})
		for of, tenths := range titles {
			all.say(of, shownTenths(tenths))
		}
		all.say("total"+rider, webtest.Words(sheet.Find(".sum .total td")))
		if m := ofWhole.FindStringSubmatch(sheet.Find(".bar.tall").AttrOr("aria-label", "")); m != nil {
			all.say("total"+rider, m[1])
		}
		if m := toSpare.FindStringSubmatch(sheet.Find("figcaption strong").Text()); m != nil {
			all.say("spare"+rider, m[1])
			all.say("spare"+rider, webtest.Words(sheet.Find(".sum .spare td")))
		}
		sheet.Find(".zones tbody tr").Each(func(_ int, row *goquery.Selection) {
			zone := webtest.Words(row.Find("th"))
			all.say(zone+rider, webtest.Words(row.Find("td").Eq(1)))
			row.Find("title").Each(func(_ int, title *goquery.Selection) {
				m := ofTitle.FindStringSubmatch(title.Text())
				switch {
				case m == nil:
				case m[1] == zone:
					all.say(zone+rider, m[2])
				case title.Parent().HasClass("passenger"):
					all.say(m[1], m[2])
				}
			})
		})
	})
	a.Page.Find(".seats li").Each(func(_ int, seat *goquery.Selection) {
		if m := ofNote.FindStringSubmatch(webtest.Words(seat.Find(".hint").Last())); m != nil {
			all.say(webtest.Words(seat.Find("strong")), m[1])
		}
	})
	if a.Page.Find(".relaxed").Length() > 0 {
		a.Page.Find(`[aria-labelledby="addons"]`).Remove() // these leave out what the sum counts
	}
	a.Page.Find(`[aria-labelledby="addons"] tbody tr`).Each(func(_ int, row *goquery.Selection) {
		of := row.Find("th").Clone()
		of.Find(".hint").Remove()
		kind := webtest.Words(of)
		if strings.Contains(kind, " × ") {
			return // both together are one mass, rounded once; the sum has each
		}
		all.say(kind, strings.Fields(webtest.Words(row.Find("td").Eq(1)))[0])
	})
	a.Page.Find(".reasons li").Each(func(_ int, reason *goquery.Selection) {
		if m := estimated.FindStringSubmatch(webtest.Words(reason)); m != nil {
			all.say(m[1], m[2])
		}
		if m := bearsOnly.FindStringSubmatch(webtest.Words(reason)); m != nil {
			rider := " under Under rider " + m[1] + ": added up"
			all.say("front axle"+rider, m[2])
			all.say("total"+rider, m[3])
		}
	})
	return all
}

// tenthsOf reads a figure with or without a decimal.
func tenthsOf(figure string) int64 {
	whole, decimal, _ := strings.Cut(figure, ".")
	n, _ := strconv.ParseInt(whole+(decimal + "0")[:1], 10, 64)
	return n
}

func shownTenths(n int64) string { return strconv.FormatFloat(float64(n)/10, 'f', 1, 64) }
