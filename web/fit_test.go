package web_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/store"
	"kinwain/web"
)

// sendHome makes a fit summary of a frame and returns the path of its link.
func (v *visitor) sendHome(address, frame string, values url.Values) string {
	v.Helper()
	path := address + "/frames/" + frame + "/send"
	a := v.post(path, values).is(http.StatusOK, path)
	link, found := strings.CutPrefix(a.one(".handover .address a").AttrOr("href", ""), public)
	if !found || a.text(".handover .address") != public+link {
		v.Fatalf("the link is %q", a.text(".handover .address"))
	}
	return link
}

// asked asks for a page in a language, as a browser does.
func (v *visitor) asked(path, language string) *answer {
	r := v.request(http.MethodGet, path, nil)
	r.Header.Set("Accept-Language", language)
	return v.send(r)
}

// TestFitShowsWhatStaffSaw compares the summary with the page of the frame.
func TestFitShowsWhatStaffSaw(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	for _, one := range toldByRanking(v.get(address + "/frames")) {
		link := v.sendHome(address, one.Frame, nil)
		frame, fit := v.get(address+"/frames/"+one.Frame), s.stranger().get(link).is(http.StatusOK, link)
		fit.count(".since", 0)
		if got := verdictOf(fit.one(".fit > header .verdict")); got != one.Verdict {
			t.Errorf("%s: %s, staff saw %s", one.Frame, got, one.Verdict)
		}
		for _, part := range []string{".sheet", ".seats", `[aria-labelledby="time"]`, `[aria-labelledby="home"]`, `[aria-labelledby="price"]`, ".stack tbody"} {
			if diff := cmp.Diff(frame.text(part), fit.text(part)); diff != "" {
				t.Errorf("%s, %s: %s", one.Frame, part, diff)
			}
		}
		if fit.text(".sheet") == "" || fit.text(".cautions") != frame.text(".cautions") {
			t.Errorf("%s: %s", one.Frame, fit.text("main"))
		}
		for _, r := range frame.page.Find(".reasons li").EachIter() {
			text := strings.TrimSpace(strings.TrimPrefix(words(r), words(r.Find(".tag"))))
			if !strings.Contains(fit.text(".reasons, [aria-labelledby=again]"), text) {
				t.Errorf("%s: nothing is said of: %s", one.Frame, text)
			}
		}
	}
}

// TestFitOfAChoiceByHand keeps the add-ons that were ticked.
func TestFitOfAChoiceByHand(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	query := url.Values{"chosen": {"yes"}, "on": {"stand-one-leg"}}
	next := v.get(address + "/frames/osier-m/by-hand?" + query.Encode())
	send := v.get(address+"/frames/osier-m/send?"+query.Encode()).is(http.StatusOK, address+"/frames/osier-m/send?"+query.Encode())
	if got := send.one(`.sending input[name="on"]`).AttrOr("value", ""); got != "stand-one-leg" {
		t.Errorf("kept is %q", got)
	}
	fit := s.stranger().get(v.sendHome(address, "osier-m", query))
	if got, want := fit.text(`[aria-labelledby="price"] tfoot td`), next.text("#result > .figures tfoot td"); got != want {
		t.Errorf("%s, by hand it was %s", got, want)
	}
	if verdictOf(fit.one(".fit > header .verdict")) != "does_not_fit" || fit.page.Find(".reasons .stop").Length() == 0 {
		t.Errorf("no seat fits: %s", fit.text("header"))
	}
}

// unlike drops what differs between two answers of the same kind.
func unlike(h http.Header) http.Header {
	h = h.Clone()
	h.Del("Date")
	return h
}

// TestLinksThatOpenNothing holds that nobody can tell a link that was never
// there from one that has ended.
func TestLinksThatOpenNothing(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	replaced := v.sendHome(address, "teasel", nil)
	revoked := v.sendHome(address, "teasel", nil)
	list := address + "/frames/teasel/send"
	v.post(list, url.Values{"revoke": {v.get(list).one(`button[name="revoke"]`).AttrOr("value", "")}}).is(http.StatusOK, list)
	expired := v.sendHome(address, "osier-m", nil)
	s.passes(60 * 24 * time.Hour)
	live := v.sendHome(address, "yarrow", nil)
	v.get(live).is(http.StatusOK, live)
	paths := []string{"/fit/" + strings.Repeat("a", 32), live[:len(live)-1], live + "a", "/fit/" + strings.ToUpper(live[len("/fit/"):]), "/fit/%00", "/fit/" + strings.Repeat("z", 3000), "/fit", "/fit/", live + "/", live + "/qr", live + "/qr.svg/x",
		replaced, revoked, expired, replaced + "/qr.svg", revoked + "/qr.svg", expired + "/qr.svg", "/fit/x/qr.svg"}
	for _, language := range []string{"", "fr"} {
		want := s.stranger().asked("/fit/never", language)
		if want.status != http.StatusNotFound || want.page.Find("a, form, nav").Length() > 0 || want.text("h1") == "" {
			t.Fatalf("%d: %s", want.status, want.text("body"))
		}
		for _, path := range paths {
			got := s.stranger().asked(path, language)
			if got.status != want.status || !bytes.Equal(got.body, want.body) {
				t.Errorf("%.80s: %d %s", path, got.status, got.text("body"))
			}
			if diff := cmp.Diff(unlike(want.header), unlike(got.header)); diff != "" {
				t.Errorf("%.80s: %s", path, diff)
			}
		}
	}
}

// TestFitHeaders holds that nobody is told of the page: no search engine, no
// other site, no shared computer; and that it knows no session.
func TestFitHeaders(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	link := v.sendHome(address, "teasel", nil)
	for path, status := range map[string]int{link: 200, link + "/qr.svg": 200, "/fit/x": 404, link + "?lang=nl": 200} {
		for _, who := range []*visitor{s.stranger(), v} {
			a := who.get(path).is(status, path)
			for header, want := range map[string]string{"X-Robots-Tag": "noindex, nofollow", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store", "Set-Cookie": "", "X-Content-Type-Options": "nosniff"} {
				if got := strings.Join(a.header.Values(header), "|"); got != want {
					t.Errorf("%s: %s is %q", path, header, got)
				}
			}
			if strings.HasSuffix(path, ".svg") {
				continue
			}
			if a.one(`meta[name="robots"]`).AttrOr("content", "") != "noindex, nofollow" || a.one(`meta[name="referrer"]`).AttrOr("content", "") != "no-referrer" {
				t.Errorf("%s: the page itself does not say so", path)
			}
			a.page.Find("[href]").Each(func(_ int, e *goquery.Selection) {
				if href := e.AttrOr("href", ""); !strings.HasPrefix(href, "/static/") && !strings.HasPrefix(href, "?lang=") && !strings.HasPrefix(href, "tel:") && !strings.HasPrefix(href, "mailto:") {
					t.Errorf("%s leads to %s", path, href)
				}
			})
			a.count("form, [style], script:not([src])", 0)
		}
	}
	if a := v.send(v.request(http.MethodPost, link, nil)); a.status != http.StatusMethodNotAllowed {
		t.Errorf("posting to it: %d", a.status)
	}
}

// TestRevokeAndIssueAnew goes through the life of a link at the counter.
func TestRevokeAndIssueAnew(t *testing.T) {
	s := open(t)
	v := s.staff()
	address := v.interview([]byte(family))
	send := address + "/frames/teasel/send"
	a := v.get(address + "/frames/teasel")
	if got := a.page.Find(".next a").FilterFunction(func(_ int, e *goquery.Selection) bool { return words(e) == "Send home" }).AttrOr("href", ""); got != send {
		t.Errorf("send home leads to %q", got)
	}
	a = v.get(send).is(http.StatusOK, send)
	a.count(".handover", 0)
	a.count("table", 0)
	first := v.sendHome(address, "teasel", nil)
	again := v.get(send)
	if strings.Contains(string(again.body), strings.TrimPrefix(first, "/fit/")) {
		t.Error("the link is shown again")
	}
	s.passes(time.Hour)
	second := v.sendHome(address, "teasel", nil)
	s.stranger().get(first).is(http.StatusNotFound, first)
	s.stranger().get(second).is(http.StatusOK, second)
	v.sendHome(address, "osier-m", nil)
	list := v.get(send)
	if got := list.text(".revoking tbody tr:last-child"); got != "Teasel25 November 2026, 10:3024 January 2027, 10:30Revoke" {
		t.Errorf("the list says %q", got)
	}
	list.count(".revoking tbody tr", 2)
	other := v.interview([]byte(family))
	id := list.page.Find(`.revoking tbody tr:last-child button`).AttrOr("value", "")
	v.post(other+"/frames/teasel/send", url.Values{"revoke": {id}})
	s.stranger().get(second).is(http.StatusOK, second) // not theirs to revoke
	for range 2 {
		v.post(send, url.Values{"revoke": {id}}).is(http.StatusOK, send).count(".revoking tbody tr", 1)
		s.stranger().get(second).is(http.StatusNotFound, second)
	}
	if a := v.post(send, url.Values{"revoke": {"all"}}); a.status != http.StatusBadRequest {
		t.Errorf("%d", a.status)
	}
}

// TestFitDays holds that the shop says how long a link opens.
func TestFitDays(t *testing.T) {
	s := open(t)
	v := s.staff()
	if err := s.store.SetSettings(t.Context(), map[string]int64{"fit_summary_days": 3}); err != nil {
		t.Fatal(err)
	}
	link := v.sendHome(v.interview([]byte(family)), "teasel", nil)
	if got := s.stranger().get(link).text(".foot p:first-child"); got != "Made on 25 November 2026. This link opens until 28 November 2026." {
		t.Error(got)
	}
	s.passes(3*24*time.Hour - time.Millisecond)
	s.stranger().get(link).is(http.StatusOK, link)
	s.passes(time.Millisecond)
	s.stranger().get(link).is(http.StatusNotFound, link)
}

// TestLinkIsKeptNowhere looks for the secret in a copy of the store, after the
// link was made and opened.
func TestLinkIsKeptNowhere(t *testing.T) {
	s := open(t)
	v := s.staff()
	link := v.sendHome(v.interview([]byte(family)), "teasel", nil)
	v.get(link).is(http.StatusOK, link)
	file := filepath.Join(t.TempDir(), "copy.db")
	if err := s.store.Backup(t.Context(), file); err != nil {
		t.Fatal(err)
	}
	copied, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(copied, []byte(`"fit_summary":1`)) {
		t.Error("the summary is not in the copy")
	}
	if secret := strings.TrimPrefix(link, "/fit/"); len(secret) != 32 || bytes.Contains(bytes.ToLower(copied), []byte(secret)) {
		t.Errorf("the copy holds the secret %q", secret)
	}
}

// TestWhatBreaksOnASummary opens a damaged summary and one while the clock
// stands still: the customer is told nothing of the inside, and the log
// nothing of the secret.
func TestWhatBreaksOnASummary(t *testing.T) {
	s := open(t)
	c, err := s.store.CreateConsultation(t.Context(), "", []byte(`{"values":{},"unknown":[]}`), morning)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := s.store.IssueFitSummary(t.Context(), store.FitSummary{Consultation: c.ID, Frame: "sedge", Document: []byte(`{"fit_summary":1,"profile":{}}`), Created: morning, Expires: morning.Add(time.Hour)})
	if err != nil {
		t.Fatal(err)
	}
	stopped := false
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.store, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time {
		if stopped {
			panic("the clock has stopped")
		}
		return morning
	}})
	for _, want := range []string{"profile of a fit summary", "the clock has stopped"} {
		r := httptest.NewRequest(http.MethodGet, "/fit/"+secret, nil)
		r.Header.Set("Accept-Language", "nl")
		w := httptest.NewRecorder()
		app.ServeHTTP(w, r)
		if body := w.Body.String(); w.Code != http.StatusInternalServerError || !strings.Contains(body, "Er ging bij ons iets stuk") || strings.Contains(body, "clock") || strings.Contains(body, ".go:") {
			t.Errorf("%d: %s", w.Code, body)
		}
		if logged := log.String(); !strings.Contains(logged, want) || strings.Contains(logged, secret) {
			t.Errorf("logged: %s", logged)
		}
		log.Reset()
		stopped = true
	}
}
