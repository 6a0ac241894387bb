package kit

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"
)

// RequestHeader is the header of an answer that says what the log calls the
// request.
const RequestHeader = "X-Request-Id"

type requestKey struct{}

// WithRequestID returns the request with what the log calls it.
func WithRequestID(r *http.Request, id string) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), requestKey{}, id))
}

// RequestID returns what the log calls the request of a context; nothing
// outside of any.
func RequestID(ctx context.Context) string {
	id, _ := ctx.Value(requestKey{}).(string)
	return id
}

// Deadline gives up a request that takes longer.
func Deadline(most time.Duration) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			ctx, cancel := context.WithTimeoutCause(r.Context(), most, ErrSlow)
			defer cancel()
			next.ServeHTTP(w, r.WithContext(ctx))
		})
	}
}

// Gone reports whether nobody waits for the answer any more.
func Gone(r *http.Request) bool {
	return r.Context().Err() != nil && !late(r)
}

func late(r *http.Request) bool { return errors.Is(context.Cause(r.Context()), ErrSlow) }

// InTime returns a request that has time for an answer to an error, and that
// error: that it took too long where the deadline is over.
func InTime(r *http.Request, err error) (*http.Request, error) {
	if !late(r) {
		return r, err
	}
	return r.WithContext(context.WithoutCancel(r.Context())), fmt.Errorf("%w: %w", ErrSlow, err)
}
