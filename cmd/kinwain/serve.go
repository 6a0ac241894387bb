package main

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/testdata"
	"kinwain/web"
)

// Limits of one connection. A page is small and nobody uploads films.
const (
	headerTimeout = 10 * time.Second
	readTimeout   = 30 * time.Second
	idleTimeout   = 2 * time.Minute
	drainTimeout  = 20 * time.Second
	linkLife      = 24 * time.Hour
)

// serve opens the store, loads the demo shop into a new one, prints a sign-in
// link and answers requests until the context ends.
func serve(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("serve", "")
	addr := f.String("addr", "127.0.0.1:8080", "the address to listen on")
	admin := f.String("admin-addr", "", "an address for /healthz and /metrics, none if empty")
	public := f.String("public-url", "", "the address under which the app is reached, if it is another one")
	data := dataFlag(f)
	backups := f.String("backups", "", "the folder for a backup a day, best on another disk: backups within the folder of the store if empty, none if "+noBackups)
	most := f.Int("backups-keep", 14, "how many daily backups to keep")
	if err := parse(f, args, 0, 0); err != nil {
		return err
	}
	if *most < 1 {
		fmt.Fprintln(p.err, "kinwain: at least one backup is kept; -backups", noBackups, "makes none")
		return errUsage
	}
	base, err := publicURL(*public)
	if err != nil {
		fmt.Fprintln(p.err, "kinwain:", err)
		return errUsage
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return fmt.Errorf("cannot listen on %s: %w; is Kinwain running already? Choose another address with -addr", *addr, cause(err))
	}
	defer listener.Close() // closed by the server already
	s, err := openStore(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if base == "" {
		base = "http://" + reachable(listener.Addr())
	}
	link, err := signInLink(ctx, s, base)
	if err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(p.err, nil))
	defer keep(ctx, &keeper{store: s, data: *data, to: backupFolder(*backups, *data), most: *most, now: time.Now, log: log})()
	metrics := web.NewMetrics()
	app := web.New(web.Options{Store: s, Now: time.Now, Log: log, Secure: strings.HasPrefix(base, "https:"), PublicURL: base, Metrics: metrics})
	stopAdmin, err := serveAdmin(*admin, adminHandler(s, metrics, log), log)
	if err != nil {
		return err
	}
	defer stopAdmin()
	fmt.Fprintf(p.out, "Kinwain is ready. Open this link to sign in as the manager:\n\n  %s\n\nStop it with Ctrl-C.\n", link)
	return answer(ctx, listener, app, log)
}

// cause strips what net adds around the plain reason.
func cause(err error) error {
	var op *net.OpError
	if errors.As(err, &op) {
		return op.Err
	}
	return err
}

func publicURL(public string) (string, error) {
	if public == "" {
		return "", nil
	}
	u, err := url.Parse(public)
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" {
		return "", fmt.Errorf("%q is no address for -public-url; write it like https://bikes.example", public)
	}
	return strings.TrimSuffix(public, "/"), nil
}

// reachable names a listener by an address that a browser here can open.
func reachable(a net.Addr) string {
	host, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return a.String()
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
	}
	return net.JoinHostPort(host, port)
}

// openStore opens the store, for this program alone, and gives a new one the
// demo shop, once.
func openStore(ctx context.Context, dir string) (*store.Store, error) {
	s, err := store.OpenAlone(ctx, dir)
	if err != nil {
		return nil, err
	}
	if err := loadDemo(ctx, s); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// loadDemo gives a new store the demo shop and what that says about itself.
func loadDemo(ctx context.Context, s *store.Store) error {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		return err
	}
	loaded, err := s.Seed(ctx, demo)
	if err != nil || !loaded {
		return err
	}
	var texts map[string]string
	if err := json.Unmarshal(testdata.Texts, &texts); err != nil {
		return fmt.Errorf("the texts of the demo shop: %w", err)
	}
	return s.SetTexts(ctx, texts)
}

func signInLink(ctx context.Context, s *store.Store, base string) (string, error) {
	token := rand.Text()
	if err := s.ReplaceSignInLink(ctx, token, time.Now().Add(linkLife)); err != nil {
		return "", err
	}
	return base + "/sign-in/" + token, nil
}

// answer serves until the context ends, then lets running requests finish.
func answer(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger) error {
	server := &http.Server{Handler: h, ReadHeaderTimeout: headerTimeout, ReadTimeout: readTimeout, IdleTimeout: idleTimeout,
		ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn)}
	served := make(chan error, 1)
	go func() { served <- server.Serve(l) }()
	select {
	case err := <-served:
		return fmt.Errorf("stopped answering: %w", err)
	case <-ctx.Done():
	}
	drain, cancel := context.WithTimeout(context.Background(), drainTimeout)
	defer cancel()
	if err := server.Shutdown(drain); err != nil {
		return fmt.Errorf("some requests were cut off: %w", err)
	}
	return nil
}

// pingTimeout bounds how long the store may take to say that it lives.
const pingTimeout = 5 * time.Second

// adminHandler answers whether the program lives and its store can be used,
// and what was measured.
func adminHandler(s *store.Store, metrics *web.Metrics, log *slog.Logger) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /healthz", func(w http.ResponseWriter, r *http.Request) {
		ctx, cancel := context.WithTimeout(r.Context(), pingTimeout)
		defer cancel()
		if err := s.Ping(ctx); err != nil {
			log.Error("not healthy", "error", err)
			http.Error(w, "the store cannot be used; the log says why", http.StatusServiceUnavailable)
			return
		}
		if _, err := w.Write([]byte("ok\n")); err != nil {
			log.Warn("answer not sent", "error", err)
		}
	})
	mux.Handle("GET /metrics", metrics.Handler())
	return mux
}

// serveAdmin serves those who look after the program, on an address of its
// own.
func serveAdmin(addr string, h http.Handler, log *slog.Logger) (stop func(), err error) {
	if addr == "" {
		return func() {}, nil
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s: %w", addr, cause(err))
	}
	server := &http.Server{Handler: h, ReadHeaderTimeout: headerTimeout}
	go func() {
		if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			log.Error("admin address stopped", "error", err)
		}
	}()
	return func() {
		if err := server.Close(); err != nil {
			log.Warn("admin address", "error", err)
		}
	}, nil
}
