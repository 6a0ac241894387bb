package inventory_test

import (
	"encoding/csv"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/form"
	"kinwain/web/webtest"
)

const ownPath = "/inventory/own"

// whole looks at the page until all customers are judged.
func whole(v *webtest.Visitor) *webtest.Answer {
	v.Helper()
	for {
		a := v.Get(ownPath).Is(http.StatusOK, ownPath)
		if a.Page.Find(".working").Length() == 0 {
			return a
		}
	}
}

// counted is how many customers a frame fits, by frame, and how many any of the
// demo bikes and any frame does, worked out without the page.
func counted(s *webtest.Shop) (fits map[string]int, demos, any int) {
	s.Helper()
	c := s.Catalogue()
	demo := map[string]bool{}
	for _, u := range c.Units {
		demo[u.Frame] = demo[u.Frame] || u.Kind == "demo"
	}
	list, err := s.Store.RecentConsultations(s.Context(), 1000)
	if err != nil {
		s.Fatal(err)
	}
	fits = map[string]int{}
	settings := match.DefaultSettings()
	for _, one := range list {
		p, err := form.Saved(one.Answers, measure.DateOf(s.Clock()))
		if p == nil || err != nil {
			s.Fatalf("%s cannot be judged, %v", one.Answers, err)
		}
		ranked, err := match.Rank(s.Context(), c, p, settings, match.Options{})
		if err != nil {
			s.Fatal(err)
		}
		some, ofDemos := 0, 0
		for _, m := range ranked {
			if m.Fits() {
				fits[m.Frame.Code]++
				some = 1
				if demo[m.Frame.Code] {
					ofDemos = 1
				}
			}
		}
		demos, any = demos+ofDemos, any+some
	}
	return fits, demos, any
}

// cells are the customers of the rows of a part of the file, by the code.
func cells(rows [][]string, part string) map[string]int {
	found := map[string]int{}
	for _, row := range rows {
		if n, err := strconv.Atoi(row[5]); row[0] == part && err == nil {
			found[row[2]] = n
		}
	}
	return found
}

func (a owning) file() [][]string {
	a.Helper()
	file := a.Get(ownPath + "/counts")
	rows, err := csv.NewReader(strings.NewReader(string(file.Body))).ReadAll()
	if err != nil || file.Header.Get("Content-Type") != "text/csv; charset=utf-8" {
		a.Fatalf("%s, %v", file.Header.Get("Content-Type"), err)
	}
	return rows
}

// owning is a manager who looks at what to own.
type owning struct{ *webtest.Visitor }

// TestWhatToOwn holds the page and the file to counts of its own.
func TestWhatToOwn(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := owning{s.Staff()}
	c := *s.Catalogue()
	c.Units = slices.DeleteFunc(slices.Clone(c.Units), func(u catalog.Unit) bool { return u.Kind == "demo" && u.Frame != "sedge" && u.Frame != "teasel" })
	if err := s.Store.ReplaceCatalogue(t.Context(), &c); err != nil {
		t.Fatal(err)
	}
	const talks = 40
	ids := s.Talks(talks)
	working := v.Get(ownPath).Is(http.StatusOK, ownPath) // so many are not waited for
	if again := working.Header.Get("Refresh"); again != "4; url=/inventory/own?look=1#working" || working.Page.Find(".working progress").Length() != 1 {
		t.Errorf("it looks again %q", again)
	}
	still := working.One(".working a:not(.primary)").AttrOr("href", "")
	if a := v.Get(still).Is(http.StatusOK, still); a.Header.Get("Refresh") != "" {
		t.Errorf("%s looks again", still)
	}
	for _, left := range []int{talks, talks - 1} {
		fits, demos, any := counted(s)
		page, rows := whole(v.Visitor), v.file()
		if said := webtest.Words(page.One(".own-said")); !strings.Contains(said, fmt.Sprintf(" %d of %d customers had one that fits", demos, left)) {
			t.Errorf("%d of %d: %q", demos, left, said)
		}
		if got := cells(rows, "consultations")[""]; got != left {
			t.Errorf("%d consultations, want %d", got, left)
		}
		if got := cells(rows, "served_by_any")[""]; got != any || demos >= any || any >= left {
			t.Errorf("any frame fits %d, want %d: more than %d and less than %d", got, any, demos, left)
		}
		for code, lost := range cells(rows, "lost_without") {
			if lost < 0 || lost > fits[code] {
				t.Errorf("without %s %d of %d are lost", code, lost, fits[code])
			}
		}
		more := cells(rows, "one_more")
		for code, added := range more {
			if added <= 0 || added > fits[code] {
				t.Errorf("%s fits %d and adds %d", code, fits[code], added)
			}
		}
		best, most := cells(rows, "best"), 0
		for _, n := range fits {
			most = max(most, n)
		}
		one := 0
		for codes, n := range best {
			if !strings.Contains(codes, " ") {
				one = n
			}
		}
		if one != most || len(more) == 0 || len(best) < 3 || len(cells(rows, "keep")) < 2 {
			t.Errorf("the best frame fits %d, want %d; %d would add, %d plans", one, most, len(more), len(best))
		}
		if err := s.Store.EraseConsultation(t.Context(), ids[7], s.Clock()); left == talks && err != nil {
			t.Fatal(err)
		}
	}
	c.Units = slices.DeleteFunc(slices.Clone(c.Units), func(u catalog.Unit) bool { return u.Kind == "demo" })
	if err := s.Store.ReplaceCatalogue(t.Context(), &c); err != nil {
		t.Fatal(err)
	}
	if said := webtest.Words(whole(v.Visitor).One(".own-said")); !strings.Contains(said, "no demo bike") || strings.Contains(said, "To sell") {
		t.Errorf("without any demo: %q", said)
	}
}

// TestOwnTellsOfNobody looks for whatever tells one customer from another, and
// for anything at all where there are too few.
func TestOwnTellsOfNobody(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := owning{s.Staff()}
	s.Talks(4)
	few := whole(v.Visitor)
	if said := webtest.Words(few.One(".empty")); !strings.Contains(said, "fewer than 5 consultations") || few.Page.Find(".own-table, .drawing, .own-said").Length() > 0 {
		t.Errorf("four customers: %q", said)
	}
	v.Get(ownPath+"/counts").Is(http.StatusOK, ownPath) // there is nothing in it yet
	ids := s.Talks(20)
	if _, err := s.Store.CreateConsultation(t.Context(), "", "Customer Quillon too", []byte(`{"values":{},"unknown":[]}`), s.Clock()); err != nil {
		t.Fatal(err)
	}
	page := whole(v.Visitor)
	said := page.Page.Find("main").Text() + fmt.Sprint(v.file())
	for _, secret := range slices.Concat(ids, []string{"Quillon", "talk0", "November"}) {
		if strings.Contains(said, secret) {
			t.Errorf("tells %q", secret)
		}
	}
	if date := regexp.MustCompile(`20[0-9]{2}-[0-9]{2}`).FindString(said); date != "" {
		t.Errorf("tells %q", date)
	}
	if notes := webtest.Words(page.Page.Find("main > .hint")); !strings.Contains(notes, "1 consultation has too few answers") || !strings.Contains(notes, "90 days is erased") {
		t.Errorf("notes: %s", notes)
	}
	s.Passes(180*24*time.Hour + time.Minute) // too long ago
	if said := webtest.Words(whole(v.Visitor).One(".empty")); !strings.Contains(said, "too few") {
		t.Errorf("half a year later: %q", said)
	}
}
