package web

import (
	"net/http"

	"kinwain/internal/match"
)

// reporting logs every build that broke a rule when it was checked, with all
// that led to it. The frame is shown as not judged.
func (s *server) reporting(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		next.ServeHTTP(w, r.WithContext(match.Reporting(r.Context(), func(f *match.Fault) {
			s.Log.ErrorContext(r.Context(), "frame not judged", "path", r.URL.Path, "error", f, "inputs", f.Inputs())
		})))
	})
}
