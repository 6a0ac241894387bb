// Package static holds the style sheets, the scripts and the icon.
package static

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"net/http"
	"strings"
)

//go:embed app.css app.js desk.css desk.js fit.css fit.js icon.svg inventory.css inventory.js
var files embed.FS

// prefix is where the files are served.
const prefix = "/static/"

// Address returns where a file is served. It changes with the content, so
// that a browser may keep the file for good.
func Address(name string) string {
	data, err := files.ReadFile(name)
	if err != nil {
		panic("static: " + err.Error()) // a name in this program is misspelt
	}
	sum := sha256.Sum256(data)
	return prefix + name + "?v=" + base64.RawURLEncoding.EncodeToString(sum[:9])
}

// Handler serves the files.
func Handler() http.Handler {
	serve := http.StripPrefix(prefix, http.FileServerFS(files))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, "/") { // a folder, which has no list to show
			http.NotFound(w, r)
			return
		}
		if r.URL.Query().Has("v") {
			w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		}
		serve.ServeHTTP(w, r)
	})
}
