package kit

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"reflect"
	"strings"
	"testing"

	"github.com/a-h/templ"

	"kinwain/internal/concern"
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

// TestConsequencesViewSaysWhatItLeavesOut counts what is not shown, not judged
// and not read.
func TestConsequencesViewSaysWhatItLeavesOut(t *testing.T) {
	found := &concern.Found{Judged: 60, Unjudged: 12, Unread: 1}
	for i := range shownConcerned + 2 {
		found.Rows = append(found.Rows, concern.Row{Consultation: fmt.Sprint("c", i/2), Name: "Osier M", Parts: []string{"fits → does not fit"}, Worse: true})
	}
	view := ConsequencesView(found)
	want := Consequences{Rows: view.Rows, More: "And 2 more answers, which are not shown here.",
		Summary: "21 consultations of the last 60 days, or with a fit summary: their answer changes. They are marked until somebody has seen it.",
		Unsure:  "There was no time to judge 12 of 60 answers again; more may change. What 1 consultation or fit summary said cannot be read any more, and is left out."}
	if len(view.Rows) != shownConcerned || view.Rows[0].Href != "/consultations/c0/frames" || !reflect.DeepEqual(view, want) {
		t.Errorf("%+v", view)
	}
	if view := ConsequencesView(&concern.Found{}); !strings.HasPrefix(view.Summary, "Nothing changes for") || view.Unsure+view.More != "" || view.Rows != nil {
		t.Errorf("%+v", view)
	}
}
