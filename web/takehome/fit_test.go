package takehome_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/store"
	"kinwain/web"
	"kinwain/web/webtest"
)

// asked asks for a page in a language, as a browser does.
func asked(v *webtest.Visitor, path, language string) *webtest.Answer {
	r := v.Request(http.MethodGet, path, nil)
	r.Header.Set("Accept-Language", language)
	return v.Send(r)
}

// TestFitShowsWhatStaffSaw compares the summary with the page of the frame.
func TestFitShowsWhatStaffSaw(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	stages := 0
	for _, document := range [][]byte{[]byte(webtest.Family), webtest.Customers(t)["baby-on-the-way"]} {
		address := v.Interview(document)
		for _, one := range webtest.ToldByRanking(v.Get(address + "/frames")) {
			if one.Verdict != "does_not_fit" {
				stages += showsWhatStaffSaw(s, v, address, one)
			}
		}
	}
	if stages < 6 {
		t.Errorf("only %d stages", stages)
	}
}

// showsWhatStaffSaw holds the summary of a frame against its page, and returns
// how many stages there are.
func showsWhatStaffSaw(s *webtest.Shop, v *webtest.Visitor, address string, one webtest.Told) int {
	t := s.T
	link := v.SendHome(address, one.Frame, nil)
	frame, fit := v.Get(address+"/frames/"+one.Frame), s.Stranger().Get(link).Is(http.StatusOK, link)
	fit.Count(".since", 0)
	if got := webtest.VerdictOf(fit.One(".fit > header .verdict")); got != one.Verdict {
		t.Errorf("%s: %s, staff saw %s", one.Frame, got, one.Verdict)
	}
	for _, part := range []string{".sheet figcaption", ".sheet table", ".seats > li > :is(strong, strong + span)", ".seats .hint ~ .hint", `[aria-labelledby="time"] p`, `[aria-labelledby="home"] :is(p, table)`, `[aria-labelledby="price"] :is(p, table)`, ".stack tbody",
		".stages", `[aria-labelledby="plan"] :is(table, .hint)`, ".figured.years figcaption", ".ahead"} {
		if diff := cmp.Diff(frame.Text(part), fit.Text(part)); diff != "" {
			t.Errorf("%s, %s: %s", one.Frame, part, diff)
		}
	}
	// Where each limit comes from folds away on the page of the frame.
	if want, got := amounts(frame.Text(".seats strong + span + .hint")), amounts(fit.Text(".seats strong + span + .hint")); want != got || want == "" {
		t.Errorf("%s: the places are for %s, staff saw %s", one.Frame, got, want)
	}
	if fit.Text(".sheet") == "" || fit.Text(".cautions") != frame.Text(".cautions") {
		t.Errorf("%s: %s", one.Frame, fit.Text("main"))
	}
	for _, r := range frame.Page.Find(".reasons li").EachIter() {
		text := strings.TrimSpace(strings.TrimPrefix(webtest.Words(r), webtest.Words(r.Find(".tag"))))
		if !strings.Contains(fit.Text(".reasons, [aria-labelledby=again]"), text) {
			t.Errorf("%s: nothing is said of: %s", one.Frame, text)
		}
	}
	return fit.Page.Find(".stages > li:not(.end)").Length()
}

// amounts returns the figures of a text with what they are of, without what
// stands in brackets.
func amounts(text string) string {
	return strings.Join(amount.FindAllString(bracketed.ReplaceAllString(text, ""), -1), " ")
}

var (
	bracketed = regexp.MustCompile(`\s*\([^)]*\)`)
	amount    = regexp.MustCompile(`[0-9.]+(\s\p{L}+)?`)
)

// TestFitOfAChoiceByHand keeps the add-ons that were ticked.
func TestFitOfAChoiceByHand(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Plain))
	query := url.Values{"chosen": {"yes"}, "on": {"stand-one-leg"}}
	next := v.Get(address + "/frames/osier-m/by-hand?" + query.Encode())
	send := v.Get(address+"/frames/osier-m/send?"+query.Encode()).Is(http.StatusOK, address+"/frames/osier-m/send?"+query.Encode())
	if got := send.One(`.sending input[name="on"]`).AttrOr("value", ""); got != "stand-one-leg" {
		t.Errorf("kept is %q", got)
	}
	fit := s.Stranger().Get(v.SendHome(address, "osier-m", query))
	if got, want := fit.Text(`[aria-labelledby="price"] tfoot td`), next.Text("#result > .figures tfoot td"); got != want {
		t.Errorf("%s, by hand it was %s", got, want)
	}
	query.Set("on", "no such thing")
	v.Get(address+"/frames/osier-m/send?"+query.Encode()).Count(`.sending input[name="on"]`, 0)
}

// TestWhatDoesNotFitIsNotSent holds that nothing is sent home of a frame or of
// a set of add-ons that does not fit, also where its address is typed, and that
// links that were sent before can be revoked there all the same.
func TestWhatDoesNotFitIsNotSent(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	v.SendHome(address, "teasel", nil)
	for path, query := range map[string]url.Values{"/frames/yarrow/send": {}, "/frames/osier-m/send": {"chosen": {"yes"}, "on": {"stand-one-leg"}}} {
		a := v.Get(address + path + "?" + query.Encode())
		a.Count(".sending", 0)
		a.Count(`button[name="revoke"]`, 1)
		if a.Text(".alert") != "Only what fits is ridden, quoted or sent home." || len(a.Text(".line")) < 20 {
			t.Errorf("%s says %q, %q", path, a.Text(".line"), a.Text(".alert"))
		}
		refused := v.Post(address+path, query).Is(http.StatusUnprocessableEntity, address+path)
		refused.Count(".handover", 0)
		if text := refused.Text("main"); !strings.Contains(text, "does not fit") || !strings.Contains(text, "Only what fits") {
			t.Errorf("%s is refused with %q", path, text)
		}
	}
}

// unlike drops what differs between two answers of the same kind.
func unlike(h http.Header) http.Header {
	h = h.Clone()
	h.Del("Date")
	h.Del("X-Request-Id")
	return h
}

// TestLinksThatOpenNothing holds that nobody can tell a link that was never
// there from one that has ended.
func TestLinksThatOpenNothing(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	replaced := v.SendHome(address, "teasel", nil)
	revoked := v.SendHome(address, "teasel", nil)
	list := address + "/frames/teasel/send"
	v.Post(list, url.Values{"revoke": {v.Get(list).One(`button[name="revoke"]`).AttrOr("value", "")}}).Is(http.StatusOK, list)
	expired := v.SendHome(address, "osier-m", nil)
	s.Passes(60 * 24 * time.Hour)
	live := v.SendHome(address, "osier-assist", nil)
	v.Get(live).Is(http.StatusOK, live)
	paths := []string{"/fit/" + strings.Repeat("a", 32), live[:len(live)-1], live + "a", "/fit/" + strings.ToUpper(live[len("/fit/"):]), "/fit/%00", "/fit/" + strings.Repeat("z", 3000), "/fit", "/fit/", live + "/", live + "/qr", live + "/qr.svg/x",
		replaced, revoked, expired, replaced + "/qr.svg", revoked + "/qr.svg", expired + "/qr.svg", "/fit/x/qr.svg", replaced + "/weigh", revoked + "/weigh", expired + "/weigh"}
	for _, language := range []string{"", "fr"} {
		want := asked(s.Stranger(), "/fit/never", language)
		if want.Status != http.StatusNotFound || want.Page.Find("a, form, nav").Length() > 0 || want.Text("h1") == "" {
			t.Fatalf("%d: %s", want.Status, want.Text("body"))
		}
		for _, path := range paths {
			got := asked(s.Stranger(), path, language)
			if got.Status != want.Status || !bytes.Equal(got.Body, want.Body) {
				t.Errorf("%.80s: %d %s", path, got.Status, got.Text("body"))
			}
			if diff := cmp.Diff(unlike(want.Header), unlike(got.Header)); diff != "" {
				t.Errorf("%.80s: %s", path, diff)
			}
		}
	}
}

// TestFitHeaders holds that nobody is told of the page: no search engine, no
// other site, no shared computer; and that it knows no session.
func TestFitHeaders(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	link := v.SendHome(address, "teasel", nil)
	for path, status := range map[string]int{link: 200, link + "/qr.svg": 200, link + "/measure": 200, link + "/weigh": 200, "/fit/x": 404, "/fit/x/weigh": 404, "/fit/x/measure": 404, link + "?lang=nl": 200} {
		for _, who := range []*webtest.Visitor{s.Stranger(), v} {
			a := who.Get(path).Is(status, path)
			for header, want := range map[string]string{"X-Robots-Tag": "noindex, nofollow", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store", "Set-Cookie": "", "X-Content-Type-Options": "nosniff"} {
				if got := strings.Join(a.Header.Values(header), "|"); got != want {
					t.Errorf("%s: %s is %q", path, header, got)
				}
			}
			if strings.HasSuffix(path, ".svg") {
				continue
			}
			if a.One(`meta[name="robots"]`).AttrOr("content", "") != "noindex, nofollow" || a.One(`meta[name="referrer"]`).AttrOr("content", "") != "no-referrer" {
				t.Errorf("%s: the page itself does not say so", path)
			}
			a.Page.Find("a[href^='https://meadow-works.example/manuals/']").Each(func(_ int, e *goquery.Selection) {
				if rel := e.AttrOr("rel", ""); rel != "external noopener noreferrer" {
					t.Errorf("%s: the way to the maker is %q", path, rel)
				}
			})
			a.Page.Find("[href]").Not("[rel='external noopener noreferrer']").Each(func(_ int, e *goquery.Selection) {
				if href := e.AttrOr("href", ""); !strings.HasPrefix(href, "/static/") && !strings.HasPrefix(href, "?lang=") && !strings.HasPrefix(href, link) && !strings.HasPrefix(href, "tel:") && !strings.HasPrefix(href, "mailto:") {
					t.Errorf("%s leads to %s", path, href)
				}
			})
			a.Count("[style], script:not([src])", 0)
			a.Page.Find("form").Each(func(_ int, form *goquery.Selection) {
				if action := form.AttrOr("action", ""); form.AttrOr("method", "") != "post" || !strings.HasPrefix(action, link+"/weigh?") {
					t.Errorf("%s sends something to %s", path, action)
				}
			})
		}
	}
	if a := v.Send(v.Request(http.MethodPost, link, nil)); a.Status != http.StatusMethodNotAllowed {
		t.Errorf("posting to it: %d", a.Status)
	}
}

// TestRevokeAndIssueAnew goes through the life of a link at the counter.
func TestRevokeAndIssueAnew(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	send := address + "/frames/teasel/send"
	a := v.Get(address + "/frames/teasel")
	if got := a.Page.Find(".next a").FilterFunction(func(_ int, e *goquery.Selection) bool { return webtest.Words(e) == "Send home" }).AttrOr("href", ""); got != send {
		t.Errorf("send home leads to %q", got)
	}
	a = v.Get(send).Is(http.StatusOK, send)
	a.Count(".handover", 0)
	a.Count("table", 0)
	first := v.SendHome(address, "teasel", nil)
	again := v.Get(send)
	if strings.Contains(string(again.Body), strings.TrimPrefix(first, "/fit/")) {
		t.Error("the link is shown again")
	}
	s.Passes(time.Hour)
	second := v.SendHome(address, "teasel", nil)
	s.Stranger().Get(first).Is(http.StatusNotFound, first)
	s.Stranger().Get(second).Is(http.StatusOK, second)
	v.SendHome(address, "osier-m", nil)
	list := v.Get(send)
	if got := list.Text(".revoking tbody tr:last-child"); got != "Teasel25 November 2026, 10:3024 January 2027, 10:30Not opened yetRevoke" {
		t.Errorf("the list says %q", got)
	}
	list.Count(".revoking tbody tr", 2)
	other := v.Interview([]byte(webtest.Family))
	id := list.Page.Find(`.revoking tbody tr:last-child button`).AttrOr("value", "")
	v.Post(other+"/frames/teasel/send", url.Values{"revoke": {id}})
	s.Stranger().Get(second).Is(http.StatusOK, second) // not theirs to revoke
	for range 2 {
		v.Post(send, url.Values{"revoke": {id}}).Is(http.StatusOK, send).Count(".revoking tbody tr", 1)
		s.Stranger().Get(second).Is(http.StatusNotFound, second)
	}
	if a := v.Post(send, url.Values{"revoke": {"all"}}); a.Status != http.StatusBadRequest {
		t.Errorf("%d", a.Status)
	}
}

// TestFitDays holds that the shop says how long a link opens.
func TestFitDays(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	if err := s.Store.SetSettings(t.Context(), map[string]int64{"fit_summary_days": 3}); err != nil {
		t.Fatal(err)
	}
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "teasel", nil)
	if got := s.Stranger().Get(link).Text(".foot p:first-child"); got != "Made on 25 November 2026. This link opens until 28 November 2026." {
		t.Error(got)
	}
	s.Passes(3*24*time.Hour - time.Millisecond)
	s.Stranger().Get(link).Is(http.StatusOK, link)
	s.Passes(time.Millisecond)
	s.Stranger().Get(link).Is(http.StatusNotFound, link)
}

// TestLinkIsKeptNowhere looks for the secret in a copy of the store, after the
// link was made and opened.
func TestLinkIsKeptNowhere(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "teasel", nil)
	v.Get(link).Is(http.StatusOK, link)
	file := filepath.Join(t.TempDir(), "copy.db")
	if _, err := s.Store.Backup(t.Context(), file); err != nil {
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
	t.Parallel()
	s := webtest.Open(t)
	c, err := s.Store.CreateConsultation(t.Context(), "", "", []byte(`{"values":{},"unknown":[]}`), webtest.Morning)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := s.Store.IssueFitSummary(t.Context(), store.FitSummary{Consultation: c.ID, Frame: "sedge", Document: []byte(`{"fit_summary":1,"profile":{}}`), Created: webtest.Morning, Expires: webtest.Morning.Add(time.Hour)})
	if err != nil {
		t.Fatal(err)
	}
	stopped := false
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.Store, Log: slog.New(slog.NewTextHandler(&log, nil)), Now: func() time.Time {
		if stopped {
			panic("the clock has stopped")
		}
		return webtest.Morning
	}})
	for _, want := range []string{"profile of a fit summary", "the clock has stopped"} {
		r := httptest.NewRequest(http.MethodGet, "/fit/"+secret, nil)
		r.Header.Set("Accept-Language", "nl")
		w := httptest.NewRecorder()
		app.ServeHTTP(w, r)
		if body := w.Body.String(); w.Code != http.StatusInternalServerError || !strings.Contains(body, "Er ging bij ons iets mis") || strings.Contains(body, "clock") || strings.Contains(body, ".go:") {
			t.Errorf("%d: %s", w.Code, body)
		}
		if logged := log.String(); !strings.Contains(logged, want) || strings.Contains(logged, secret) {
			t.Errorf("logged: %s", logged)
		}
		log.Reset()
		stopped = true
	}
}
