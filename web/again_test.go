package web

import (
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
)

func page(size int) answered { return answered{body: make([]byte, size)} }

// TestPagesAreBounded keeps pages of one state, and never more than fit.
func TestPagesAreBounded(t *testing.T) {
	t.Parallel()
	var p pages
	p.keep("1", "a", page(10))
	p.keep("1", "a", page(20))
	if a, found := p.find("1", "a"); !found || len(a.body) != 10 {
		t.Errorf("%v, %d bytes", found, len(a.body))
	}
	if _, found := p.find("2", "a"); found {
		t.Error("found in another state")
	}
	p.keep("2", "b", page(10))
	if _, found := p.find("1", "a"); found {
		t.Error("the state before is still known")
	}
	p.keep("2", "huge", page(mostPages+1))
	if _, found := p.find("2", "huge"); found || p.bytes > mostPages {
		t.Errorf("%v: more is kept than fits: %d bytes", found, p.bytes)
	}
	for i := range 40 {
		p.keep("2", strconv.Itoa(i), page(mostPages/16))
		sum := 0
		for request, a := range p.kept {
			sum += len(request) + len(a.body)
		}
		if sum != p.bytes || sum > mostPages {
			t.Fatalf("%d bytes are kept and %d counted", sum, p.bytes)
		}
	}
	if _, found := p.find("2", "39"); !found {
		t.Error("the last page is not known")
	}
}

// TestTokensAreDrawnAnew sends a page with two forms again: each form has a
// token of its own, and nothing else differs.
func TestTokensAreDrawnAnew(t *testing.T) {
	t.Parallel()
	form := `<input type="hidden" name="once" value="` + strings.Repeat("A", 26) + `">`
	w := &witness{ResponseWriter: httptest.NewRecorder()}
	_, _ = w.Write([]byte("<p>" + form + "</p>")) // to memory
	_, _ = w.Write([]byte(form))
	a := w.answered()
	if w.status != http.StatusOK || len(a.tokens) != 2 {
		t.Fatalf("%d, tokens at %d", w.status, a.tokens)
	}
	seen := map[string]bool{}
	for range 3 {
		again := httptest.NewRecorder()
		a.send(again)
		sent := again.Body.String()
		for _, found := range token.FindAllStringSubmatch(sent, -1) {
			seen[found[1]] = true
		}
		if masked := token.ReplaceAllString(sent, strings.TrimSuffix(form[len(`<input type="hidden" `):], ">")); masked != string(a.body) {
			t.Errorf("%q", sent)
		}
	}
	if len(seen) != 6 {
		t.Errorf("%d tokens in three looks at two forms", len(seen))
	}
}
