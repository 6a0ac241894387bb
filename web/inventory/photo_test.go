package inventory_test

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"net/http"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

func TestPhoto(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	a := v.SendPhoto(path, "Seen from the left", webtest.PictureOf(t, 2000, 1000)).Is(http.StatusOK, path)
	img := a.One("img.ware-photo")
	if img.AttrOr("alt", "") != "Seen from the left" {
		t.Error(img.AttrOr("alt", ""))
	}
	small := v.Get("/inventory/frames").One(".wares img")
	for address, side := range map[string]int{img.AttrOr("src", ""): 1600, small.AttrOr("src", ""): 160} {
		a := v.Get(address)
		config, err := jpeg.DecodeConfig(bytes.NewReader(a.Body))
		if err != nil || config.Width != side || a.Header.Get("Content-Type") != "image/jpeg" || a.Header.Get("X-Content-Type-Options") != "nosniff" ||
			!strings.HasPrefix(a.Header.Get("Cache-Control"), "private") || a.Header.Get("Content-Length") != fmt.Sprint(len(a.Body)) {
			t.Errorf("%s: %v %v %v", address, config, err, a.Header)
		}
		if b := v.Stranger().Get(address); b.Status != http.StatusForbidden {
			t.Errorf("a stranger gets %d", b.Status)
		}
	}
	v.Get("/inventory/units/"+v.Catalogue().Units[0].Tag+"/photo").Is(http.StatusNotFound, "/inventory/units/"+v.Catalogue().Units[0].Tag+"/photo")
}

func TestPhotosThatAreRefused(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	// A PNG header that promises 60,000 by 60,000 pixels.
	bomb := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR\x00\x00\xea\x60\x00\x00\xea\x60\x08\x06\x00\x00\x00"), 0xd8, 0x6f, 0x3d, 0x0a)
	for name, c := range map[string]struct {
		alt  string
		data []byte
		want string
	}{
		"no words":   {" ", webtest.PictureOf(t, 10, 10), "say in a few words"},
		"no picture": {"A bike", nil, "choose a picture"},
		"a page":     {"A bike", []byte("<html><script>alert(1)</script></html>"), "no JPEG, PNG or GIF"},
		"a bomb":     {"A bike", bomb, "no"},
		"many bytes": {"A bike", make([]byte, 12<<20+1), "larger than 12 MB"},
		"far more":   {"A bike", make([]byte, 13<<20), "larger than 12 MB"},
	} {
		a := v.SendPhoto(path, c.alt, c.data)
		if a.Status != http.StatusOK || !strings.Contains(a.Text(".done"), "not kept") || !strings.Contains(a.Text(".done"), c.want) {
			t.Errorf("%s: %d %s", name, a.Status, a.Text(".done"))
		}
		a.Count("img.ware-photo", 0)
	}
}

// TestPhotoKeepsWhatWasTyped keeps, refuses and removes a photo in the midst of
// other edits, which come back and can then be saved; without edits it leads
// back to the thing.
func TestPhotoKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	page := v.Get(path)
	page.Count(`#photo [form="ware"]`, 3)
	page.Count("form[data-unsaved]", 0)
	edits := map[string]string{"bare_weight_kg": "26,3", "notes": "half typ", "gross_rating_kg": "none"}
	large := make([]byte, 12<<20+1)
	for _, c := range []struct {
		do, alt string
		picture []byte
		says    string
		photos  int
	}{
		{"save", "Seen from the left", webtest.PictureOf(t, 200, 100), "The photo is kept", 1}, {"save", "", webtest.PictureOf(t, 20, 10), "say in a few words", 1},
		{"save", "Another", large, "larger than 12 MB", 1}, {"remove", "", nil, "The photo is gone", 0},
	} {
		f := v.Get(path).Ware()
		f.Values.Set("do", c.do)
		f.Values.Set("alt", c.alt)
		for name, typed := range edits {
			f.Values.Set(name, typed)
		}
		a := v.SendWithPhoto(path, f.Values, c.picture)
		if a.Status != http.StatusOK || !strings.Contains(a.Text(".done"), c.says) {
			t.Errorf("%s: %d %q", c.says, a.Status, a.Text(".done"))
		}
		a.Count("img.ware-photo", c.photos)
		a.Count("form[data-unsaved]", 1)
		for name, typed := range edits {
			field := a.One(`[name="` + name + `"]`)
			if got := field.AttrOr("value", field.Text()); got != typed {
				t.Errorf("%s: %s is %.80q, want %.80q", c.says, name, got, typed)
			}
		}
	}
	f := v.Get(path).Ware()
	f.Values.Set("alt", "Left")
	if a := v.SendWithPhoto(path, f.Values, webtest.PictureOf(t, 20, 10)); a.Path != path || !strings.Contains(a.Text(".done"), "is kept") {
		t.Errorf("without edits it leads to %s: %s", a.Path, a.Text(".done"))
	}
	f.Values.Set("do", "save")
	f.Values.Set("photo", "IMG_0001.JPG") // as a form without files says it
	if a := v.Post(path, f.Values); !strings.Contains(a.Text(".done"), "choose it again") {
		t.Errorf("saved without its photo: %s", a.Text(".done"))
	}
}
