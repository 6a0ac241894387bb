package takehome_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web"
	"kinwain/web/say"
	"kinwain/web/webtest"
)

// typing posts the form of a page with some fields filled in.
func typing(v *webtest.Visitor, link, query string, fields map[string]string) *webtest.Answer {
	v.Helper()
	form := v.Get(link + query).One("form[data-lives]")
	values := webtest.Sent(form)
	for name, text := range fields {
		if !values.Has(name) {
			v.Fatalf("there is no field %s", name)
		}
		values.Set(name, text)
	}
	return v.Post(form.AttrOr("action", ""), values)
}

// row returns what a row of the answer says was told, and is now.
func row(a *webtest.Answer, label string) []string {
	a.Helper()
	var cells []string
	a.Page.Find("#moved .changed tbody tr").Each(func(_ int, tr *goquery.Selection) {
		if webtest.Words(tr.Find("th")) == label {
			tr.Find("td").Each(func(_ int, td *goquery.Selection) { cells = append(cells, webtest.Words(td)) })
		}
	})
	return cells
}

// TestANewWeightMovesTheSummary types new weights in several units, on the
// summary and on the page by itself, and compares with what was told.
func TestANewWeightMovesTheSummary(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	stranger := s.Stranger()
	for _, path := range []string{link, link + "/weigh"} {
		a := typing(stranger, path, "", map[string]string{"passengers[0].weight_kg": "17,5"}).Is(http.StatusOK, link+"/weigh?lang=en&units=metric")
		if got := a.Text("#moved .verdict"); got != "This set-up still holds, with care" {
			t.Errorf("%s: %s", path, got)
		}
		if got := strings.Join(row(a, "Under rider A"), " | "); got != "35.5 kg to spare | 34.5 kg to spare" {
			t.Errorf("under A: %s", got)
		}
		if got := strings.Join(row(a, "First child"), " | "); got != "17.5 kg dressed, estimated | 18.5 kg dressed" {
			t.Errorf("the child: %s", got)
		}
		if got := webtest.Words(a.Page.Find("#moved thead")); got != "Told on 25 November 2026With what you typed" {
			t.Errorf("the head: %s", got)
		}
		if got := a.One(`[name="passengers[0].weight_kg"]`).AttrOr("value", ""); got != "17,5" {
			t.Errorf("what was typed is %q", got)
		}
		a.One(".cautions")
	}
	same := typing(stranger, link, "?units=imperial&lang=nl", map[string]string{"riders[0].weight_kg": "12 st 13", "riders[0].weighed": "dressed"})
	if got := strings.Join(row(same, "Als A rijdt"), " | "); got != "78,3 lb reserve | 78,1 lb reserve" {
		t.Errorf("in pounds: %s", got)
	}
	undressed := typing(stranger, link, "", map[string]string{"riders[0].weight_kg": "82 kg", "riders[0].weighed": "undressed"})
	if got := strings.Join(row(undressed, "Under rider A"), " | "); got != "35.5 kg to spare | 31.5 kg to spare" {
		t.Errorf("undressed: %s", got)
	}
	s.Passes(40 * 24 * time.Hour)
	later := typing(stranger, link, "", map[string]string{"riders[1].weight_kg": "64"})
	if got := strings.Join(row(later, "First child"), " | "); got == "" || strings.HasSuffix(got, "| 17.5 kg dressed, estimated") {
		t.Errorf("forty days later the child is %s", got)
	}
}

// TestWhatNoLongerHolds says what is in the way, and sends to the shop.
func TestWhatNoLongerHolds(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	if err := s.Store.SetTexts(t.Context(), map[string]string{"contact_phone": "000 555 0142"}); err != nil {
		t.Fatal(err)
	}
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	for language, want := range map[string][3]string{
		"en": {"This set-up no longer holds", "Ask the shop before anybody rides like this", "over the limit of the harnessed child seat"},
		"de": {"Diese Ausstattung passt nicht mehr", "Fragen Sie im Laden, bevor jemand so fährt", "zulässige"},
	} {
		a := typing(s.Stranger(), link, "?lang="+language, map[string]string{"passengers[0].weight_kg": "30 kg", "passengers[1].weight_kg": "28 kg"})
		if got := a.Text("#moved .verdict"); got != want[0] {
			t.Errorf("%s: %s", language, got)
		}
		if got := a.Text("#moved .alert"); !strings.HasPrefix(got, want[1]) {
			t.Errorf("%s: %s", language, got)
		}
		if got := a.Text("#moved .reasons .stop"); !strings.Contains(got, want[2]) {
			t.Errorf("%s: %s", language, got)
		}
		a.One(`a[href="tel:0005550142"]`)
		a.One(".cautions")
	}
}

// TestRefusedAtTheField says at each field what is wrong with it, and works
// nothing out.
func TestRefusedAtTheField(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	for _, c := range []struct{ field, text, says string }{
		{"passengers[0].weight_kg", "heavy", "not a weight"}, {"riders[1].weight_kg", "-5", "not a weight"}, {"passengers[0].weight_kg", "0", "not a weight"},
		{"passengers[1].weight_kg", "900", "cannot be right"}, {"riders[0].weight_kg", "3 kg", "cannot be right"},
		{"passengers[0].stature_cm", "tall", "not a height"}, {"passengers[0].stature_cm", "9 m", "cannot be right"},
	} {
		a := typing(s.Stranger(), link, "", map[string]string{c.field: c.text, "riders[1].weight_kg": map[bool]string{true: c.text}[c.field == "riders[1].weight_kg"]})
		if got := a.Text(`[data-error-for="` + c.field + `"]`); !strings.Contains(got, c.says) {
			t.Errorf("%s in %s: %q", c.text, c.field, got)
		}
		if a.One(`[name="`+c.field+`"]`).AttrOr("aria-invalid", "") != "true" {
			t.Errorf("%s in %s is not marked", c.text, c.field)
		}
		a.Count("#moved table, #moved .verdict", 0)
	}
	a := typing(s.Stranger(), link, "?lang=fr", nil)
	if got := a.Text("#moved .alert"); !strings.HasPrefix(got, "Saisissez au moins") {
		t.Errorf("nothing typed: %s", got)
	}
	if a := s.Stranger().Post(link+"/weigh", nil); a.Status != http.StatusBadRequest || a.Text("h1") != "That could not be read" {
		t.Errorf("no form: %d %s", a.Status, a.Text("h1"))
	}
}

// TestNothingTypedIsKept types figures that stand nowhere else, and looks for
// them in the log of everything and in the store.
func TestNothingTypedIsKept(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(webtest.Family)), "osier-m", nil)
	var log bytes.Buffer
	app := web.New(web.Options{Store: s.Store, Now: s.Clock, Log: slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug})), PublicURL: webtest.Public})
	before, err := s.Store.Version(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, figure := range []string{"17.3137", "not 17.3137", "173137", "93.7137"} {
		r := httptest.NewRequest(http.MethodPost, link+"/weigh", strings.NewReader(url.Values{"passengers[0].weight_kg": {figure}, "riders[0].weight_kg": {"93.7137"}}.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		app.ServeHTTP(w, r)
		if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), figure) || w.Header().Get("Cache-Control") != "no-store" || len(w.Header().Values("Set-Cookie")) > 0 {
			t.Errorf("%s: %d %v", figure, w.Code, w.Header())
		}
	}
	if text := log.String(); !strings.Contains(text, "/weigh") || strings.Contains(text, "7137") || strings.Contains(text, "93.7") || strings.Contains(text, "17.3") {
		t.Errorf("logged: %s", text)
	}
	after, err := s.Store.Version(t.Context())
	if err != nil || before != after {
		t.Errorf("the store has changed from %s to %s, %v", before, after, err)
	}
}

// TestHomeSpeaks asks for what moves in every language: nothing is left in
// English.
func TestHomeSpeaks(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	ours := english(demo(s))
	for name, c := range map[string]struct {
		link   string
		fields map[string]string
	}{
		"holds": {v.SendHome(address, "osier-m", nil), map[string]string{"passengers[0].weight_kg": "17 kg"}}, "breaks": {v.SendHome(address, "osier-assist", nil), map[string]string{"passengers[0].weight_kg": "40 kg", "riders[0].weight_kg": "140 kg"}},
		"faults": {v.SendHome(address, "teasel", nil), map[string]string{"passengers[0].weight_kg": "x", "passengers[1].stature_cm": "x", "riders[0].weight_kg": "900 kg"}}, "empty": {v.SendHome(address, "teasel-short", nil), nil},
		"hidden": {v.SendHome(address, "sedge-assist", url.Values{"hide": {"yes"}}), map[string]string{"passengers[0].weight_kg": "17 kg"}},
	} {
		inEnglish := texts(typing(s.Stranger(), c.link, "?lang=en", c.fields))
		for _, l := range say.Languages[1:] {
			a := typing(s.Stranger(), c.link, "?lang="+string(l), c.fields)
			a.SoundsRight(string(l), a.Page.Find("main"))
			for text := range texts(a) {
				if inEnglish[text] && strings.Contains(text, " ") && !sameEverywhere(s, text) {
					t.Errorf("%s, %s: %q", name, l, text)
				}
				for _, words := range ours {
					if strings.Contains(strings.ToLower(text), words) {
						t.Errorf("%s, %s: %q has %q of the shop", name, l, text, words)
					}
				}
			}
		}
	}
}

// TestWhoMayNotBeTold opens what a link no longer opens, sends too much, and
// looks at what did not fit when it was told.
func TestWhoMayNotBeTold(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	link := v.SendHome(address, "osier-m", nil)
	fields := url.Values{"passengers[0].weight_kg": {"17"}}
	if a := s.Stranger().Post("/fit/never/weigh", fields); a.Status != http.StatusNotFound || a.Text("h1") != "Nothing here" {
		t.Errorf("no such link: %d %s", a.Status, a.Text("h1"))
	}
	if a := s.Stranger().Post(link+"/weigh", url.Values{"passengers[0].weight_kg": {strings.Repeat("1", 5000)}}); a.Status != http.StatusRequestEntityTooLarge || a.Text("h1") != "Far too long" {
		t.Errorf("far too long: %d %s", a.Status, a.Text("h1"))
	}
	r := v.Request(http.MethodPost, link+"/weigh", strings.NewReader(fields.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "null") // as a browser has it where a page tells no address
	if a := v.Send(r); a.Status != http.StatusOK {
		t.Errorf("from its own page: %d %s", a.Status, a.Text("h1"))
	}
	s.Passes(90 * 24 * time.Hour)
	want := asked(s.Stranger(), "/fit/never", "")
	if a := s.Stranger().Post(link+"/weigh", fields); a.Status != http.StatusNotFound || !bytes.Equal(a.Body, want.Body) {
		t.Errorf("a link that has ended: %d %s", a.Status, a.Text("h1"))
	}
}
