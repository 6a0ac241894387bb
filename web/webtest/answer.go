package webtest

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/say/worn"
)

// Answer is what came back for a request.
type Answer struct {
	*testing.T
	Status int
	Header http.Header
	Path   string // after all redirects
	Body   []byte
	Page   *goquery.Document
}

// Is checks the status and where the answer was found in the end.
func (a *Answer) Is(status int, path string) *Answer {
	a.Helper()
	if a.Status != status || a.Path != path {
		a.Fatalf("%d at %s, want %d at %s: %.300s", a.Status, a.Path, status, path, a.Text("main"))
	}
	return a
}

// Text returns the words of what a selector finds, with single spaces.
func (a *Answer) Text(selector string) string { return Words(a.Page.Find(selector)) }

// Words returns the words of what was found, with single spaces.
func Words(s *goquery.Selection) string { return strings.Join(strings.Fields(s.Text()), " ") }

// Texts returns every text of a selection and what is said to a screen reader,
// as it stands: with the spaces at which no line ends.
func Texts(s *goquery.Selection) map[string]bool {
	all := map[string]bool{}
	s.Find("*").AddSelection(s).Each(func(_ int, e *goquery.Selection) {
		for _, attribute := range []string{"alt", "aria-label", "title"} {
			all[e.AttrOr(attribute, "")] = true
		}
		e.Contents().Each(func(_ int, n *goquery.Selection) {
			if goquery.NodeName(n) == "#text" {
				all[strings.Trim(n.Text(), " \t\r\n")] = true
			}
		})
	})
	delete(all, "")
	return all
}

// SoundsRight holds that no text of a selection has a worn word of a language.
func (a *Answer) SoundsRight(language string, s *goquery.Selection) {
	a.Helper()
	for text := range Texts(s) {
		if found := worn.In(language, text); len(found) > 0 && !strings.Contains(text, "://") {
			a.Errorf("%s, %s: %q in %q", a.Path, language, found, text)
		}
	}
}

// One returns what a selector finds, which has to be exactly one.
func (a *Answer) One(selector string) *goquery.Selection {
	a.Helper()
	found := a.Page.Find(selector)
	if found.Length() != 1 {
		a.Fatalf("%d of %s at %s", found.Length(), selector, a.Path)
	}
	return found
}

// Count checks how many a selector finds.
func (a *Answer) Count(selector string, want int) {
	a.Helper()
	if got := a.Page.Find(selector).Length(); got != want {
		a.Errorf("%d of %s at %s, want %d", got, selector, a.Path, want)
	}
}

// ByID is the selector of the element with an id.
func ByID(id string) string { return fmt.Sprintf(`[id="%s"]`, id) }
