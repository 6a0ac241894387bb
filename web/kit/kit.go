// Package kit is what every room of the web stands on: the layout and its
// parts, a page rendered whole before any of it is sent, who is asking, what a
// session remembers, and the failures that a browser is told of.
//
// A room keeps to this. It holds one task of one kind of person, with all that
// belongs to it: handlers (X.go), what they make of the figures (X_draw.go), the
// plain structs that a page is drawn from (X_view.go), the page itself
// (X.templ) and the tests. A page never computes. Rooms do not know one
// another: an address in another room comes from the table in address.go, a
// part that two of them show is here, or in talk where it is about the
// consultation with a customer. What a room uses of the store it lists in an
// interface of its own.
package kit

import (
	"context"
	"log/slog"
	"net/http"
	"time"

	"github.com/alexedwards/scs/v2"

	"kinwain/internal/measure"
)

// Kit is what rooms share while the app runs.
type Kit struct {
	Now    func() time.Time // in the shop's own time zone
	Log    *slog.Logger
	Secure bool // the app is reached by https: cookies say so
	// PublicURL is where customers reach the app, without a slash at the end.
	PublicURL string
	Sessions  *scs.SessionManager
	// ShopName is what the shop is called today; empty where that cannot be
	// found out.
	ShopName func(ctx context.Context) string
}

// Handler answers a request, or says why it cannot.
type Handler func(http.ResponseWriter, *http.Request) error

// Ways takes the ways into a room.
type Ways interface {
	Get(pattern string, h Handler)
	Post(pattern string, h Handler)
	Put(pattern string, h Handler)
}

// Today returns the shop's date.
func (k *Kit) Today() measure.Date { return measure.DateOf(k.Now()) }
