package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path"
	"strings"
	"sync"
	"testing"
	"time"

	"kinwain/internal/store"
)

const (
	kills   = 60
	writers = 4
	longest = 100 * time.Millisecond // that writers have after the first save, before the program is killed
)

// TestEveryAnswerOutlivesAKill kills the program in the midst of writing
// clients, again and again on the same folder, and finds every save that it
// acknowledged.
func TestEveryAnswerOutlivesAKill(t *testing.T) {
	t.Parallel()
	dir := demoShop.New(t)
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client := http.Client{Jar: jar}
	saved := map[string]*saves{}
	for round := range kills {
		program, link := spawn(t, dir)
		if round == 0 {
			a := &app{T: t, dir: dir, link: link, base: baseOf(t, link), client: client}
			a.signIn()
		}
		var mutex sync.Mutex
		var busy sync.WaitGroup
		first := make(chan struct{}, writers)
		ctx, stop := context.WithCancel(t.Context())
		for range writers {
			busy.Go(func() {
				id, s := writeUntilKilled(ctx, client, baseOf(t, link), first)
				mutex.Lock()
				defer mutex.Unlock()
				if id != "" {
					saved[id] = s
				}
			})
		}
		select {
		case <-first:
		case <-time.After(time.Minute):
			t.Fatal("nothing is acknowledged")
		}
		time.Sleep(time.Duration(rand.Int64N(int64(longest))))
		if err := program.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		_ = program.Wait() // that it was killed is no news
		stop()
		busy.Wait()
	}
	checkSaved(t, dir, saved)
}

// saves says what one client has sent of one consultation: customers by count.
type saves struct {
	acknowledged int // 0: the consultation itself
	sent         int
}

// writeUntilKilled creates a consultation and saves it over and over until
// nobody answers any more, and says when the first save was acknowledged. No ID
// means that not even the consultation was.
func writeUntilKilled(ctx context.Context, client http.Client, base string, first chan<- struct{}) (id string, s *saves) {
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	at, ok := posted(ctx, &client, base+"/consultations", "")
	if !ok {
		return "", nil
	}
	s = &saves{}
	for {
		s.sent++
		answers := url.Values{"units": {"metric"}, "do": {"save"}, "customer": {fmt.Sprint(s.sent)}}
		if _, ok := posted(ctx, &client, base+at, answers.Encode()); !ok {
			return path.Base(at), s
		}
		if s.acknowledged = s.sent; s.sent == 1 {
			first <- struct{}{}
		}
	}
}

// posted sends a form and reports whether it was acknowledged, and where that
// leads on to.
func posted(ctx context.Context, client *http.Client, address, body string) (location string, ok bool) {
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, address, strings.NewReader(body))
	if err != nil {
		return "", false
	}
	r.Header.Set("Content-Type", formType)
	response, err := client.Do(r)
	if err != nil {
		return "", false
	}
	_, err = io.Copy(io.Discard, response.Body)
	return response.Header.Get("Location"), err == nil && response.Body.Close() == nil && response.StatusCode == http.StatusSeeOther
}

// checkSaved opens the store as the last kill has left it. Of every
// consultation it holds the last save that was acknowledged, or the one after
// it, which was under way.
func checkSaved(t *testing.T, dir string, saved map[string]*saves) {
	t.Helper()
	s, err := store.OpenAlone(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	acknowledged := 0
	for id, client := range saved {
		acknowledged += 1 + client.acknowledged
		c, err := s.Consultation(t.Context(), id)
		if err != nil {
			t.Errorf("after %d saves: %v", client.acknowledged, err)
			continue
		}
		least, most := fmt.Sprint(client.acknowledged), fmt.Sprint(client.sent)
		if client.acknowledged == 0 {
			least = ""
		}
		if c.Customer != least && c.Customer != most {
			t.Errorf("save %s was acknowledged and %s under way; kept is %q", least, most, c.Customer)
		}
	}
	if len(saved) < kills || acknowledged < 2*kills {
		t.Errorf("only %d consultations and %d saves were acknowledged before a kill: that tries nothing", len(saved), acknowledged)
	}
	t.Logf("%d saves of %d consultations were acknowledged, and all are there", acknowledged, len(saved))
}

// spawn starts the program on its own and returns it with the link that it
// prints once it is ready.
func spawn(t *testing.T, dir string) (program *exec.Cmd, link string) {
	t.Helper()
	program = exec.CommandContext(t.Context(), os.Args[0], "-addr", "127.0.0.1:0", "-data", dir)
	program.Env = append(os.Environ(), asProgram+"=1")
	var stderr output
	program.Stderr = &stderr
	out, err := program.StdoutPipe()
	if err == nil {
		err = program.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if m := printedLink.FindString(lines.Text() + "\n"); m != "" {
			return program, strings.TrimSpace(m)
		}
	}
	t.Fatalf("ended without a link: %s", &stderr)
	return nil, ""
}

// baseOf is where the app of a printed link is.
func baseOf(t *testing.T, link string) string {
	t.Helper()
	m := printedLink.FindStringSubmatch(link + "\n")
	if m == nil {
		t.Fatalf("%q is no link", link)
	}
	return m[1]
}
