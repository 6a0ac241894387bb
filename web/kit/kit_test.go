package kit

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/a-h/templ"

	"kinwain/internal/store"
)

// TestLocal holds that a sign-in leads nowhere but into the app.
func TestLocal(t *testing.T) {
	for next, want := range map[string]string{
		"/quotes/x?a=b": "/quotes/x?a=b", "/": "/", "": "/", "//elsewhere.example": "/", "https://elsewhere.example/": "/", `/\elsewhere.example`: "/",
		"quotes": "/", "/sign-out": "/", "/sign-in?next=/": "/", "/a\r\nb": "/", "javascript:alert(1)": "/", "%": "/",
	} {
		if got := Local(next); got != want {
			t.Errorf("%q leads to %q, want %q", next, got, want)
		}
	}
}

// TestFailureOf says what a browser is told of an error, however wrapped.
func TestFailureOf(t *testing.T) {
	gone := &store.Error{Code: store.NotFound, Text: "no such ride"}
	for err, want := range map[error]*Failure{
		ErrForm: ErrForm, fmt.Errorf("save: %w", ErrForm): ErrForm, fmt.Errorf("read: %w", gone): ErrNotFound,
		fmt.Errorf("read: %w", &http.MaxBytesError{Limit: 1}): ErrTooLarge, errors.New("the disk is full"): ErrInternal,
		fmt.Errorf("%w", &store.Error{Code: store.Conflict}): ErrInternal, fmt.Errorf("%w", &store.Error{Code: store.Full}): ErrFull,
		fmt.Errorf("%w", &store.Error{Code: store.InUse}): ErrBusy, fmt.Errorf("%w", &store.Error{Code: store.Unwritable}): ErrNotKept,
		fmt.Errorf("%w", &store.Error{Code: store.Gone}): ErrNotKept, fmt.Errorf("%w", &store.Error{Code: store.Corrupt}): ErrNotKept,
	} {
		if got := FailureOf(err); got != want {
			t.Errorf("%v: %v", err, got)
		}
	}
}

// TestRenderSendsWholePages holds that nothing of a page is sent that fails.
func TestRenderSendsWholePages(t *testing.T) {
	half := templ.ComponentFunc(func(_ context.Context, w io.Writer) error {
		if _, err := io.WriteString(w, "<p>half"); err != nil {
			return err
		}
		return errors.New("and no more")
	})
	w := httptest.NewRecorder()
	if err := Render(t.Context(), w, http.StatusOK, half); err == nil || w.Body.Len() > 0 || len(w.Header()) > 0 {
		t.Errorf("%v, %q, %v", err, w.Body, w.Header())
	}
	if err := Render(t.Context(), w, http.StatusConflict, templ.Raw("<p>whole</p>")); err != nil || w.Code != http.StatusConflict || w.Body.String() != "<p>whole</p>" {
		t.Errorf("%v, %d %q", err, w.Code, w.Body)
	}
}

// TestPosted refuses what is no form: it would blot out what was saved.
func TestPosted(t *testing.T) {
	post := func(body string) *http.Request {
		r := httptest.NewRequest(http.MethodPost, "/", strings.NewReader(body))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		return r
	}
	if values, err := Posted(post("a=1&a=2")); err != nil || len(values["a"]) != 2 {
		t.Errorf("%v, %v", values, err)
	}
	for _, body := range []string{"", "%zz=1"} {
		if _, err := Posted(post(body)); !errors.Is(err, ErrForm) {
			t.Errorf("%q: %v", body, err)
		}
	}
	large := post("a=" + strings.Repeat("x", 100))
	large.Body = http.MaxBytesReader(httptest.NewRecorder(), large.Body, 10)
	if _, err := Posted(large); !errors.Is(err, ErrTooLarge) {
		t.Errorf("%v", err)
	}
}

// TestAskingSaysWhomItMayConcern counts by kind, and says what it leaves out.
func TestAskingSaysWhomItMayConcern(t *testing.T) {
	changes := make([]FieldChange, mostAsked+2)
	a := AskingView(changes, store.Reach{Consultations: 120, Summaries: 1, Held: 2}, "d")
	if len(a.Changes) != mostAsked || a.More != "And 2 more differences, which are not shown here." || a.Digest != "d" ||
		!strings.HasPrefix(a.Whom, "It may concern 120 consultations of the last 60 days, 1 fit summary sent home and 2 bikes that are held at the most.") {
		t.Errorf("%+v", a)
	}
	if a := AskingView(nil, store.Reach{}, ""); a.Whom != "It concerns nobody who was told anything." || a.More != "" {
		t.Errorf("%+v", a)
	}
	if again := Digest("a", "bc"); again == Digest("ab", "c") || again != Digest("a", "bc") {
		t.Error("changes are not told apart")
	}
	if c := CheckingView(store.Progress{Judged: 12, Of: 120}); !c.Pending || !strings.Contains(c.Said, "12 of 120 judged") {
		t.Errorf("%+v", c)
	}
	if c := CheckingView(store.Progress{Judged: 120, Of: 120}); c.Pending || c.Said != "" {
		t.Errorf("%+v", c)
	}
}
