// Package web serves the app: router, sessions, handlers and the JSON of
// matches. Data flows one way: form → profile → match → page.
package web

import (
	"context"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/staff"
	"kinwain/internal/store"
	"kinwain/static"
)

// Options are what a server is made with.
type Options struct {
	Store  *store.Store
	Now    func() time.Time // in the shop's own time zone
	Log    *slog.Logger
	Secure bool // the app is reached by https: cookies say so
	// PublicURL is where customers reach the app, without a slash at the end.
	PublicURL string
	Metrics   *Metrics // what is measured; none if nil
}

// server answers requests.
type server struct {
	Options
	sessions *scs.SessionManager
	throttle staff.Throttle
}

// The life of a session.
const (
	sessionLife = 7 * 24 * time.Hour
	sessionIdle = 24 * time.Hour
)

// New returns the handler of the whole app.
func New(o Options) http.Handler {
	s := &server{Options: o}
	s.sessions = &scs.SessionManager{ // scs.New would start a second store, in memory, for nothing
		Store:    o.Store.Sessions(time.Now), // sessions end by the clock that began them
		Codec:    scs.GobCodec{},
		Lifetime: sessionLife, IdleTimeout: sessionIdle,
		Cookie: scs.SessionCookie{Name: "kinwain", Path: "/", HttpOnly: true, Persist: true, Secure: o.Secure, SameSite: http.SameSiteLaxMode},
		ErrorFunc: func(w http.ResponseWriter, r *http.Request, err error) {
			if r.Context().Err() != nil {
				return // nobody is waiting any more
			}
			// There is no session to draw a page with.
			s.Log.Error("session failed", "path", r.URL.Path, "error", err)
			http.Error(w, errInternal.Text, errInternal.Status)
		},
	}
	return s.routes()
}

func (s *server) routes() http.Handler {
	origins := http.NewCrossOriginProtection()
	origins.SetDenyHandler(s.page(func(http.ResponseWriter, *http.Request) error { return errOrigin }))
	r := chi.NewRouter()
	r.Use(s.Metrics.measure, headers, middleware.GetHead, middleware.Compress(5), bounded, s.reporting)
	r.Method(http.MethodGet, "/static/*", static.Handler())
	s.fitRoutes(r)
	r.Group(func(r chi.Router) {
		r.Use(s.sessions.LoadAndSave, s.identify, sameOrigin(origins))
		r.NotFound(s.page(func(http.ResponseWriter, *http.Request) error { return errNotFound }))
		r.MethodNotAllowed(s.page(notAllowed))
		r.Group(func(r chi.Router) {
			r.Use(s.guard)
			s.staffRoutes(r)
			r.Get("/", s.page(s.start))
			r.Post("/consultations", s.page(s.createConsultation))
			r.Get("/consultations/{id}", s.page(s.profileForm))
			r.Post("/consultations/{id}", s.page(s.saveProfile))
			r.Post("/consultations/{id}/live", s.page(s.live))
			r.Get("/consultations/{id}/frames", s.page(s.frames))
			r.Get("/consultations/{id}/compare", s.page(s.compare))
			r.Get("/consultations/{id}/frames/{code}", s.page(s.frame))
			r.Get("/consultations/{id}/frames/{code}/by-hand", s.page(s.byHand))
			r.Get("/consultations/{id}/frames/{code}/quote", s.page(s.quoteDraft))
			r.Post("/consultations/{id}/frames/{code}/quote", s.page(s.createQuote))
			r.Get("/quotes/{id}", s.page(s.quote))
			r.Get("/quotes/{id}.csv", s.page(s.quoteCSV))
			r.Post("/quotes/{id}/hold", s.page(s.hold))
			r.Get("/consultations/{id}/frames/{code}/ride", s.page(s.rideForm))
			r.Post("/consultations/{id}/frames/{code}/ride", s.page(s.bookRide))
			r.Get("/rides/{id}", s.page(s.ride))
			r.Post("/rides/{id}", s.page(s.saveRide))
			r.Get("/rides/{id}.ics", s.page(s.rideCalendar))
			r.Get("/consultations/{id}/frames/{code}/send", s.page(s.sendForm))
			r.Post("/consultations/{id}/frames/{code}/send", s.page(s.send))
			r.Post("/matches", s.page(s.matches))
			s.importRoutes(r)
			s.settingsRoutes(r)
			s.qualityRoutes(r)
			s.markRoutes(r)
			s.inventoryRoutes(r)
		})
	})
	return r
}

// staffRoutes are the addresses of signing in, and of those who may.
func (s *server) staffRoutes(r chi.Router) {
	r.Get("/sign-in", s.page(s.signInForm))
	r.Post("/sign-in", s.page(s.enter))
	r.Get("/sign-in/{token}", s.page(s.signIn))
	r.Get("/sign-in/new/{token}", s.page(s.newForm))
	r.Post("/sign-in/new/{token}", s.page(s.choose))
	r.Post("/sign-out", s.page(s.signOut))
	r.Get("/me", s.page(s.me))
	r.Post("/me", s.page(s.changeMe))
	r.Get("/settings/staff", s.page(s.people))
	r.Post("/settings/staff", s.page(s.addPerson))
	r.Post("/settings/staff/{id}", s.page(s.changePerson))
	r.Post("/settings/staff/devices", s.page(s.enrol))
	r.Post("/settings/staff/devices/{id}", s.page(s.revokeDevice))
	r.Get("/settings/tokens", s.page(s.tokens))
	r.Post("/settings/tokens", s.page(s.issueToken))
	r.Post("/settings/tokens/{id}", s.page(s.revokeToken))
}

// notAllowed says which methods an address takes.
func notAllowed(w http.ResponseWriter, r *http.Request) error {
	routes := chi.RouteContext(r.Context()).Routes
	for _, method := range [...]string{http.MethodGet, http.MethodPost, http.MethodPut} {
		if routes.Match(chi.NewRouteContext(), method, r.URL.Path) {
			w.Header().Add("Allow", method)
		}
	}
	return errMethod
}

// contentPolicy lets a page use nothing but this app's own style sheet,
// script and pictures, and talk to nobody else.
const contentPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}

// maxBody bounds what a request may send: far more than any profile.
const maxBody = 1 << 20

func bounded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		most := int64(maxBody)
		switch {
		case r.URL.Path == importAddress:
			most = maxUpload
		case isPhoto(r.URL.Path):
			most = maxPhoto
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// today returns the shop's date.
func (s *server) today() measure.Date { return measure.DateOf(s.Now()) }

// shop returns what every judgement needs: the catalogue without what is
// retired, its units with the status that they have today, and the settings.
func (s *server) shop(ctx context.Context) (*catalog.Catalogue, match.Settings, error) {
	c, err := s.Store.Catalogue(ctx)
	if err != nil {
		return nil, match.Settings{}, err
	}
	retired, err := s.Store.Retired(ctx)
	if err != nil {
		return nil, match.Settings{}, err
	}
	if len(retired) > 0 {
		c = c.Without(func(list, code string) bool { return retired[store.Thing{List: list, Code: code}] })
	}
	held, err := s.Store.Reservations(ctx)
	if err != nil {
		return nil, match.Settings{}, err
	}
	if len(held) > 0 { // the catalogue is shared, so a copy says what is held
		today := *c
		today.Units = quote.Standing(c.Units, held, s.today())
		c = &today
	}
	figures, err := s.Store.Settings(ctx)
	if err != nil {
		return nil, match.Settings{}, err
	}
	return c, match.SettingsOf(figures), nil
}

func wantsJSON(r *http.Request) bool {
	return r.URL.Path == "/matches" || strings.HasPrefix(r.Header.Get("Accept"), "application/json")
}
