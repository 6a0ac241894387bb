package floor_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// TestScanOpensTheBikeForTheCustomer scans a bike with nobody in front, with a
// customer open, and long after.
func TestScanOpensTheBikeForTheCustomer(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Belto", staff.Salesperson)
	v := s.As("Belto")
	alone := v.Get("/units?tag="+url.QueryEscape(webtest.Public+"/units/S-106")).Is(http.StatusOK, "/units/S-106")
	if text := alone.Text("main"); !strings.Contains(text, "S-106, Osier L") || !strings.Contains(text, "€2,140.00 for this very bike") || !strings.Contains(text, "OL26-0260") {
		t.Errorf("by itself: %s", text)
	}
	alone.Count(`a[href^="/inventory"]`, 0)
	address := v.Interview([]byte(webtest.Plain))
	want := address + "/frames/osier-l?unit=S-106"
	for _, typed := range []string{"S-106", "s106", webtest.Public + "/units/S-106"} {
		a := v.Get("/units?tag="+url.QueryEscape(typed)).Is(http.StatusOK, want)
		if text := a.Text(".one-bike"); !strings.Contains(text, "S-106: In the shop") || !strings.Contains(text, "costs €2,140.00, with what is proposed €2,") {
			t.Errorf("%s: %s", typed, text)
		}
		if got := a.One(`.one-bike a[href*="/quote"]`).AttrOr("href", ""); got != address+"/frames/osier-l/quote?unit=S-106" {
			t.Errorf("the quote is at %s", got)
		}
	}
	v.Get("/units/D-014").Is(http.StatusOK, address+"/frames/osier-m?unit=D-014")
	// Another tablet has nobody in front.
	s.As("Belto").Get("/units/D-014").Is(http.StatusOK, "/units/D-014")
	v.Get("/units/D-014?alone=yes").Is(http.StatusOK, "/units/D-014?alone=yes")
	v.Get("/units/D-014").Is(http.StatusOK, "/units/D-014")
	v.Get(address + "/frames") // a page that is sent again counts as well
	v.Get("/units/D-014?alone=yes")
	v.Get(address + "/frames")
	v.Get("/units/D-014").Is(http.StatusOK, address+"/frames/osier-m?unit=D-014")
	s.Passes(2*time.Hour + time.Minute)
	v.Get("/units/D-014").Is(http.StatusOK, "/units/D-014")
}

// TestScanBeforeAnyAnswer has a customer open of whom nothing can be judged.
func TestScanBeforeAnyAnswer(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, _ := v.Consultation()
	a := v.Get("/units/D-014").Is(http.StatusOK, "/units/D-014")
	if got := a.One(".front a:not(.button)").AttrOr("href", ""); got != address+"/frames" {
		t.Errorf("the customer in front is at %s", got)
	}
	erased := v.Post(address+"/erase", url.Values{})
	if erased.Status != http.StatusOK {
		t.Fatalf("%d at %s", erased.Status, erased.Path)
	}
	v.Get("/units").Count(".front", 0)
}

// TestLabels reads the codes of a sheet of labels by another hand.
func TestLabels(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	v.Get("/labels").Count(`input[value="S-104"]`, 0) // it is sold
	a := v.Get("/labels?tag=D-014&tag=S-106&lang=nl")
	want := []string{"D-014", "S-106"}
	a.Count(".labels li", len(want))
	a.Page.Find(".labels li").Each(func(i int, li *goquery.Selection) {
		if tag := webtest.Words(li.Find("strong")); tag != want[i] || !strings.Contains(webtest.Words(li), "Osier") || !strings.Contains(webtest.Words(li), "Toegestaan totaalgewicht 2") {
			t.Errorf("label %d says %s", i, webtest.Words(li))
		}
		svg, err := goquery.OuterHtml(li.Find("svg"))
		if err != nil {
			t.Fatal(err)
		}
		svg = strings.ReplaceAll(svg, "viewbox=", "viewBox=") // as HTML has it
		if got := webtest.ReadCode(t, []byte(svg)); got != webtest.Public+"/units/"+want[i] {
			t.Errorf("the code of label %d leads to %s", i, got)
		}
	})
}
