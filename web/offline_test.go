package web_test

import (
	"encoding/json"
	"image/png"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"kinwain/web/kit"
	"kinwain/web/webtest"
)

// TestManifest holds that a browser finds what it needs for a home screen, in
// the colours of the pages.
func TestManifest(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	page := v.Get("/").Is(http.StatusOK, "/")
	address := page.One(`link[rel="manifest"]`).AttrOr("href", "")
	var m struct {
		Name, Display, Scope string
		StartURL             string `json:"start_url"`
		Theme                string `json:"theme_color"`
		Icons                []struct{ Src, Sizes, Type, Purpose string }
	}
	a := s.Stranger().Get(address).Is(http.StatusOK, "/manifest.webmanifest")
	if err := json.Unmarshal(a.Body, &m); err != nil || a.Header.Get("Content-Type") != "application/manifest+json" {
		t.Fatal(err, a.Header)
	}
	if m.Name != "Kinwain" || m.StartURL != "/" || m.Scope != "/" || m.Display != "standalone" {
		t.Errorf("%+v", m)
	}
	sizes := map[string]bool{}
	for _, icon := range m.Icons {
		sizes[icon.Sizes+icon.Purpose] = true
		got := s.Stranger().Get(icon.Src)
		if got.Status != http.StatusOK || got.Header.Get("Content-Type") != icon.Type {
			t.Errorf("%s: %d, %s", icon.Src, got.Status, got.Header.Get("Content-Type"))
		}
		if icon.Type != "image/png" {
			continue
		}
		config, err := png.DecodeConfig(strings.NewReader(string(got.Body)))
		if size := strconv.Itoa(config.Width) + "x" + strconv.Itoa(config.Height); err != nil || size != icon.Sizes {
			t.Errorf("%s is of %s, %v", icon.Src, size, err)
		}
	}
	if !sizes["192x192"] || !sizes["512x512"] || !sizes["512x512maskable"] {
		t.Error(sizes)
	}
	css := string(s.Stranger().Get("/static/app.css").Body)
	papers := regexp.MustCompile(`--paper: (#[0-9a-f]{6});`).FindAllStringSubmatch(css, -1)
	if len(papers) != 2 || papers[0][1] != kit.LightPaper || papers[1][1] != kit.DarkPaper || m.Theme != kit.LightPaper {
		t.Errorf("%v, %s", papers, m.Theme)
	}
	page.Count(`meta[name="theme-color"]`, 2)
}

// TestOnlyTheShopsDevicesKeepAPage holds that no page for customers and none for
// strangers names the manifest, by which a browser offers the home screen, and
// that the worker leaves theirs alone.
func TestOnlyTheShopsDevicesKeepAPage(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Plain))
	v.Get(address+"/frames").Count(`link[rel="manifest"]`, 1)
	fit := v.SendHome(address, "osier-m", nil)
	fit = fit[strings.Index(fit, "/fit/"):]
	for _, path := range []string{fit, "/fit/none", "/sign-in"} {
		s.Stranger().Get(path).Count(`link[rel="manifest"], form.out`, 0)
	}
	worker := s.Stranger().Get("/worker.js").Is(http.StatusOK, "/worker.js")
	if worker.Header.Get("Cache-Control") != "no-cache" || !strings.HasPrefix(worker.Header.Get("Content-Type"), "text/javascript") {
		t.Error(worker.Header)
	}
	if strings.Contains(string(worker.Body), "{css}") || strings.Contains(string(worker.Body), "{version}") {
		t.Errorf("%s", worker.Body)
	}
	offline := s.Stranger().Get("/offline").Is(http.StatusOK, "/offline")
	if css := offline.One("link[rel=stylesheet]").AttrOr("href", ""); !strings.Contains(string(worker.Body), `"`+css+`"`) {
		t.Errorf("the worker does not keep %s", css)
	}
}
