package desk_test

import (
	"math/big"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/webtest"
)

// gramsPerTenth is a tenth of the unit of a load sheet, in grams. A pound is
// 0.45359237 kg by the international yard and pound agreement of 1959.
var gramsPerTenth = map[string]*big.Rat{"kg": big.NewRat(100, 1), "lb": big.NewRat(45359237, 1000000)}

// TestEveryFrameAddsUp opens every frame for every sample customer, in
// kilograms and in pounds. It says what the document says, and whoever checks
// its load sheets with a pencil finds them right, and each mass everywhere
// the same. What does not fit is not offered.
func TestEveryFrameAddsUp(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	documents := webtest.Customers(t)
	documents["the heaviest"] = []byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 175, "weight_kg": 249.9, "weighed": "dressed"}]}`)
	over, things := 0, 0
	for name, document := range documents {
		t.Run(name, func(t *testing.T) {
			matches, written := ranked(s, document)
			want := webtest.ToldByDocument(t, written)
			address := v.Interview(document)
			for unit, units := range map[string]string{"kg": "metric", "lb": "imperial"} {
				f := v.Get(address).Form()
				f.Set("units", units)
				v.Press(f, address, "save").Is(http.StatusOK, address)
				for i, m := range matches {
					a := v.Get(address + "/frames/" + m.Frame.Code)
					shown := a.Page.Find("figure.sheet")
					if diff := cmp.Diff(want[i], toldByFrame(a, m.Frame.Code)); diff != "" {
						t.Errorf("the page of %s: %s", m.Frame.Code, diff)
					}
					if n := a.Page.Find(".reasons > li").Length(); n != len(m.Reasons)+len(m.Open) {
						t.Errorf("the page of %s has %d reasons and open questions, want %d", m.Frame.Code, n, len(m.Reasons)+len(m.Open))
					}
					over += a.Page.Find("figure.sheet.over").Length()
					notOffered(t, m, a)
					if shown.Length() != len(m.Sheets) || len(m.Sheets) == 0 {
						t.Fatalf("%s has %d load sheets for %d riders", m.Frame.Code, shown.Length(), len(m.Sheets))
					}
					shown.Each(func(i int, figure *goquery.Selection) {
						p := &paper{t, m.Frame.Code, unit, figure}
						p.gross(&m.Sheets[i])
						p.zones(&m.Sheets[i], m, s.Catalogue())
					})
					things += oneFigure(t, m.Frame.Code, a) // takes apart what it has read
				}
			}
		})
	}
	if over == 0 {
		t.Error("nothing was over its rating, so that was not tried")
	}
	if things < 1000 {
		t.Errorf("%d things with a figure only", things)
	}
}

// paper is one load sheet as it is shown.
type paper struct {
	*testing.T
	frame, unit string
	figure      *goquery.Selection
}

// tenths reads a figure with exactly one decimal.
func (p *paper) tenths(cell *goquery.Selection) int64 {
	p.Helper()
	whole, decimal, _ := strings.Cut(webtest.Words(cell), ".")
	n, err := strconv.ParseInt(whole+decimal, 10, 64)
	if err != nil || len(decimal) != 1 || cell.Length() != 1 {
		p.Fatalf("%s: %q in %d cells is no figure with one decimal", p.frame, webtest.Words(cell), cell.Length())
	}
	return n
}

// safe checks that a shown load is not under the exact one, by less than a
// tenth over it.
func (p *paper) safe(what string, tenths int64, exact measure.Mass) {
	p.Helper()
	over := new(big.Rat).Mul(big.NewRat(tenths, 1), gramsPerTenth[p.unit])
	over.Sub(over, big.NewRat(int64(exact), 1))
	if over.Sign() < 0 || over.Cmp(gramsPerTenth[p.unit]) >= 0 {
		p.Errorf("%s: %s is shown as %d tenths of a %s, and is %d g", p.frame, what, tenths, p.unit, exact)
	}
}

func (p *paper) gross(sheet *load.Sheet) {
	sum := p.figure.Find("table.sum")
	if unit := webtest.Words(sum.Find("thead th").Last()); unit != p.unit {
		p.Errorf("%s: the unit is %q, want %q", p.frame, unit, p.unit)
	}
	var rows int64
	sum.Find("tbody td").Each(func(_ int, cell *goquery.Selection) { rows += p.tenths(cell) })
	total, spare := p.tenths(sum.Find("tfoot tr.total td")), p.tenths(sum.Find("tfoot tr.spare td"))
	limit := p.tenths(sum.Find("tfoot tr:not(.total):not(.spare) td"))
	label := webtest.Words(sum.Find("tfoot tr.spare th"))
	if over := sheet.Spare() < 0; over != p.figure.HasClass("over") || over != (label == "Over the rating") || !over && label != "To spare" {
		p.Errorf("%s: over %v, shown as %q", p.frame, over, label)
	} else if over {
		spare = -spare
	}
	if rows != total || total+spare != limit {
		p.Errorf("%s: rows %d, total %d, spare %d, rating %d", p.frame, rows, total, spare, limit)
	}
	p.safe("the total", total, sheet.Total)
	p.safe("what is over", -spare, -sheet.Spare())
}

func (p *paper) zones(sheet *load.Sheet, m *match.Match, c *catalog.Catalogue) {
	frame := m.Frame
	loads := append(append([]load.ZoneLoad{}, sheet.Zones...), sheet.Combined...)
	if sheet.Axles {
		loads = append(loads, load.ZoneLoad{Zone: "front axle", Mass: sheet.Front, Rating: frame.FrontAxleRating}, load.ZoneLoad{Zone: "rear axle", Mass: sheet.Rear, Rating: frame.RearAxleRating})
	} else if got := webtest.Words(p.figure); !strings.Contains(got, "What the axles bear is not known") {
		p.Errorf("%s: nothing is said of axles that nothing is known of", p.frame)
	}
	told := map[string]bool{} // of several add-ons of a kind the fullest
	for _, l := range m.Limits {
		kind, _, _ := strings.Cut(l.Rating, ":")
		if of := l.Rating + l.Passenger; slices.Contains([]string{"place", "add_on", "stand"}, kind) && !told[of] {
			told[of] = true
			loads = append(loads, load.ZoneLoad{Zone: l.Rating, Mass: l.Mass, Rating: l.Most})
		}
	}
	for _, item := range sheet.Items {
		if item.Kind == load.Pet && item.Code != "" {
			loads = append(loads, load.ZoneLoad{Zone: "pet", Mass: item.Mass, Rating: c.AddOn(item.Code).Pet})
		}
	}
	rows := p.figure.Find("table.zones tbody tr")
	if rows.Length() != len(loads) {
		p.Fatalf("%s: %d rows for %d zones", p.frame, rows.Length(), len(loads))
	}
	rows.Each(func(i int, row *goquery.Selection) {
		cells := row.Find("td:not(.draw)")
		shown := p.tenths(cells.Eq(0))
		p.safe(loads[i].Zone, shown, loads[i].Mass)
		if loads[i].Rating == 0 {
			if got := webtest.Words(cells.Slice(1, cells.Length())); got != "the maker states none" {
				p.Errorf("%s: zone %s without a rating is %q", p.frame, loads[i].Zone, got)
			}
			return
		}
		rating, spare := p.tenths(cells.Eq(1)), p.tenths(cells.Eq(2))
		if shown+spare != rating {
			p.Errorf("%s: zone %s: %d and %d are not %d", p.frame, loads[i].Zone, shown, spare, rating)
		}
		p.safe("what is over in "+loads[i].Zone, -spare, loads[i].Mass-loads[i].Rating)
	})
}
