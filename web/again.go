package web

import (
	"bytes"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/web/kit"
)

// A page that only shows what is in the store is drawn once for as long as
// nothing in the store changes: whoever reloads it, goes back to it or opens it
// on their phone again gets the very bytes. It is looked for behind everything
// that decides whether somebody may see it.

// repeated are the routes whose pages follow from the store, the minute and the
// request alone, and change nothing.
var repeated = map[string]bool{
	"/":                                 true,
	"/consultations/{id}":               true,
	"/consultations/{id}/frames":        true,
	"/consultations/{id}/frames/{code}": true,
	"/fit/{token}":                      true,
}

// mostPages bounds how many bytes of pages are kept.
const mostPages = 16 << 20

// pages keeps what was answered of one state of the store, in one minute.
type pages struct {
	mu    sync.Mutex
	of    string
	kept  map[string]answered
	bytes int
}

// answered is a page as it was sent, and where in it the tokens of forms stand
// that are sent once: each look at it has others.
type answered struct {
	header http.Header
	body   []byte
	tokens []int
}

// token finds the token of a form.
var token = regexp.MustCompile(`name="` + kit.OnceField + `" value="([A-Z2-7]{26})"`)

// send answers with a page once more.
func (a answered) send(w http.ResponseWriter) {
	for name, values := range a.header {
		w.Header()[name] = values
	}
	body := a.body
	if len(a.tokens) > 0 {
		body = slices.Clone(body)
	}
	for _, at := range a.tokens {
		copy(body[at:], kit.NewOnce())
	}
	_, _ = w.Write(body) // fails where the browser went away: there is nobody to tell
}

// find returns what was answered to a request, of that state.
func (p *pages) find(of, request string) (answered, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.of != of {
		return answered{}, false
	}
	a, found := p.kept[request]
	return a, found
}

// keep remembers an answer. With the first of another state all others go, and
// so they do where there is no room for one more.
func (p *pages) keep(of, request string, a answered) {
	p.mu.Lock()
	defer p.mu.Unlock()
	size := len(request) + len(a.body)
	if p.of != of || p.bytes+size > mostPages {
		p.of, p.kept, p.bytes = of, map[string]answered{}, 0
	}
	if _, known := p.kept[request]; known || size > mostPages {
		return
	}
	p.kept[request] = a
	p.bytes += size
}

// again answers as before where nothing has changed since.
func (s *server) again(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet || !repeated[chi.RouteContext(r.Context()).RoutePattern()] || s.toSay(r) {
			next.ServeHTTP(w, r)
			return
		}
		of, request := s.standing(r), aboutOf(r)
		if of == "" { // the page finds out why, and says so
			next.ServeHTTP(w, r)
			return
		}
		if a, found := s.pages.find(of, request); found {
			a.send(w)
			return
		}
		seen := &witness{ResponseWriter: w}
		next.ServeHTTP(seen, r)
		if seen.status == http.StatusOK {
			s.pages.keep(of, request, seen.answered())
		}
	})
}

// standing names the state of the store and the minute, or is empty where
// either is not to be had.
func (s *server) standing(r *http.Request) (of string) {
	defer func() {
		if recover() != nil {
			of = ""
		}
	}()
	version, err := s.store.Version(r.Context())
	if err != nil {
		return ""
	}
	return version + " " + s.Now().Truncate(time.Minute).String()
}

// toSay reports whether the next page of a session says something once.
func (s *server) toSay(r *http.Request) bool {
	return kit.Who(r) != nil && s.Sessions.Exists(r.Context(), kit.SaidKey)
}

// aboutOf is all of a request that its page may follow from. The cookies say
// whose it is.
func aboutOf(r *http.Request) string {
	return strings.Join([]string{r.URL.RequestURI(), r.Header.Get("Cookie"), r.Header.Get("Accept"), r.Header.Get("Accept-Language")}, "\n")
}

// witness sees what is answered on its way.
type witness struct {
	http.ResponseWriter
	status int
	header http.Header
	body   bytes.Buffer
}

func (w *witness) WriteHeader(status int) {
	if w.status == 0 {
		w.status, w.header = status, w.Header().Clone() // before it is packed
		w.header.Del(kit.RequestHeader)
		w.header.Del("Set-Cookie")
	}
	w.ResponseWriter.WriteHeader(status)
}

func (w *witness) Write(b []byte) (int, error) {
	if w.status == 0 {
		w.WriteHeader(http.StatusOK)
	}
	w.body.Write(b)
	return w.ResponseWriter.Write(b)
}

func (w *witness) answered() answered {
	a := answered{header: w.header, body: w.body.Bytes()}
	for _, found := range token.FindAllSubmatchIndex(a.body, -1) {
		a.tokens = append(a.tokens, found[2])
	}
	return a
}

// Unwrap lets the server find what it has wrapped.
func (w *witness) Unwrap() http.ResponseWriter { return w.ResponseWriter }
