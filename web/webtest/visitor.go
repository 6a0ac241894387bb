package webtest

import (
	"bytes"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"time"

	"github.com/PuerkitoBio/goquery"
)

// Visitor is a browser without a screen: it keeps cookies and follows
// redirects.
type Visitor struct {
	*Shop
	Client http.Client
}

// Stranger returns a visitor whom nobody knows.
func (s *Shop) Stranger() *Visitor {
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.Fatal(err)
	}
	return &Visitor{s, http.Client{Jar: jar, Transport: s.Server.Client().Transport}}
}

// Staff returns a visitor who has signed in by the printed link.
func (s *Shop) Staff() *Visitor {
	s.Helper()
	s.PrintLink()
	v := s.Stranger()
	v.Post("/sign-in/"+Token, nil).Is(http.StatusOK, "/")
	return v
}

// PrintLink makes the printed link one that works, whether it was used or not.
func (s *Shop) PrintLink() {
	s.Helper()
	if err := s.Store.ReplaceSignInLink(s.Context(), Token, s.Clock().Add(24*time.Hour)); err != nil {
		s.Fatal(err)
	}
}

// Get asks for a page.
func (v *Visitor) Get(path string) *Answer { return v.Send(v.Request(http.MethodGet, path, nil)) }

// Post sends a form.
func (v *Visitor) Post(path string, values url.Values) *Answer {
	r := v.Request(http.MethodPost, path, strings.NewReader(values.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return v.Send(r)
}

// Request makes a request to be changed before it is sent.
func (v *Visitor) Request(method, path string, body io.Reader) *http.Request {
	r, err := http.NewRequestWithContext(v.Context(), method, v.Server.URL+path, body)
	if err != nil {
		v.Fatal(err)
	}
	return r
}

// Send sends a request and follows where it leads.
func (v *Visitor) Send(r *http.Request) *Answer {
	v.Helper()
	response, err := v.Client.Do(r)
	if err != nil {
		v.Fatal(err)
	}
	body, err := io.ReadAll(response.Body)
	if err == nil {
		err = response.Body.Close()
	}
	if err != nil {
		v.Fatal(err)
	}
	a := &Answer{T: v.T, Status: response.StatusCode, Header: response.Header, Path: response.Request.URL.RequestURI(), Body: body}
	if a.Page, err = goquery.NewDocumentFromReader(bytes.NewReader(body)); err != nil {
		v.Fatal(err)
	}
	return a
}

// Consultation begins a consultation and returns its address and its form.
func (v *Visitor) Consultation() (address string, f *Filled) {
	v.Helper()
	a := v.Post("/consultations", nil)
	if a.Status != http.StatusOK {
		v.Fatalf("no consultation: %d", a.Status)
	}
	return a.Path, a.Form()
}
