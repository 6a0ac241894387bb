package shop_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"kinwain/internal/staff"
	"kinwain/web/webtest"
)

// from signs in from an address of the network, as the proxy on this computer
// tells it.
func from(v *webtest.Visitor, address, name, passphrase string) *webtest.Answer {
	r := v.Request(http.MethodPost, "/sign-in", strings.NewReader(url.Values{"do": {"passphrase"}, "name": {name}, "passphrase": {passphrase}}.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("X-Forwarded-For", address)
	return v.Send(r)
}

// TestAGuesserKeepsNoOwnerOut guesses a name from one network until it has to
// wait, and lets its owner in from elsewhere, and on a device that is known from
// the very same network.
func TestAGuesserKeepsNoOwnerOut(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	home := s.Stranger()
	from(home, "2001:db8:0:1::7", "Ansa", webtest.Passphrase).Is(http.StatusOK, "/")
	home.Post("/sign-out", nil)
	for i := range 3 {
		from(s.Stranger(), fmt.Sprintf("2001:db8:0:1::%x", 100+i), "Ansa", "a guess").Is(http.StatusUnprocessableEntity, "/sign-in")
	}
	from(s.Stranger(), "2001:db8:0:1:ffff::1", "Ansa", "a guess").Is(http.StatusTooManyRequests, "/sign-in") // another address of the same
	from(s.Stranger(), "2001:db8:0:2::1", "Ansa", webtest.Passphrase).Is(http.StatusOK, "/")                 // the owner, elsewhere
	from(home, "2001:db8:0:1::7", "Ansa", webtest.Passphrase).Is(http.StatusOK, "/")                         // and at home, among the guesses
	home.Post("/sign-out", nil)

	// Who has the device of the owner guesses no more often than anybody.
	for range 3 {
		from(home, "2001:db8:0:3::1", "Ansa", "a guess").Is(http.StatusUnprocessableEntity, "/sign-in")
	}
	from(home, "2001:db8:0:4::1", "Ansa", webtest.Passphrase).Is(http.StatusTooManyRequests, "/sign-in")
}

// TestACrowdOfGuessersIsSlowed guesses from as many networks as it takes, until
// a stranger has to wait; a device that is known does not, unless its owner has
// signed out everywhere.
func TestACrowdOfGuessersIsSlowed(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	ansa := s.Hire("Ansa", staff.Manager)
	home := s.As("Ansa")
	home.Post("/sign-out", nil)
	for i := range 100 {
		key := staff.Key{Name: "passphrase of " + staff.Fold("Ansa"), Free: 1000}
		if wait, err := s.Store.BeginTry(t.Context(), s.Clock(), key); err != nil || wait > 0 {
			t.Fatalf("%d: %v, %v", i, wait, err)
		}
	}
	from(s.Stranger(), "192.0.2.200", "Ansa", webtest.Passphrase).Is(http.StatusTooManyRequests, "/sign-in")
	planted := s.Stranger()
	cookie := &http.Cookie{Name: "kinwain_known", Value: fmt.Sprintf("%d.%d.%d.AAAA~%064d", ansa.ID, ansa.Epoch, s.Clock().Unix(), 0), Path: "/"}
	planted.Client.Jar.SetCookies(planted.Request(http.MethodGet, "/", nil).URL, []*http.Cookie{cookie})
	from(planted, "192.0.2.201", "Ansa", webtest.Passphrase).Is(http.StatusTooManyRequests, "/sign-in")
	home.SignIn("Ansa", webtest.Passphrase).Is(http.StatusOK, "/")
	home.Post("/me", url.Values{"do": {"everywhere"}}).Is(http.StatusOK, "/sign-in")
	home.SignIn("Ansa", webtest.Passphrase).Is(http.StatusTooManyRequests, "/sign-in")
}

// TestOwnersSeeWhereTheySignedIn signs in and fails to, and looks.
func TestOwnersSeeWhereTheySignedIn(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	from(s.Stranger(), "192.0.2.9", "Ansa", "a guess").Is(http.StatusUnprocessableEntity, "/sign-in")
	s.Passes(time.Minute)
	v := s.Stranger()
	from(v, "198.51.100.3", "Ansa", webtest.Passphrase).Is(http.StatusOK, "/")
	a := v.Get("/me").Is(http.StatusOK, "/me")
	var lines []string
	for _, line := range a.Page.Find(".seen li").EachIter() {
		lines = append(lines, webtest.Words(line))
	}
	want := []string{"25 November 2026, 09:31, from 198.51.100.3, with the passphrase", "25 November 2026, 09:30, from 192.0.2.9, with a wrong passphrase"}
	if !slices.Equal(lines, want) {
		t.Errorf("%q", lines)
	}
	a.Count(".seen li.wrong", 1)
}

// TestTheLinkIsListedAndEnded has three in by the printed link, ends one from
// the list, and the others everywhere.
func TestTheLinkIsListedAndEnded(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	one, two, three := s.Staff(), s.Staff(), s.Staff()
	listed := one.Get("/settings/staff").Is(http.StatusOK, "/settings/staff")
	listed.Count("#entries ~ .holders > li", 3)
	if got := listed.Text("#entries ~ .holders .hint"); strings.Count(got, "from 127.0.0.1") != 3 || strings.Count(got, "(you)") != 1 {
		t.Errorf("listed: %q", got)
	}
	manager := s.As("Ansa")
	list := manager.Get("/settings/staff")
	list.Count(`form[action^="/settings/staff/link/"]`, 3)
	last := list.Page.Find(`form[action^="/settings/staff/link/"]`).Last().AttrOr("action", "")
	manager.Post(last, nil).Is(http.StatusOK, "/settings/staff").Count(`form[action^="/settings/staff/link/"]`, 2)
	one.Get("/").Is(http.StatusOK, "/sign-in")
	two.Get("/").Is(http.StatusOK, "/")
	two.Post("/sign-out", nil)
	manager.Get("/settings/staff").Count(`form[action^="/settings/staff/link/"]`, 1)
	manager.Post("/me", url.Values{"do": {"everywhere"}}).Is(http.StatusOK, "/sign-in")
	three.Get("/").Is(http.StatusOK, "/sign-in")

	four, five := s.Staff(), s.Staff()
	four.Post("/me", url.Values{"do": {"everywhere"}}).Is(http.StatusOK, "/sign-in")
	five.Get("/").Is(http.StatusOK, "/sign-in")
	six := s.Staff()
	six.Post("/me", url.Values{"do": {"account"}, "name": {"Orsin"}, "new": {"a boat of my own"}}).Is(http.StatusOK, "/me")
	six.Get("/settings/staff").Is(http.StatusOK, "/settings/staff").Count(`form[action^="/settings/staff/link/"]`, 0)
}

// TestATabletIsEnrolledByACode goes the way from the manager's screen to a
// tablet on which somebody signs in with a PIN.
func TestATabletIsEnrolledByACode(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	belto := s.Hire("Belto", staff.Salesperson)
	s.WithPIN("Belto")
	v := s.Staff()
	v.Post("/settings/staff/devices/code", url.Values{"tablet": {" "}}).Is(http.StatusUnprocessableEntity, "/settings/staff/devices/code").One("#tablet-error")
	a := v.Post("/settings/staff/devices/code", url.Values{"tablet": {"window  tablet"}}).Is(http.StatusOK, "/settings/staff/devices/code")
	link, found := strings.CutPrefix(a.Text(".issued .secret"), webtest.Public)
	if !found || !strings.HasPrefix(link, "/sign-in/device/") {
		t.Fatalf("the link is %q", a.Text(".issued .secret"))
	}
	a.One(".issued .scan svg[role=img] title")
	tablet := s.Stranger()
	for range 2 { // a preview enrols nothing
		tablet.Get(link).Is(http.StatusOK, link)
		tablet.Get("/sign-in").Count("#pin", 0)
	}
	if got := tablet.Post(link, nil).Is(http.StatusOK, "/sign-in").Text("#by-pin"); got != "With a PIN, on window tablet" {
		t.Error(got)
	}
	pin(tablet, belto.ID, webtest.PIN).Is(http.StatusOK, "/")
	for _, again := range []*webtest.Answer{s.Stranger().Get(link), s.Stranger().Post(link, nil)} {
		if again.Status != http.StatusNotFound || again.Text("h1") != "This code enrols nothing" {
			t.Errorf("again: %d %s", again.Status, again.Text("h1"))
		}
	}
	late := v.Post("/settings/staff/devices/code", url.Values{"tablet": {"late"}}).Text(".issued .secret")
	s.Passes(15 * time.Minute)
	path := strings.TrimPrefix(late, webtest.Public)
	s.Stranger().Post(path, nil).Is(http.StatusNotFound, path)
}

// TestSignInUnderAFlood has forty clients guess without a pause, each from a
// network of its own, and counts how many of them are heard before somebody on
// a device that is known, and before somebody who comes for the first time. A
// guess is heard for as long as a hash takes, so that is how long they wait, on
// a machine of any speed.
func TestSignInUnderAFlood(t *testing.T) {
	s := webtest.Open(t)
	s.Hire("Ansa", staff.Manager)
	s.Hire("Belto", staff.Salesperson)
	known := s.Stranger()
	from(known, "198.51.100.1", "Ansa", webtest.Passphrase).Is(http.StatusOK, "/")
	stop := make(chan struct{})
	var flood sync.WaitGroup
	var mutex sync.Mutex
	answers := map[int]int{}
	heard := func() int {
		mutex.Lock()
		defer mutex.Unlock()
		return answers[http.StatusUnprocessableEntity]
	}
	for client := range 40 {
		flood.Go(func() {
			v := s.Stranger()
			for i := 0; ; i++ {
				select {
				case <-stop:
					return
				default:
				}
				status := from(v, fmt.Sprintf("192.0.2.%d", client), fmt.Sprint("name ", client, " ", i), "a guess").Status
				mutex.Lock()
				answers[status]++
				mutex.Unlock()
			}
		})
	}
	for heard() < 5 {
		time.Sleep(time.Millisecond)
	}
	for _, c := range []struct {
		who  string
		name string
		v    *webtest.Visitor
		from string
	}{{"on a device that is known", "Ansa", known, "198.51.100.1"}, {"for the first time", "Belto", s.Stranger(), "198.51.100.2"}} {
		before := heard()
		a := from(c.v, c.from, c.name, webtest.Passphrase)
		for try := 1; a.Status == http.StatusTooManyRequests && try < 4; try++ { // a machine with much else to do hashes for longer than anybody waits
			a = from(c.v, c.from, c.name, webtest.Passphrase)
		}
		a.Is(http.StatusOK, "/")
		first := heard() - before
		t.Logf("%s: %d guesses were heard first", c.who, first)
		if first > 12 {
			t.Errorf("%s: behind %d guesses", c.who, first)
		}
	}
	close(stop)
	flood.Wait()
	t.Logf("the flood was answered %v", answers)
}
