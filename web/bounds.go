package web

import (
	"errors"
	"mime"
	"net/http"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/httprate"

	"kinwain/web/inventory"
	"kinwain/web/kit"
)

// What one request, and one connection to the network, may ask for.
const (
	// mostTime is how long a request may take, unless the options say otherwise.
	mostTime = 30 * time.Second
	// maxBody bounds what a request may send: far more than any profile.
	maxBody int64 = 1 << 20
	// mostText bounds what a field may hold, in characters, and mostName its
	// name.
	mostText = 4000
	mostName = 200
	// mostDocument bounds the fields that hold a document.
	mostDocument = 64 << 10
	// formMemory is how much of the files of a form is kept in memory.
	formMemory = 1 << 20
)

// documentFields hold what the program itself has put there: the thing as it
// was when its form was opened.
var documentFields = map[string]bool{"base": true}

// rates bound how often something may be asked for from one connection to the
// network in a minute. A shop has one for all its tablets.
var rates = []struct {
	way  string // and what begins with it as a path
	most int
}{
	{kit.SignInAddress, 60},
	{kit.SettingsAddress + "/tokens", 20},
	{kit.ImportAddress, 20},
	{"/matches", 120},
	{"/fit", 120},
}

var errOften = &kit.Failure{Status: http.StatusTooManyRequests, Code: "too_often", Title: "Too often", Text: "This was asked for more often than anybody does by hand, so nothing was done. Wait a minute, then try again.", Retry: 60}

// failing answers a request with an error.
type failing func(http.ResponseWriter, *http.Request, error)

// seldom refuses what is asked for too often.
func (s *server) seldom(fail failing) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler { return s.bound(next, fail) }
}

func (s *server) bound(next http.Handler, fail failing) http.Handler {
	refuse := s.caught(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { fail(w, r, errOften) })).ServeHTTP
	bounded := make([]http.Handler, len(rates))
	for i, rate := range rates {
		bounded[i] = httprate.LimitBy(rate.most, time.Minute, func(r *http.Request) (string, error) { return kit.Neighbours(r), nil },
			httprate.WithLimitHandler(refuse), httprate.WithResponseHeaders(httprate.ResponseHeaders{}))(next)
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for i, rate := range rates {
			if r.Method == http.MethodPost && (r.URL.Path == rate.way || strings.HasPrefix(r.URL.Path, rate.way+"/")) {
				bounded[i].ServeHTTP(w, r)
				return
			}
		}
		next.ServeHTTP(w, r)
	})
}

// bounded bounds how much is sent.
func bounded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		most := max(maxBody, inventory.MostBytes(r))
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// legible reads the form of a request and refuses one with a field that is
// longer than any. What a program may ask for comes as a document.
func legible(fail failing) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if ruleFor(chi.RouteContext(r.Context()).RoutePattern()) == staffOrToken {
				next.ServeHTTP(w, r)
				return
			}
			if err := readForm(r); err != nil {
				fail(w, r, err)
				return
			}
			next.ServeHTTP(w, r)
		})
	}
}

// posted applies to what is posted alone.
func posted(check func(http.Handler) http.Handler) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		checked := check(next)
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Method == http.MethodPost {
				checked.ServeHTTP(w, r)
				return
			}
			next.ServeHTTP(w, r)
		})
	}
}

func readForm(r *http.Request) error {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	var tooLarge *http.MaxBytesError
	switch {
	case err == nil && kind == "multipart/form-data":
		if err := r.ParseMultipartForm(formMemory); err != nil {
			return nil // the room says what was wrong with its files
		}
	default:
		if err := r.ParseForm(); errors.As(err, &tooLarge) {
			return kit.ErrTooLarge
		} else if err != nil {
			return kit.ErrForm
		}
	}
	for name, values := range r.Form {
		for _, value := range values {
			if tooLong(name, mostName) || tooLong(value, mostOf(name)) {
				return kit.ErrTooLong
			}
		}
	}
	return nil
}

func mostOf(name string) int {
	if documentFields[name] {
		return mostDocument
	}
	return mostText
}

func tooLong(text string, most int) bool {
	return len(text) > most && utf8.RuneCountInString(text) > most
}
