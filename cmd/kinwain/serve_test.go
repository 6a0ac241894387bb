package main

import (
	"database/sql"
	"errors"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/http/httptrace"
	"net/url"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"kinwain/internal/store"
	"kinwain/web"
)

const formType = "application/x-www-form-urlencoded"

// TestFromTheLinkToALoadSheet goes the whole way over HTTP, stops, starts
// again on the same folder and finds everything there.
func TestFromTheLinkToALoadSheet(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	a := start(t, dir).signIn()
	response, _ := a.post("/consultations", formType, "")
	consultation := response.Request.URL.Path
	answers := url.Values{"units": {"metric"}, "do": {"frames"}, "customer": {"M."}, "riders[0].label": {"A"}, "riders[0].height_cm": {`5'10"`}, "riders[0].weight_kg": {"82,5"}, "cargo_kg": {"20 lb"}}
	response, page := a.post(consultation, formType, answers.Encode())
	if response.Request.URL.Path != consultation+"/frames" || page.Find(".ranked > li[data-frame]").Length() != 14 {
		t.Fatalf("%d frames at %s", page.Find("[data-frame]").Length(), response.Request.URL.Path)
	}
	first := page.Find(".ranked h3 a").First().AttrOr("href", "")
	if _, page = a.get(first); page.Find("figure.sheet table.sum tfoot .total td").Length() != 1 {
		t.Errorf("no sum at %s", first)
	}
	a.stop()

	b := start(t, dir)
	if response, _ := b.get("/sign-in/" + a.link[strings.LastIndex(a.link, "/")+1:]); response.StatusCode != http.StatusNotFound {
		t.Errorf("the link of before: %d", response.StatusCode)
	}
	b.signIn()
	if _, page = b.get(consultation); page.Find(`[name="riders[0].height_cm"]`).AttrOr("value", "") != `5'10"` {
		t.Error("what was typed is gone")
	}
	if _, page = b.get("/"); page.Find(".resume strong").Text() != "M." {
		t.Errorf("to resume is %q", page.Find(".resume").Text())
	}
	b.stop()
}

// TestOpeningsOutliveTheProgram opens a fit summary, stops before what was
// counted is due to be written, and finds it with the next program.
func TestOpeningsOutliveTheProgram(t *testing.T) {
	t.Parallel()
	a := start(t, demoShop.New(t)).signIn()
	made, _ := a.post("/consultations", formType, "")
	answers := url.Values{"units": {"metric"}, "do": {"save"}, "riders[0].label": {"A"}, "riders[0].height_cm": {"178"}, "riders[0].weight_kg": {"82"}}
	a.post(made.Request.URL.Path, formType, answers.Encode())
	send := made.Request.URL.Path + "/frames/sedge/send"
	_, page := a.post(send, formType, "")
	link := page.Find(".handover .address a").AttrOr("href", "no link")
	customer := &app{T: t, base: a.base}
	for range 2 {
		if response, _ := customer.get(link); response.StatusCode != http.StatusOK {
			t.Fatalf("%s: %d", link, response.StatusCode)
		}
	}
	a.stop()
	b := start(t, a.dir).signIn()
	if _, page := b.get(send); !strings.Contains(page.Find(".revoking td").Text(), "Opened twice") {
		t.Errorf("the list of links says %q", page.Find(".revoking").Text())
	}
	b.stop()
}

// TestStopLetsARequestFinish stops the program while a save is half sent, and
// sends the rest once nobody is let in any more.
func TestStopLetsARequestFinish(t *testing.T) {
	t.Parallel()
	a := start(t, demoShop.New(t)).signIn()
	made, _ := a.post("/consultations", formType, "")
	at := made.Request.URL.Path
	body, pen := io.Pipe()
	written := make(chan error, 1)
	trace := &httptrace.ClientTrace{Got100Continue: func() { // the program is reading by now
		a.cancel()
		go func() {
			a.closed()
			_, err := io.WriteString(pen, "units=metric&do=save&customer=M.")
			written <- errors.Join(err, pen.Close())
		}()
	}}
	r, err := http.NewRequestWithContext(httptrace.WithClientTrace(t.Context(), trace), http.MethodPost, a.base+at, body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", formType)
	r.Header.Set("Expect", "100-continue")
	a.client.Transport = &http.Transport{ExpectContinueTimeout: usual.read}
	a.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	response, _ := a.send(r)
	if err := <-written; err != nil {
		t.Error(err)
	}
	if response.StatusCode != http.StatusSeeOther {
		t.Errorf("the request ended with %d", response.StatusCode)
	}
	a.stop()
	s, err := store.Open(t.Context(), a.dir)
	if err != nil {
		t.Fatal(err)
	}
	if kept, err := s.Consultation(t.Context(), path.Base(at)); err != nil || kept.Customer != "M." {
		t.Errorf("kept is %q, %v", kept.Customer, err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// closed waits until nobody listens any more.
func (a *app) closed() {
	for deadline := time.Now().Add(usual.drain); ; time.Sleep(time.Millisecond) {
		c, err := net.Dial("tcp", strings.TrimPrefix(a.base, "http://"))
		if err != nil {
			return
		}
		_ = c.Close() // nothing was sent
		if time.Now().After(deadline) {
			a.Error("somebody still listens")
			return
		}
	}
}

func TestServeHealth(t *testing.T) {
	t.Parallel()
	admin := freeAddress(t)
	a := start(t, demoShop.New(t), "-admin-addr", admin)
	response, page := a.get("http://" + admin + "/healthz")
	if response.StatusCode != http.StatusOK || page.Text() != "ok\n" {
		t.Errorf("%d %q", response.StatusCode, page.Text())
	}
	if response, _ := a.get("http://" + admin + "/"); response.StatusCode != http.StatusNotFound {
		t.Errorf("the app is at the admin address: %d", response.StatusCode)
	}
	a.signIn()
	for _, path := range []string{"/healthz", "/metrics"} {
		if response, _ := a.get(path); response.StatusCode != http.StatusNotFound {
			t.Errorf("%s is at the main address: %d", path, response.StatusCode)
		}
	}
	profile, err := os.ReadFile(sampleProfiles(t)[0])
	if err != nil {
		t.Fatal(err)
	}
	a.post("/matches", "application/json", string(profile))
	measured := a.measured("http://" + admin + "/metrics")
	for name, want := range map[string]float64{
		`kinwain_requests_total{method="GET",route="none",status="404"}`: 2, `kinwain_requests_total{method="POST",route="/matches",status="200"}`: 1,
		`kinwain_request_duration_seconds_count{route="/matches"}`: 1, "kinwain_solver_duration_seconds_count": 1,
	} {
		if measured[name] != want {
			t.Errorf("%s is %v, want %v", name, measured[name], want)
		}
	}
	for _, name := range []string{"go_goroutines", "process_resident_memory_bytes", "kinwain_solver_duration_seconds_sum"} {
		if measured[name] <= 0 {
			t.Errorf("%s is %v", name, measured[name])
		}
	}
	a.stop()
}

// TestNotHealthy asks when the store is gone.
func TestNotHealthy(t *testing.T) {
	t.Parallel()
	s, err := store.Open(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	var log output
	admin := adminHandler(s, web.NewMetrics(), slog.New(slog.NewTextHandler(&log, nil)))
	ask := func() int {
		w := httptest.NewRecorder()
		admin.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/healthz", nil))
		return w.Code
	}
	if status := ask(); status != http.StatusOK || log.String() != "" {
		t.Errorf("%d, %s", status, &log)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if status := ask(); status != http.StatusServiceUnavailable || !strings.Contains(log.String(), "not healthy") {
		t.Errorf("without a store: %d, %s", status, &log)
	}
}

// TestDataFolderRemovedWhileServing holds that nothing is lost in silence.
func TestDataFolderRemovedWhileServing(t *testing.T) {
	t.Parallel()
	admin := freeAddress(t)
	a := start(t, demoShop.New(t), "-admin-addr", admin, "-backups", "off").signIn()
	made, _ := a.post("/consultations", formType, "")
	if err := os.RemoveAll(a.dir); err != nil {
		t.Fatal(err)
	}
	response, page := a.post(made.Request.URL.Path, formType, "units=metric&do=save&customer=M.")
	said, typed := page.Find(`.alert[role="alert"]`).Text(), page.Find(`[name="customer"]`).AttrOr("value", "")
	if response.StatusCode != http.StatusServiceUnavailable || !strings.Contains(said, "this was not kept") || typed != "M." {
		t.Errorf("a save is answered with %d %q, and %q is left of what was typed", response.StatusCode, said, typed)
	}
	if !strings.Contains(a.stderr.String(), "was removed or replaced while Kinwain was running") {
		t.Errorf("logged: %s", &a.stderr)
	}
	if response, _ := a.get("http://" + admin + "/healthz"); response.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("/healthz says %d", response.StatusCode)
	}
	if response, _ := a.get("/"); response.StatusCode != http.StatusOK {
		t.Errorf("the start page is %d", response.StatusCode)
	}
}

// freeAddress is one that nobody listens on.
func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close() // whoever wants the address listens next
	return l.Addr().String()
}

// measured reads metrics, and returns them by name and labels.
func (a *app) measured(address string) map[string]float64 {
	a.Helper()
	response, page := a.get(address)
	if kind := response.Header.Get("Content-Type"); response.StatusCode != http.StatusOK || !strings.HasPrefix(kind, "text/plain") {
		a.Fatalf("%d %s", response.StatusCode, kind)
	}
	values := map[string]float64{}
	for line := range strings.Lines(page.Text()) {
		at := strings.LastIndex(line, " ")
		if strings.HasPrefix(line, "#") || at < 0 {
			continue
		}
		value, err := strconv.ParseFloat(strings.TrimSpace(line[at:]), 64)
		if err != nil {
			a.Fatal(err)
		}
		values[line[:at]] = value
	}
	return values
}

func TestPublicAddressIsInTheLink(t *testing.T) {
	t.Parallel()
	for given, want := range map[string]string{"https://bikes.example": "https://bikes.example/sign-in/", "http://10.0.0.7:8080/": "http://10.0.0.7:8080/sign-in/"} {
		a := start(t, demoShop.New(t), "-public-url", given)
		if !strings.HasPrefix(a.link, want) {
			t.Errorf("%s: %s", given, a.link)
		}
		a.stop()
	}
}

// TestDemoShopSaysHowItIsReached holds that a new store has the texts of the
// demo shop, and that they stay as the shop makes them.
func TestDemoShopSaysHowItIsReached(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for _, want := range []string{"Low Quay Load Works", "Other Works"} {
		start(t, dir).stop()
		s, err := store.Open(t.Context(), dir)
		if err != nil {
			t.Fatal(err)
		}
		texts, err := s.Texts(t.Context())
		if err != nil || texts["contact_name"] != want {
			t.Errorf("%v, %v", texts, err)
		}
		if err := errors.Join(s.SetTexts(t.Context(), map[string]string{"contact_name": "Other Works"}), s.Close()); err != nil {
			t.Fatal(err)
		}
	}
}

// newerStore makes a store as a later version of the program leaves it.
func newerStore(t *testing.T) string {
	t.Helper()
	dir := demoShop.New(t)
	db, err := sql.Open("sqlite", filepath.Join(dir, store.FileName))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.ExecContext(t.Context(), `INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, 1)`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestServeSaysInOneLineWhyItCannot starts where it cannot work.
func TestServeSaysInOneLineWhyItCannot(t *testing.T) {
	t.Parallel()
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close() // nothing was sent
	file := filepath.Join(t.TempDir(), "file")
	garbage := t.TempDir()
	for _, name := range []string{file, filepath.Join(garbage, store.FileName)} {
		if err := os.WriteFile(name, []byte(strings.Repeat("This is no store. ", 100)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, c := range map[string]struct {
		args []string
		says []string
	}{
		"busy port":       {[]string{"-addr", taken.Addr().String(), "-data", t.TempDir()}, []string{taken.Addr().String(), "in use", "-addr"}},
		"no such address": {[]string{"-addr", "nowhere.invalid:x", "-data", t.TempDir()}, []string{"nowhere.invalid:x"}},
		"no certificate":  {[]string{"-addr", "127.0.0.1:0", "-data", t.TempDir(), "-tls-cert", file, "-tls-key", file}, []string{"-tls-cert", "PEM"}},
		"busy admin port": {[]string{"-addr", "127.0.0.1:0", "-admin-addr", taken.Addr().String(), "-data", t.TempDir()}, []string{taken.Addr().String(), "in use"}},
		"unwritable":      {[]string{"-addr", "127.0.0.1:0", "-data", filepath.Join(file, "data")}, []string{filepath.Join(file, "data"), "cannot be written"}},
		"newer store":     {[]string{"-addr", "127.0.0.1:0", "-data", newerStore(t)}, []string{"newer"}},
		"no store":        {[]string{"-addr", "127.0.0.1:0", "-data", garbage}, []string{garbage, "not a store"}},
	} {
		status, out, line := execute(t, append([]string{"serve"}, c.args...)...)
		if status != 1 || out != "" || !strings.HasPrefix(line, "kinwain: ") || strings.Count(line, "\n") != 1 || !strings.HasSuffix(line, "\n") {
			t.Errorf("%s: %d, %q, %q", name, status, out, line)
		}
		for _, words := range c.says {
			if !strings.Contains(line, words) {
				t.Errorf("%s: %q does not say %q", name, line, words)
			}
		}
	}
}

func TestWrongUsage(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{
		{"-port", "80"}, {"serve", "now"}, {"serve", "-addr"}, {"dance"}, {"help"}, {"match"}, {"match", "-profile"}, {"match", "-profile", "a", "b"}, {"match", "-profile", "a", "-patience", "-1s"}, {"match", "-profile", "a", "-patience", "soon"}, {"import"}, {"import", "a", "b"},
		{"export", "a"}, {"export", "-format", "xml"}, {"backup"}, {"restore", "a", "b"}, {"-public-url", "bikes.example"}, {"-public-url", "ftp://bikes.example"}, {"-public-url", "https://"}, {"-backups-keep", "0"},
		{"-tls-cert", "a"}, {"-tls-key", "a"}, {"-domain", "bikes"}, {"-domain", "192.0.2.1"}, {"-domain", "https://bikes.example"}, {"-domain", "bikes.example", "-tls-cert", "a", "-tls-key", "b"}, {"-log-level", "loud"},
		{"version", "now"}, {"-version", "now"}, {"completion"}, {"completion", "csh"}, {"completion", "bash", "zsh"},
	} {
		status, out, line := execute(t, args...)
		if status != 2 || out != "" || line == "" {
			t.Errorf("%v: %d, %q, %q", args, status, out, line)
		}
	}
}

func TestHelpIsNoMistake(t *testing.T) {
	t.Parallel()
	for _, c := range commands() {
		status, out, help := execute(t, c.name, "-h")
		onStore := c.name != versionFlag && c.name != "completion"
		if status != 0 || out != "" || !strings.HasPrefix(help, "Usage: kinwain "+c.name) || strings.Contains(help, "-data") != onStore || strings.Contains(help, "[flags]") != onStore {
			t.Errorf("%s: %d, %q, %q", c.name, status, out, help)
		}
	}
	if status, _, help := execute(t, "-h"); status != 0 || !strings.Contains(help, "kinwain restore") {
		t.Errorf("%d, %q", status, help)
	}
}

// TestInterrupt sends the real program a real signal.
func TestInterrupt(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "data")
	program := exec.CommandContext(t.Context(), os.Args[0], "-addr", "127.0.0.1:0", "-data", dir)
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
	printed := make([]byte, 4096)
	n, err := out.Read(printed) // the program prints once, when it is ready
	if err != nil || !printedLink.Match(printed[:n]) {
		t.Errorf("printed %q, %v, %s", printed[:n], err, &stderr)
	}
	if err := program.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if err := program.Wait(); err != nil || stderr.String() != "" {
		t.Errorf("%v: %s", err, &stderr)
	}
	if files := slices.DeleteFunc(filesIn(t, dir), isBackups); len(files) != 1 {
		t.Errorf("left behind: %v", files)
	}
}
