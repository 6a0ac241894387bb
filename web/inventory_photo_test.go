package web_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"
)

// sendPhoto uploads a file as the photo of a thing.
func (v *visitor) sendPhoto(path, alt string, data []byte) *answer {
	v.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	file, err := form.CreateFormFile("photo", "IMG_0001.JPG")
	if err == nil {
		_, err = file.Write(data)
	}
	if err == nil {
		err = form.WriteField("alt", alt)
	}
	if err == nil {
		err = form.Close()
	}
	if err != nil {
		v.Fatal(err)
	}
	r := v.request(http.MethodPost, path+"/photo", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return v.send(r)
}

func pictureOf(t *testing.T, w, h int) []byte {
	t.Helper()
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			p.Set(x, y, color.RGBA{R: uint8(x), G: uint8(y), A: 255})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPhoto(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	a := v.sendPhoto(path, "Seen from the left", pictureOf(t, 2000, 1000)).is(http.StatusOK, path)
	img := a.one("img.ware-photo")
	if img.AttrOr("alt", "") != "Seen from the left" {
		t.Error(img.AttrOr("alt", ""))
	}
	small := v.get("/inventory/frames").one(".wares img")
	for address, side := range map[string]int{img.AttrOr("src", ""): 1600, small.AttrOr("src", ""): 160} {
		a := v.get(address)
		config, err := jpeg.DecodeConfig(bytes.NewReader(a.body))
		if err != nil || config.Width != side || a.header.Get("Content-Type") != "image/jpeg" || a.header.Get("X-Content-Type-Options") != "nosniff" ||
			!strings.HasPrefix(a.header.Get("Cache-Control"), "private") || a.header.Get("Content-Length") != fmt.Sprint(len(a.body)) {
			t.Errorf("%s: %v %v %v", address, config, err, a.header)
		}
		if b := v.stranger().get(address); b.status != http.StatusForbidden {
			t.Errorf("a stranger gets %d", b.status)
		}
	}
	v.get("/inventory/units/"+v.catalogue().Units[0].Tag+"/photo").is(http.StatusNotFound, "/inventory/units/"+v.catalogue().Units[0].Tag+"/photo")
}

func TestPhotosThatAreRefused(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	// A PNG header that promises 60,000 by 60,000 pixels.
	bomb := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR\x00\x00\xea\x60\x00\x00\xea\x60\x08\x06\x00\x00\x00"), 0xd8, 0x6f, 0x3d, 0x0a)
	for name, c := range map[string]struct {
		alt  string
		data []byte
		want string
	}{
		"no words":   {" ", pictureOf(t, 10, 10), "say in a few words"},
		"no picture": {"A bike", nil, "choose a picture"},
		"a page":     {"A bike", []byte("<html><script>alert(1)</script></html>"), "no JPEG, PNG or GIF"},
		"a bomb":     {"A bike", bomb, "no"},
		"many bytes": {"A bike", make([]byte, 12<<20+1), "larger than 12 MB"},
		"far more":   {"A bike", make([]byte, 13<<20), "larger than 12 MB"},
	} {
		a := v.sendPhoto(path, c.alt, c.data)
		if a.status != http.StatusOK || !strings.Contains(a.text(".done"), "not kept") || !strings.Contains(a.text(".done"), c.want) {
			t.Errorf("%s: %d %s", name, a.status, a.text(".done"))
		}
		a.count("img.ware-photo", 0)
	}
}
