package web

import (
	"context"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"kinwain/web/takehome"
)

// Openings counts how often fit summaries are opened: a number for each, and
// nothing of who looked, when or with what. It counts in memory, so that nobody
// waits for the disk to be shown a page, and Keep adds to the store what has
// come together. What a store does not take stays for the next time.
type Openings struct {
	add   func(ctx context.Context, opened map[string]int) error // adds all of them to what is kept, or none
	fault func(what string, err error)

	mu    sync.Mutex
	since map[string]int // since they were last kept, by the token of the link
}

// count notes that the summary of a link was opened.
func (o *Openings) count(token string) { o.put(map[string]int{token: 1}) }

func (o *Openings) put(opened map[string]int) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.since == nil {
		o.since = map[string]int{}
	}
	for token, n := range opened {
		o.since[token] += n
	}
}

func (o *Openings) take() map[string]int {
	o.mu.Lock()
	defer o.mu.Unlock()
	opened := o.since
	o.since = nil
	return opened
}

// Keep writes what was counted since it was last called.
func (o *Openings) Keep(ctx context.Context) {
	opened := o.take()
	if len(opened) == 0 {
		return
	}
	if err := o.add(ctx, opened); err != nil {
		o.put(opened)
		if ctx.Err() == nil {
			o.fault("how often pages were opened is not kept yet", err)
		}
	}
}

// Work keeps what was counted whenever it is due, until the context ends. What
// comes after that is for whoever calls Keep last.
func (o *Openings) Work(ctx context.Context, due <-chan time.Time) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-due:
			o.Keep(ctx)
		}
	}
}

// opened counts who opens a fit summary, also where the page is one that was
// drawn before.
func (s *server) opened(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !opens(r) || s.isStaff(r) {
			next.ServeHTTP(w, r)
			return
		}
		answer := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		next.ServeHTTP(answer, r)
		if answer.Status() == http.StatusOK {
			s.openings.count(chi.URLParam(r, "token"))
		}
	})
}

// opens reports whether a request is somebody who comes to a fit summary: no
// program that fetches it in case they will, and not from the page itself or
// its card, which they have opened already.
func opens(r *http.Request) bool {
	for _, name := range [...]string{"Sec-Purpose", "Purpose", "X-Moz"} {
		if purpose := strings.ToLower(r.Header.Get(name)); strings.Contains(purpose, "prefetch") || strings.Contains(purpose, "preview") {
			return false
		}
	}
	return r.Method == http.MethodGet && chi.RouteContext(r.Context()).RoutePattern() == takehome.FitPattern &&
		r.Header.Get("Sec-Fetch-Site") != "same-origin"
}

// isStaff reports whether somebody who is signed in asks, or where the session
// of their cookie cannot be read, may be. It leaves the session as it is.
func (s *server) isStaff(r *http.Request) bool {
	cookie, err := r.Cookie(s.Sessions.Cookie.Name)
	if err != nil {
		return false
	}
	ctx, err := s.Sessions.Load(r.Context(), cookie.Value)
	return err != nil || s.Session(r.WithContext(ctx)).Role != ""
}
