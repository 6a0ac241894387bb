package main

import (
	"context"
	"crypto/tls"
	"encoding/json"
	"errors"
	"flag"
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

// limits bound one connection, and how long running requests get at the end.
type limits struct{ header, read, write, idle, drain time.Duration }

// usual are the limits of the app. A page is small and nobody uploads films;
// what writes for longer is read by nobody.
var usual = limits{header: 10 * time.Second, read: 30 * time.Second, write: 90 * time.Second, idle: 2 * time.Minute, drain: 7 * time.Second}

// serve opens the store, loads the demo shop into a new one, prints a sign-in
// link and answers requests until the context ends.
func serve(ctx context.Context, p *program, args []string) (err error) {
	f := p.flags("serve")
	addr := f.String("addr", "127.0.0.1:8080", "the `ADDRESS` to listen on")
	admin := f.String("admin-addr", "", "an `ADDRESS` for /healthz and /metrics, none if empty")
	public := f.String("public-url", "", "the `URL` under which the app is reached, if it is another one")
	data := dataFlag(f)
	link := f.Bool("sign-in-link", false, "print a sign-in link although a manager has an account")
	level := slog.LevelWarn
	f.TextVar(&level, "log-level", level, "what is logged, `INFO|WARN|ERROR`: INFO has every request, WARN what went wrong or was refused, ERROR what broke")
	encrypt := encryptionFlags(f)
	backups := f.String("backups", "", "the `FOLDER` for a backup a day, best on another disk: backups within the folder of the store if empty, none if "+noBackups)
	most := f.Int("backups-keep", 14, "the `NUMBER` of daily backups to keep")
	if err := p.parse(f, args, 0, 0); err != nil {
		return err
	}
	if *most < 1 {
		fmt.Fprintln(p.err, "kinwain: at least one backup is kept; -backups", noBackups, "makes none")
		return errUsage
	}
	base, err := publicURL(*public)
	if err := errors.Join(err, encrypt.wrong()); err != nil {
		fmt.Fprintln(p.err, "kinwain:", err)
		return errUsage
	}
	if encrypt.domain != "" && !given(f, "addr") {
		*addr = ":443" // where browsers look, and the authority
	}
	listener, err := listen(*addr)
	if err != nil {
		return err
	}
	defer listener.Close() // closed by the server already
	s, err := openStore(ctx, *data)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	if base == "" {
		base = encrypt.base(listener.Addr())
	}
	log := slog.New(web.Discreet(slog.NewTextHandler(p.err, &slog.HandlerOptions{Level: level})))
	certificates, err := encrypt.config(*data, log)
	if err != nil {
		return err
	}
	defer keep(ctx, &keeper{store: s, data: *data, to: backupFolder(*backups, *data), most: *most, now: time.Now, log: log})()
	metrics := web.NewMetrics()
	app := web.New(web.Options{Store: s, Now: time.Now, Log: log, Secure: strings.HasPrefix(base, "https:"), PublicURL: base, Metrics: metrics})
	defer work(ctx, app.Watch)()
	defer count(ctx, app.Openings)()
	stopAdmin, err := serveAdmin(*admin, adminHandler(s, metrics, log), log)
	if err != nil {
		return err
	}
	defer stopAdmin()
	if err := p.welcome(ctx, s, base, *link); err != nil {
		return err
	}
	return answer(ctx, listener, app, log, certificates, usual)
}

func listen(addr string) (net.Listener, error) {
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s: %w; is Kinwain running already? Choose another address with -addr", addr, cause(err))
	}
	return l, nil
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

// given reports whether a flag was given.
func given(f *flag.FlagSet, name string) bool {
	found := false
	f.Visit(func(one *flag.Flag) { found = found || one.Name == name })
	return found
}

// reachable names a listener by an address that a browser here can open, and
// one in the same network where that is listened to.
func reachable(a net.Addr) string {
	host, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return a.String()
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = ownAddress()
	}
	return net.JoinHostPort(host, port)
}

// ownAddress is the address of this computer in the network of the shop, or to
// itself where it is in none.
func ownAddress() string {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return "127.0.0.1"
	}
	for _, a := range all {
		if n, is := a.(*net.IPNet); is && n.IP.To4() != nil && n.IP.IsPrivate() {
			return n.IP.String()
		}
	}
	return "127.0.0.1"
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

// loadDemo gives a new store the demo shop, what that says about itself and the
// figures that it set.
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
	var figures map[string]int64
	if err := json.Unmarshal(testdata.Settings, &figures); err != nil {
		return fmt.Errorf("the settings of the demo shop: %w", err)
	}
	return errors.Join(s.SetTexts(ctx, texts), s.SetSettings(ctx, figures))
}

// answer serves until the context ends, then lets running requests finish for a
// while. What is not done by then is cut off.
func answer(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger, certificates *tls.Config, most limits) error {
	requests, cut := context.WithCancel(context.Background())
	defer cut()
	server := &http.Server{Handler: h, ReadHeaderTimeout: most.header, ReadTimeout: most.read, WriteTimeout: most.write, IdleTimeout: most.idle,
		TLSConfig: certificates, BaseContext: func(net.Listener) context.Context { return requests },
		ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn)}
	served := make(chan error, 1)
	go func() {
		if certificates != nil {
			served <- server.ServeTLS(l, "", "")
			return
		}
		served <- server.Serve(l)
	}()
	select {
	case err := <-served:
		return fmt.Errorf("stopped answering: %w", err)
	case <-ctx.Done():
	}
	drain, cancel := context.WithTimeout(context.Background(), most.drain)
	defer cancel()
	if err := server.Shutdown(drain); err != nil {
		cut() // the store lets go of what they were doing
		return fmt.Errorf("some requests were cut off: %w", errors.Join(err, server.Close()))
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
	server := &http.Server{Handler: h, ReadHeaderTimeout: usual.header}
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
