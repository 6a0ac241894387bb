package web_test

import (
	"net/http"
	"testing"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// TestPublicPagesAsKept holds what strangers see against what is kept: signing
// in, being refused, and addresses that lead nowhere.
func TestPublicPagesAsKept(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	for name, c := range map[string]struct {
		path   string
		status int
	}{
		"sign-in":        {"/sign-in?next=%2Finventory", http.StatusOK},
		"please-sign-in": {"/inventory", http.StatusForbidden},
		"link-too-old":   {"/sign-in/x", http.StatusNotFound},
		"link-used-up":   {"/sign-in/new/x", http.StatusNotFound},
		"nothing-here":   {"/nowhere", http.StatusNotFound},
	} {
		s.Stranger().Get(c.path).Is(c.status, c.path).Golden(name)
	}
	s.Hire("Orsin", staff.Salesperson)
	s.As("Orsin").Get("/settings").Is(http.StatusForbidden, "/settings").Golden("for-managers")
	s.Stranger().Post("/", nil).Is(http.StatusMethodNotAllowed, "/").Golden("not-that-way")
}
