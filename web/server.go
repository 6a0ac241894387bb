// Package web puts the rooms of the app together: the router, who may take
// which way in, how an error is answered, and what is measured. Data flows one
// way: form → profile → match → page.
package web

import (
	"cmp"
	"context"
	"log/slog"
	"net/http"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"kinwain/internal/advice"
	"kinwain/internal/concern"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/static"
	"kinwain/web/counter"
	"kinwain/web/desk"
	"kinwain/web/floor"
	"kinwain/web/form"
	"kinwain/web/inventory"
	"kinwain/web/kit"
	"kinwain/web/shop"
	"kinwain/web/takehome"
	"kinwain/web/talk"
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
	// MostTime is how long a request may take, and half a minute if zero. Tests
	// on a machine that has much else to do give it more.
	MostTime time.Duration
}

// server lets requests in and answers those that fail.
type server struct {
	*kit.Kit
	store    *store.Store
	metrics  *Metrics
	pages    pages
	openings *Openings     // counts the looks at fit summaries
	most     time.Duration // that a request may take
}

// The life of a session.
const (
	sessionLife = 7 * 24 * time.Hour
	sessionIdle = 24 * time.Hour
)

// App is the whole app: the handler of its requests, and what has to be done
// beside them.
type App struct {
	http.Handler
	Watch    *concern.Watch // judges again whom changes may concern
	Openings *Openings      // how often fit summaries are opened
}

// New returns the app.
func New(o Options) *App {
	o.Log = slog.New(Discreet(o.Log.Handler()))
	k := &kit.Kit{Now: o.Now, Log: o.Log, Secure: o.Secure, PublicURL: o.PublicURL}
	k.ShopName = func(ctx context.Context) string {
		c, err := o.Store.Catalogue(ctx)
		if err != nil {
			return "" // whoever draws the page finds that out for themselves
		}
		return c.Shop.Name
	}
	k.Sessions = &scs.SessionManager{ // scs.New would start a second store, in memory, for nothing
		Store:    o.Store.Sessions(time.Now), // sessions end by the clock that began them
		Codec:    kit.Codec{},
		Lifetime: sessionLife, IdleTimeout: sessionIdle,
		Cookie: scs.SessionCookie{Name: "kinwain", Path: "/", HttpOnly: true, Persist: true, Secure: o.Secure, SameSite: http.SameSiteLaxMode},
		ErrorFunc: func(w http.ResponseWriter, r *http.Request, err error) {
			if r.Context().Err() != nil {
				return // nobody is waiting any more
			}
			// There is no session to draw a page with.
			o.Log.ErrorContext(r.Context(), "session failed", "path", r.URL.Path, "error", err)
			f := kit.FailureOf(err)
			http.Error(w, f.Text, f.Status)
		},
	}
	s := &server{Kit: k, store: o.Store, metrics: o.Metrics, most: cmp.Or(o.MostTime, mostTime)}
	fault := func(what string, err error) {
		s.metrics.fault(what)
		s.Log.Error(what, "error", err)
	}
	s.openings = &Openings{add: s.store.AddOpenings, fault: fault}
	advisor := advice.NewAdvisor(s.store)
	watch := &concern.Watch{Store: s.store, Advice: advisor, Now: s.Now,
		Profile: func(c store.Consultation) (*profile.Profile, error) { return form.Saved(c.Answers, s.Today()) },
		Fault:   fault}
	return &App{s.routes(advisor, watch), watch, s.openings}
}

// room is what a folder of the web holds for one task.
type room interface{ Ways(kit.Ways) }

// routes puts the rooms together.
func (s *server) routes(advisor *advice.Advisor, watch *concern.Watch) http.Handler {
	opener := talk.NewOpener(s.Kit, s.store, advisor)
	home := takehome.New(opener, s.store)
	rooms := []room{
		shop.New(s.Kit, s.store, watch, advisor), desk.New(opener, s.store, s.metrics.solving), counter.New(opener, s.store), floor.New(opener, s.store), home, inventory.New(s.Kit, s.store, watch, advisor),
	}
	origins := http.NewCrossOriginProtection()
	origins.SetDenyHandler(s.page(func(http.ResponseWriter, *http.Request) error { return errOrigin }))
	r := chi.NewRouter()
	r.Use(s.logged, s.metrics.measure, headers, middleware.GetHead, middleware.Compress(5), s.caught, bounded, s.reporting)
	r.Method(http.MethodGet, "/static/*", static.Handler())
	r.Method(http.MethodGet, kit.OpenAPIAddress, described)
	r.Method(http.MethodGet, kit.ManifestAddress, static.Made("application/manifest+json", manifest))
	r.Method(http.MethodGet, workerAddress, static.Made("text/javascript; charset=utf-8", static.Worker))
	r.Method(http.MethodGet, offlineAddress, static.Made("text/html; charset=utf-8", static.Offline))
	r.Group(func(r chi.Router) {
		r.Use(s.seldom(home.FailOpenly), kit.Deadline(s.most), fromHere(home.FailOpenly), posted(legible(home.FailOpenly)), s.opened, s.again)
		home.OpenWays(r)
	})
	r.Group(func(r chi.Router) {
		// The deadline is within the session, which is kept whatever came of
		// the request.
		r.Use(s.seldom(s.fail), s.Sessions.LoadAndSave, kit.Deadline(s.most), s.identify, sameOrigin(origins))
		r.NotFound(s.page(func(http.ResponseWriter, *http.Request) error { return kit.ErrNotFound }))
		r.MethodNotAllowed(s.page(notAllowed))
		r.Group(func(r chi.Router) {
			r.Use(s.guard, legible(s.fail), s.front, s.again)
			for _, room := range rooms {
				room.Ways(ways{r, s})
			}
		})
	})
	return r
}

// ways are the ways into rooms as the router knows them.
type ways struct {
	router chi.Router
	server *server
}

func (w ways) Get(pattern string, h kit.Handler)  { w.router.Get(pattern, w.server.page(h)) }
func (w ways) Post(pattern string, h kit.Handler) { w.router.Post(pattern, w.server.page(h)) }
func (w ways) Put(pattern string, h kit.Handler)  { w.router.Put(pattern, w.server.page(h)) }

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
// scripts and pictures, and talk to nobody else.
const contentPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// strictTransport makes a browser that has come by TLS once come by nothing else
// for a year. Where a proxy ends TLS, saying so is the proxy's.
const strictTransport = "max-age=31536000"

func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		h.Set("Cache-Control", "no-store")
		if r.TLS != nil {
			h.Set("Strict-Transport-Security", strictTransport)
		}
		next.ServeHTTP(w, r)
	})
}
