package desk_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/store"
	"kinwain/web/webtest"
)

// TestConsultationIsErasedAtOnce takes a customer home with everything, keeps
// all that is known of them, and erases it. The quote that was accepted stays.
func TestConsultationIsErasedAtOnce(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	path := address + "/frames/osier-m"
	link := v.SendHome(address, "osier-m", url.Values{})
	quote, accepted := v.Quoted(path), v.Quoted(path)
	ride := v.Booked(path, "D-014", "2026-11-26", "10:00")
	a := v.Post(accepted.Path+"/accepted", url.Values{"accepted": {"yes"}}).Is(http.StatusOK, accepted.Path)
	if got := a.Text("#accepted p"); got != "Accepted on 25 November 2026" {
		t.Errorf("the quote says %q", got)
	}

	profile := v.Get(address).Is(http.StatusOK, address)
	erase := address + "/erase"
	if link := profile.One(`.questions .hint a[href="` + erase + `"]`); !strings.Contains(webtest.Words(link.Parent()), "is erased 90 days after it was last used") {
		t.Errorf("the profile says %q", webtest.Words(link.Parent()))
	}
	page := v.Get(erase).Is(http.StatusOK, erase)
	goes := page.Page.Find("main li").Map(func(_ int, li *goquery.Selection) string { return webtest.Words(li) })
	if want := []string{"every answer of the profile", "1 fit summary, whose link ends", "1 quote, and the bike held for it", "1 test ride"}; !slices.Equal(goes, want) {
		t.Errorf("it says that this goes: %q", goes)
	}
	if !strings.Contains(page.Text("main"), "1 accepted quote stays, as a paper of a sale.") {
		t.Errorf("and nothing of what stays: %s", page.Text("main"))
	}

	document := v.Get(page.One("main form a[download]").AttrOr("href", ""))
	var all map[string]any
	if err := json.Unmarshal(document.Body, &all); err != nil || document.Status != http.StatusOK || len(all["quotes"].([]any)) != 2 || len(all["rides"].([]any)) != 1 {
		t.Errorf("%d, %v: %.300s", document.Status, err, document.Body)
	}
	if !strings.HasPrefix(document.Header.Get("Content-Disposition"), "attachment; filename=\"consultation-") {
		t.Errorf("it is sent as %q", document.Header.Get("Content-Disposition"))
	}

	done := v.Post(erase, url.Values{}).Is(http.StatusOK, "/")
	if done.Text(".done") != "The consultation is erased." || done.Page.Find(".resume li").Length() != 0 {
		t.Errorf("then the start says %q", done.Text("main"))
	}
	for path, want := range map[string]int{address: 404, address + "/frames": 404, erase: 404, address + "/export.json": 404, quote.Path: 404, ride.Path: 404, accepted.Path: 200} {
		if a := v.Get(path); a.Status != want {
			t.Errorf("%s is %d", path, a.Status)
		}
	}
	if a := s.Stranger().Get(link); a.Status != http.StatusNotFound && a.Status != http.StatusGone {
		t.Errorf("the customer's link is %d", a.Status)
	}
	if a := v.Post(address, url.Values{"customer": {"X"}}); a.Status != http.StatusNotFound {
		t.Errorf("a tablet that still shows it is answered with %d", a.Status)
	}
}

// TestErasingWaitsForABikeThatIsOut does not lose a bike with its rider.
func TestErasingWaitsForABikeThatIsOut(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	ride := v.Booked(address+"/frames/osier-m", "D-014", "2026-11-25", "10:00")
	id := strings.TrimPrefix(ride.Path, "/rides/")
	if err := s.Store.SaveRide(t.Context(), id, store.RideNotes{}, store.RideOut, s.Clock()); err != nil {
		t.Fatal(err)
	}
	a := v.Post(address+"/erase", url.Values{}).Is(http.StatusConflict, address+"/erase")
	if !strings.Contains(a.Text(".alert"), "A bike is out with this customer") {
		t.Errorf("it says %q", a.Text(".alert"))
	}
	v.Get(address).Is(http.StatusOK, address)
}

// TestStartSaysWhenABackupWasProven is red where that is too long ago, and
// shown to managers alone.
func TestStartSaysWhenABackupWasProven(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	if got := v.Get("/").Text("main > .alert"); !strings.HasPrefix(got, "No backup of this shop was ever made") {
		t.Errorf("before the first: %q", got)
	}
	if err := s.Store.NoteProvenBackup(t.Context(), store.ProvenBackup{At: s.Clock(), File: "/backups/today.db"}); err != nil {
		t.Fatal(err)
	}
	s.Passes(48 * time.Hour)
	s.Hire("Ansa", "manager")
	s.Hire("Bruni", "salesperson")
	manager := s.As("Ansa").Get("/")
	manager.Count("main > .alert", 0)
	if got := manager.Text("main"); !strings.Contains(got, "Backup found whole on 25 November 2026, 09:30: /backups/today.db") {
		t.Errorf("after two days: %q", got)
	}
	s.Passes(time.Second)
	if got := s.As("Ansa").Get("/").Text("main > .alert"); got != "The last backup that was found whole is of 25 November 2026, 09:30. The log says why there is no newer one." {
		t.Errorf("after more: %q", got)
	}
	if got := s.As("Bruni").Get("/").Text("main"); strings.Contains(got, "ackup") {
		t.Errorf("a salesperson reads %q", got)
	}
}
