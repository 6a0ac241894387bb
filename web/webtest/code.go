package webtest

import (
	"encoding/xml"
	"image"
	"image/color"
	"regexp"
	"strconv"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// ReadCode reads a code that is drawn as SVG with another library than the one
// that made it: github.com/makiuchi-d/gozxing.
func ReadCode(t *testing.T, svg []byte) string {
	t.Helper()
	var d drawing
	if err := xml.Unmarshal(svg, &d); err != nil {
		t.Fatal(err)
	}
	if d.Title == "" {
		t.Error("it has no title")
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(d.pixels(t))
	if err != nil {
		t.Fatal(err)
	}
	read, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
	if err != nil {
		t.Fatal(err)
	}
	return read.GetText()
}

// drawing is what a code is drawn with.
type drawing struct {
	ViewBox string `xml:"viewBox,attr"`
	Title   string `xml:"title"`
	Paths   []struct {
		Fill string `xml:"fill,attr"`
		D    string `xml:"d,attr"`
	} `xml:"path"`
}

var run = regexp.MustCompile(`M([0-9]+) ([0-9]+)h([0-9]+)v([0-9]+)h-([0-9]+)z`)

// pixels paints the drawing, eight points to a module.
func (d *drawing) pixels(t *testing.T) image.Image {
	t.Helper()
	const scale = 8
	number := func(s string) int {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	box := regexp.MustCompile(`^0 0 ([0-9]+) ([0-9]+)$`).FindStringSubmatch(d.ViewBox)
	if box == nil || len(d.Paths) != 2 {
		t.Fatalf("%+v", d)
	}
	img := image.NewGray(image.Rect(0, 0, number(box[1])*scale, number(box[2])*scale))
	for _, path := range d.Paths {
		shade := map[string]uint8{"#fff": 255, "#000": 0}[path.Fill]
		for _, m := range run.FindAllStringSubmatch(path.D, -1) {
			x, y, w, h := number(m[1]), number(m[2]), number(m[3]), number(m[4])
			if m[5] != m[3] {
				t.Fatalf("a run does not close: %s", m[0])
			}
			for py := y * scale; py < (y+h)*scale; py++ {
				for px := x * scale; px < (x+w)*scale; px++ {
					img.SetGray(px, py, color.Gray{Y: shade})
				}
			}
		}
		if run.ReplaceAllString(path.D, "") != "" && path.Fill == "#000" {
			t.Fatalf("drawn with more than runs: %.200s", run.ReplaceAllString(path.D, ""))
		}
	}
	return img
}
