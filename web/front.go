package web

import (
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"
)

// front notes whose consultation is open on a tablet, so that a bike which is
// scanned there opens for that customer. It stands before the pages that are
// sent again: nobody else sees those being opened.
func (s *server) front(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(chi.RouteContext(r.Context()).RoutePattern(), "/consultations/{id}") {
			s.PutInFront(r, chi.URLParam(r, "id"))
		}
		next.ServeHTTP(w, r)
	})
}
