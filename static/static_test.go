package static

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
)

func get(path string, header ...string) *http.Response {
	r := httptest.NewRequest(http.MethodGet, path, nil)
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	Handler().ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r io.Reader) []byte {
	t.Helper()
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestEncodings asks for every file in every encoding, and decodes it.
func TestEncodings(t *testing.T) {
	entries, err := files.ReadDir(".")
	if err != nil || len(entries) < 5 {
		t.Fatalf("%d files, %v", len(entries), err)
	}
	decoders := map[string]func(io.Reader) (io.Reader, error){
		"":     func(r io.Reader) (io.Reader, error) { return r, nil },
		"br":   func(r io.Reader) (io.Reader, error) { return brotli.NewReader(r), nil },
		"gzip": func(r io.Reader) (io.Reader, error) { return gzip.NewReader(r) },
	}
	for _, entry := range entries {
		plain, err := files.ReadFile(entry.Name())
		if err != nil {
			t.Fatal(err)
		}
		tags := map[string]bool{}
		for coding, decoder := range decoders {
			a := get(Address(entry.Name()), "Accept-Encoding", coding)
			if got := a.Header.Get("Content-Encoding"); got != coding || a.Header.Get("Vary") != "Accept-Encoding" {
				t.Errorf("%s: %q, want %q; varies by %q", entry.Name(), got, coding, a.Header.Get("Vary"))
				continue
			}
			if kind := a.Header.Get("Content-Type"); !strings.HasPrefix(kind, "text/") && kind != "image/svg+xml" && kind != "image/png" {
				t.Errorf("%s is %s", entry.Name(), kind)
			}
			tags[a.Header.Get("ETag")] = true
			r, err := decoder(a.Body)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(body(t, r), plain) {
				t.Errorf("%s as %q is something else", entry.Name(), coding)
			}
			again := get(Address(entry.Name()), "Accept-Encoding", coding, "If-None-Match", a.Header.Get("ETag"))
			if again.StatusCode != http.StatusNotModified || len(body(t, again.Body)) != 0 {
				t.Errorf("%s as %q is sent again: %d", entry.Name(), coding, again.StatusCode)
			}
		}
		if len(tags) != len(decoders) {
			t.Errorf("%s has the tags %v", entry.Name(), tags)
		}
	}
}

// TestOnlyTheRightVersionIsKeptForGood holds that an address by another content
// is asked about again.
func TestOnlyTheRightVersionIsKeptForGood(t *testing.T) {
	for path, want := range map[string]string{
		Address("app.css"):         "public, max-age=31536000, immutable",
		"/static/app.css?v=any":    "no-cache",
		"/static/app.css?v=":       "no-cache",
		"/static/app.css":          "no-cache",
		Address("app.css") + "A":   "no-cache",
		Address("app.js") + "&v=a": "public, max-age=31536000, immutable",
	} {
		if a := get(path); a.StatusCode != http.StatusOK || a.Header.Get("Cache-Control") != want {
			t.Errorf("%s: %d, %s", path, a.StatusCode, a.Header.Get("Cache-Control"))
		}
	}
	for _, path := range []string{"/static/", "/static/nothing.css", "/static/static.go", "/static/../app.css", "/static//app.css"} {
		if a := get(path); a.StatusCode != http.StatusNotFound || a.Header.Get("Cache-Control") != "" {
			t.Errorf("%s: %d, %s", path, a.StatusCode, a.Header.Get("Cache-Control"))
		}
	}
}

func TestAccepts(t *testing.T) {
	for list, want := range map[string]string{
		"": "", "identity": "", "gzip": "gzip", "gzip, deflate, br, zstd": "br", "br;q=0, gzip": "gzip", "BR; q=0.5": "br",
		"gzip;q=0.0": "", "br;q=x": "", "brotli, gzipped": "",
	} {
		if got, _ := ready()["app.css"].sent(list); got != want {
			t.Errorf("%q: %q, want %q", list, got, want)
		}
	}
}
