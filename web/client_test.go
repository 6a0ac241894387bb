package web_test

import (
	"bytes"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/testdata"
	"kinwain/web"
)

// morning is when the tests take place, unless they set the clock on.
var morning = time.Date(2026, 11, 25, 9, 30, 0, 0, time.FixedZone("shop", 3600))

// shop is the app of the demo shop, on a store and a clock of its own. What it
// logs as an error fails the test.
type shop struct {
	*testing.T
	app    http.Handler
	server *httptest.Server
	store  *store.Store
	mutex  sync.Mutex
	now    time.Time
}

// public is where customers reach the shop.
const public = "https://bikes.example"

const token = "A0123456789ABCDEFGHIJKLMNO"

func open(t *testing.T) *shop { return openWith(t, func(h http.Handler) http.Handler { return h }) }

// openWith opens a shop that is reached through another handler.
func openWith(t *testing.T, around func(http.Handler) http.Handler) *shop {
	t.Helper()
	s := &shop{T: t, now: morning}
	var err error
	if s.store, err = store.Open(t.Context(), t.TempDir()); err != nil {
		t.Fatal(err)
	}
	demo, err := catalog.Parse(testdata.Demo)
	if err == nil {
		err = s.store.ReplaceCatalogue(t.Context(), demo)
	}
	if err == nil {
		err = s.store.ReplaceSignInLink(t.Context(), token, morning.Add(24*time.Hour))
	}
	if err != nil {
		t.Fatal(err)
	}
	log := slog.New(slog.NewTextHandler(complaints{t}, &slog.HandlerOptions{Level: slog.LevelError}))
	s.app = web.New(web.Options{Store: s.store, Now: s.clock, Log: log, PublicURL: public})
	s.server = httptest.NewServer(around(s.app))
	t.Cleanup(func() {
		s.server.Close()
		if err := s.store.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func (s *shop) clock() time.Time {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.now
}

func (s *shop) passes(d time.Duration) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.now = s.now.Add(d)
}

// complaints fails a test with what is written to it.
type complaints struct{ *testing.T }

func (c complaints) Write(line []byte) (int, error) {
	c.Errorf("logged: %s", line)
	return len(line), nil
}

// visitor is a browser without a screen: it keeps cookies and follows
// redirects.
type visitor struct {
	*shop
	client http.Client
}

func (s *shop) stranger() *visitor {
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.Fatal(err)
	}
	return &visitor{s, http.Client{Jar: jar}}
}

// staff returns a visitor who has opened the sign-in link.
func (s *shop) staff() *visitor {
	v := s.stranger()
	v.get("/sign-in/"+token).is(http.StatusOK, "/")
	return v
}

// answer is what came back for a request.
type answer struct {
	*testing.T
	status int
	header http.Header
	path   string // after all redirects
	body   []byte
	page   *goquery.Document
}

func (v *visitor) get(path string) *answer { return v.send(v.request(http.MethodGet, path, nil)) }

func (v *visitor) post(path string, values url.Values) *answer {
	r := v.request(http.MethodPost, path, strings.NewReader(values.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return v.send(r)
}

func (v *visitor) request(method, path string, body io.Reader) *http.Request {
	r, err := http.NewRequestWithContext(v.Context(), method, v.server.URL+path, body)
	if err != nil {
		v.Fatal(err)
	}
	return r
}

func (v *visitor) send(r *http.Request) *answer {
	v.Helper()
	response, err := v.client.Do(r)
	if err != nil {
		v.Fatal(err)
	}
	body, err := io.ReadAll(response.Body)
	if err == nil {
		err = response.Body.Close()
	}
	if err != nil {
		v.Fatal(err)
	}
	a := &answer{T: v.T, status: response.StatusCode, header: response.Header, path: response.Request.URL.RequestURI(), body: body}
	if a.page, err = goquery.NewDocumentFromReader(bytes.NewReader(body)); err != nil {
		v.Fatal(err)
	}
	return a
}

// is checks the status and where the answer was found in the end.
func (a *answer) is(status int, path string) *answer {
	a.Helper()
	if a.status != status || a.path != path {
		a.Fatalf("%d at %s, want %d at %s: %.300s", a.status, a.path, status, path, a.text("main"))
	}
	return a
}

// text returns the words of what a selector finds, with single spaces.
func (a *answer) text(selector string) string { return words(a.page.Find(selector)) }

func words(s *goquery.Selection) string { return strings.Join(strings.Fields(s.Text()), " ") }

// one returns what a selector finds, which has to be exactly one.
func (a *answer) one(selector string) *goquery.Selection {
	a.Helper()
	found := a.page.Find(selector)
	if found.Length() != 1 {
		a.Fatalf("%d of %s at %s", found.Length(), selector, a.path)
	}
	return found
}

// count checks how many a selector finds.
func (a *answer) count(selector string, want int) {
	a.Helper()
	if got := a.page.Find(selector).Length(); got != want {
		a.Errorf("%d of %s at %s, want %d", got, selector, a.path, want)
	}
}

// byID is the selector of the element with an id.
func byID(id string) string { return fmt.Sprintf(`[id="%s"]`, id) }

// consultation begins a consultation and returns its address and its form.
func (v *visitor) consultation() (address string, f *filled) {
	v.Helper()
	a := v.post("/consultations", nil)
	if a.status != http.StatusOK {
		v.Fatalf("no consultation: %d", a.status)
	}
	return a.path, a.form()
}

// filled is the profile form of a page, as a browser would send it.
type filled struct {
	*testing.T
	page   *goquery.Document
	values url.Values
}

// form reads what the fields of the profile form hold.
func (a *answer) form() *filled {
	a.Helper()
	form := a.one("form[data-live]")
	f := &filled{T: a.T, page: a.page, values: url.Values{}}
	form.Find("input, select").Each(func(_ int, field *goquery.Selection) {
		name := field.AttrOr("name", "")
		switch field.AttrOr("type", goquery.NodeName(field)) {
		case "checkbox":
			if _, checked := field.Attr("checked"); checked {
				f.values.Add(name, field.AttrOr("value", "on"))
			}
		case "select":
			chosen := field.Find("option[selected]")
			if chosen.Length() == 0 {
				chosen = field.Find("option").First()
			}
			f.values.Add(name, chosen.AttrOr("value", ""))
		default:
			f.values.Add(name, field.AttrOr("value", ""))
		}
	})
	return f
}

// set types into a field, or chooses, that the page has to have.
func (f *filled) set(name, value string) {
	f.Helper()
	field := f.page.Find(fmt.Sprintf(`[name="%s"]:not([name="unknown"])`, name))
	if field.Length() != 1 {
		f.Fatalf("%d fields %s", field.Length(), name)
	}
	if goquery.NodeName(field) == "select" && field.Find(fmt.Sprintf(`option[value="%s"]`, value)).Length() != 1 {
		f.Fatalf("%s does not offer %q", name, value)
	}
	if field.AttrOr("type", "") == "checkbox" && field.AttrOr("value", "") != value {
		f.Fatalf("%s cannot be %q", name, value)
	}
	f.values.Set(name, value)
}

// dontKnow ticks "don't know yet" for a question.
func (f *filled) dontKnow(name string) {
	f.Helper()
	if n := f.page.Find(fmt.Sprintf(`input[name="unknown"][value="%s"]`, name)).Length(); n != 1 {
		f.Fatalf("%d boxes to say that %s is not known", n, name)
	}
	f.values.Add("unknown", name)
}

// press sends the form by one of its buttons.
func (v *visitor) press(f *filled, action, do string) *answer {
	v.Helper()
	if f.page.Find(fmt.Sprintf(`form[data-live] button[name="do"][value="%s"]`, do)).Length() == 0 {
		v.Fatalf("there is no button for %q", do)
	}
	values := url.Values{"do": {do}}
	for name, list := range f.values {
		values[name] = list
	}
	return v.post(action, values)
}
