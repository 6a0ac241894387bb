package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"net/http/cookiejar"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/testfolder"
)

// asProgram makes the test binary behave as the program itself.
const asProgram = "KINWAIN_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

// demoShop is the data of a first start.
var demoShop = testfolder.Once{Make: func(dir string) error {
	s, err := openStore(context.Background(), dir)
	if err != nil {
		return err
	}
	return s.Close()
}}

// output collects what a program writes while others read it.
type output struct {
	mutex sync.Mutex
	bytes.Buffer
}

func (o *output) Write(p []byte) (int, error) {
	o.mutex.Lock()
	defer o.mutex.Unlock()
	return o.Buffer.Write(p)
}

func (o *output) String() string {
	o.mutex.Lock()
	defer o.mutex.Unlock()
	return o.Buffer.String()
}

// execute runs a command line to its end.
func execute(t *testing.T, args ...string) (status int, out, err string) {
	t.Helper()
	var stdout, stderr output
	status = run(t.Context(), &program{out: &stdout, err: &stderr}, args)
	return status, stdout.String(), stderr.String()
}

// done runs a command line that has to succeed, and returns what it wrote.
func done(t *testing.T, args ...string) string {
	t.Helper()
	status, out, err := execute(t, args...)
	if status != 0 {
		t.Fatalf("%v: exit status %d: %s", args, status, err)
	}
	return out
}

// app is the program serving in the background, and a browser without a
// screen that visits it.
type app struct {
	*testing.T
	dir, link, base string
	stdout, stderr  output
	client          http.Client
	cancel          context.CancelFunc
	ended           chan int
}

var printedLink = regexp.MustCompile(`(https?://[a-z0-9.:]+)/sign-in/[A-Z0-9]{26}\n`)

// start serves a data folder on a free port and waits for the link.
func start(t *testing.T, dir string, flags ...string) *app {
	t.Helper()
	return startUntil(t, dir, func(a *app) bool {
		m := printedLink.FindStringSubmatch(a.stdout.String())
		if m != nil {
			a.link, a.base = strings.TrimSpace(m[0]), m[1]
		}
		return m != nil
	}, flags...)
}

// startUntil serves a data folder on a free port and waits until it is ready.
func startUntil(t *testing.T, dir string, ready func(*app) bool, flags ...string) *app {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	a := &app{T: t, dir: dir, cancel: cancel, ended: make(chan int, 1), client: http.Client{Jar: jar}}
	finished := make(chan struct{})
	go func() {
		defer close(finished)
		a.ended <- run(ctx, &program{out: &a.stdout, err: &a.stderr}, append([]string{"serve", "-addr", "127.0.0.1:0", "-data", dir}, flags...))
	}()
	t.Cleanup(func() { // what goes on in the background is over before its folder goes
		cancel()
		<-finished
	})
	for deadline := time.Now().Add(time.Minute); !ready(a); time.Sleep(2 * time.Millisecond) {
		select {
		case status := <-a.ended:
			t.Fatalf("ended at once with %d: %s", status, &a.stderr)
		default:
		}
		if time.Now().After(deadline) {
			t.Fatalf("no link: %s%s", &a.stdout, &a.stderr)
		}
	}
	return a
}

// stop does what Ctrl-C does, and checks that the program ends well and
// leaves one whole file.
func (a *app) stop() {
	a.Helper()
	a.cancel()
	select {
	case status := <-a.ended:
		if status != 0 || a.stderr.String() != "" {
			a.Errorf("exit status %d: %s", status, &a.stderr)
		}
	case <-time.After(time.Minute):
		a.Fatal("does not end")
	}
	if files := filesIn(a.T, a.dir); !slices.Equal(slices.DeleteFunc(files, isBackups), []string{"kinwain.db"}) {
		a.Errorf("left behind: %v", files)
	}
}

// isBackups reports whether a file is the folder of the backups, which are made
// in the background unless the end comes first.
func isBackups(name string) bool { return name == "backups" }

func filesIn(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// get opens a page by its path, or by the whole link.
func (a *app) get(address string) (*http.Response, *goquery.Document) {
	a.Helper()
	r, err := http.NewRequestWithContext(a.Context(), http.MethodGet, a.whole(address), nil)
	if err != nil {
		a.Fatal(err)
	}
	return a.send(r)
}

// post sends a body of a media type.
func (a *app) post(address, kind, body string) (*http.Response, *goquery.Document) {
	a.Helper()
	r, err := http.NewRequestWithContext(a.Context(), http.MethodPost, a.whole(address), strings.NewReader(body))
	if err != nil {
		a.Fatal(err)
	}
	r.Header.Set("Content-Type", kind)
	return a.send(r)
}

func (a *app) whole(address string) string {
	if strings.HasPrefix(address, "/") {
		return a.base + address
	}
	return address
}

// send returns the answer with its body read, and the page that it is.
func (a *app) send(r *http.Request) (*http.Response, *goquery.Document) {
	a.Helper()
	response, err := a.client.Do(r)
	if err != nil {
		a.Fatal(err)
	}
	body, err := io.ReadAll(response.Body)
	if err == nil {
		err = response.Body.Close()
	}
	if err != nil {
		a.Fatal(err)
	}
	page, err := goquery.NewDocumentFromReader(bytes.NewReader(body))
	if err != nil {
		a.Fatal(err)
	}
	response.Body = io.NopCloser(bytes.NewReader(body))
	return response, page
}

// signIn opens the printed link.
func (a *app) signIn() *app {
	a.Helper()
	if response, page := a.post(a.link, formType, ""); response.StatusCode != http.StatusOK || page.Find(".start").Length() != 1 {
		a.Fatalf("%s: %d", a.link, response.StatusCode)
	}
	return a
}

// sampleProfiles returns the paths of the sample customers.
func sampleProfiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/profiles/*.json")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d sample customers, %v", len(files), err)
	}
	return files
}
