// Package static holds the style sheets, the scripts and the icon: what each is
// called by its content, and, once somebody asks for it, how small it gets.
package static

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"mime"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/andybalholm/brotli"
)

//go:embed app.css app.js desk.css desk.js fit.css fit.js floor.css icon.svg icon-192.png icon-512.png icon-maskable-512.png inventory.css inventory.js unsaved.js profile.js
var files embed.FS

// The page that is shown where there is no answer, and the worker that keeps
// it. They name the style sheet by its content.
//
//go:embed offline.html
var offlinePage string

//go:embed worker.js
var worker string

// Offline is the page that is shown where there is no answer.
func Offline() []byte { return []byte(strings.ReplaceAll(offlinePage, "{css}", Address("app.css"))) }

// Worker is the script that shows it. It is another one where the page is.
func Worker() []byte {
	sum := sha256.Sum256(Offline())
	return []byte(strings.NewReplacer("{css}", Address("app.css"), "{version}", base64.RawURLEncoding.EncodeToString(sum[:9])).Replace(worker))
}

// prefix is where the files are served.
const prefix = "/static/"

// file is one file, plain and in the encodings that make it smaller, the
// smallest first. To make it so small takes longer than all else that a start
// does, so that waits until a browser asks for the file in that encoding.
type file struct {
	kind    string // its media type
	version string // of its content
	data    []byte
	encoded [2]encoded
}

// encoded is a file in an encoding.
type encoded struct {
	coding string
	data   func() []byte
}

// ready makes all files ready.
var ready = sync.OnceValue(func() map[string]*file {
	all := map[string]*file{}
	entries, err := files.ReadDir(".")
	for _, entry := range entries {
		var data []byte
		if data, err = files.ReadFile(entry.Name()); err != nil {
			break
		}
		all[entry.Name()] = prepare(entry.Name(), data)
	}
	if err != nil {
		panic("static: " + err.Error()) // of files that are in this program
	}
	return all
})

func prepare(name string, data []byte) *file {
	sum := sha256.Sum256(data)
	return &file{kind: mime.TypeByExtension(path.Ext(name)), version: base64.RawURLEncoding.EncodeToString(sum[:9]), data: data,
		encoded: [...]encoded{
			{"br", sync.OnceValue(func() []byte { return brotlied(data) })},
			{"gzip", sync.OnceValue(func() []byte { return gzipped(data) })},
		}}
}

// Both write to memory, which does not fail.

func brotlied(data []byte) []byte {
	var b bytes.Buffer
	w := brotli.NewWriterLevel(&b, brotli.BestCompression)
	_, _ = w.Write(data)
	_ = w.Close()
	return b.Bytes()
}

func gzipped(data []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	_, _ = w.Write(data)
	_ = w.Close()
	return b.Bytes()
}

// Address returns where a file is served. It changes with the content, so
// that a browser may keep the file for good.
func Address(name string) string {
	f := ready()[name]
	if f == nil {
		panic("static: there is no " + name) // a name in this program is misspelt
	}
	return prefix + name + "?v=" + f.version
}

// Handler serves the files. A browser keeps for good what it asked for by the
// very content; anything else it has to ask about again.
func Handler() http.Handler {
	all := ready()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, prefix)
		f := all[name]
		if f == nil {
			http.NotFound(w, r)
			return
		}
		f.serve(w, r)
	})
}

// Made serves a file that the program makes once, when it is first asked for.
func Made(kind string, make func() []byte) http.Handler {
	ready := sync.OnceValue(func() *file {
		f := prepare("", make())
		f.kind = kind
		return f
	})
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { ready().serve(w, r) })
}

// serve sends a file as small as the browser takes it.
func (f *file) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-cache")
	if r.URL.Query().Get("v") == f.version {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	coding, data := f.sent(r.Header.Get("Accept-Encoding"))
	h.Set("Vary", "Accept-Encoding")
	h.Set("Content-Type", f.kind)
	h.Set("ETag", `"`+f.version+coding+`"`)
	if coding != "" {
		h.Set("Content-Encoding", coding)
		if r.Header.Get("Range") == "" {
			h.Set("Content-Length", strconv.Itoa(len(data)))
		}
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}

// sent chooses the smallest form that a browser takes. The plain one has no
// coding.
func (f *file) sent(accepted string) (coding string, data []byte) {
	for _, e := range f.encoded {
		if !accepts(accepted, e.coding) {
			continue
		}
		if data := e.data(); len(data) < len(f.data) {
			return e.coding, data
		}
	}
	return "", f.data
}

// accepts reports whether a list of encodings, as a request has it, names one
// and does not refuse it.
func accepts(list, coding string) bool {
	for _, member := range strings.Split(list, ",") {
		name, weight, _ := strings.Cut(member, ";")
		if strings.EqualFold(strings.TrimSpace(name), coding) {
			_, q, weighed := strings.Cut(weight, "q=")
			n, err := strconv.ParseFloat(strings.TrimSpace(q), 64)
			return !weighed || err == nil && n > 0
		}
	}
	return false
}
