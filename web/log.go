package web

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net/http"
	"regexp"
	"time"

	"github.com/go-chi/chi/v5/middleware"

	"kinwain/web/kit"
)

// secretsInText are the places of a text where a secret stands: in the links
// that carry one, in tokens of programs, and in headers.
var secretsInText = regexp.MustCompile(`((?:/sign-in|/fit)/(?:(?:new|device)/)?|kinwain_|(?i:bearer|cookie:?)\s+)[^\s/?&"'\\]+`)

// discreet is a handler of logs that says of which request a line is, and in
// which no secret of a link or a header stands, whatever somebody logs.
type discreet struct{ slog.Handler }

// Discreet returns a handler that passes to another what may be logged.
func Discreet(h slog.Handler) slog.Handler {
	if _, is := h.(discreet); is {
		return h
	}
	return discreet{h}
}

func (d discreet) Handle(ctx context.Context, r slog.Record) error {
	clean := slog.NewRecord(r.Time, r.Level, withoutSecrets(r.Message), r.PC)
	if id := kit.RequestID(ctx); id != "" {
		clean.AddAttrs(slog.String("request", id))
	}
	r.Attrs(func(a slog.Attr) bool {
		clean.AddAttrs(discreetly(a))
		return true
	})
	return d.Handler.Handle(ctx, clean)
}

func (d discreet) WithAttrs(attrs []slog.Attr) slog.Handler {
	clean := make([]slog.Attr, len(attrs))
	for i, a := range attrs {
		clean[i] = discreetly(a)
	}
	return discreet{d.Handler.WithAttrs(clean)}
}

func (d discreet) WithGroup(name string) slog.Handler { return discreet{d.Handler.WithGroup(name)} }

func discreetly(a slog.Attr) slog.Attr {
	a.Value = a.Value.Resolve()
	switch a.Value.Kind() {
	case slog.KindString:
		a.Value = slog.StringValue(withoutSecrets(a.Value.String()))
	case slog.KindGroup:
		group := a.Value.Group()
		clean := make([]slog.Attr, len(group))
		for i, one := range group {
			clean[i] = discreetly(one)
		}
		a.Value = slog.GroupValue(clean...)
	case slog.KindAny:
		if text := fmt.Sprint(a.Value.Any()); withoutSecrets(text) != text {
			a.Value = slog.StringValue(withoutSecrets(text))
		}
	}
	return a
}

func withoutSecrets(text string) string { return secretsInText.ReplaceAllString(text, "$1…") }

// logged gives every request a name of its own and logs what became of it.
func (s *server) logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		id := rand.Text()[:10]
		w.Header().Set(kit.RequestHeader, id)
		r = kit.WithRequestID(r, id)
		began := time.Now()
		answer := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
		defer func() {
			s.Log.InfoContext(r.Context(), "answered", "method", r.Method, "path", r.URL.Path, "status", answer.Status(),
				"bytes", answer.BytesWritten(), "took", time.Since(began).Round(time.Millisecond), "from", kit.AddressOf(r))
		}()
		next.ServeHTTP(answer, r)
	})
}
