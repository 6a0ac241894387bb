package static

import (
	"bytes"
	goflag "flag"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"
)

var update = goflag.Bool("update", false, "write the icons instead of comparing them")

// bar is a rectangle of the icon, in the units of its drawing.
type bar struct {
	x, y, w, h float64
	fill       color.RGBA
}

var barForm = regexp.MustCompile(`<path d="M([0-9]+) ([0-9]+)h([0-9]+)v([0-9]+)[Hh]-?[0-9]+z" fill="#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})"/>`)

// side is that of the icon's drawing, which is square.
const side = 40

// bars reads the icon: the first is its ground.
func bars(t *testing.T) []bar {
	t.Helper()
	drawing, err := files.ReadFile("icon.svg")
	if err != nil {
		t.Fatal(err)
	}
	found := barForm.FindAllSubmatch(drawing, -1)
	if len(found) != bytes.Count(drawing, []byte("<path")) || len(found) < 2 {
		t.Fatalf("the icon has %d bars", len(found))
	}
	var all []bar
	for _, m := range found {
		number := func(i, base int) float64 {
			n, err := strconv.ParseInt(string(m[i]), base, 64)
			if err != nil {
				t.Fatal(err)
			}
			return float64(n)
		}
		all = append(all, bar{number(1, 10), number(2, 10), number(3, 10), number(4, 10),
			color.RGBA{uint8(number(5, 16)), uint8(number(6, 16)), uint8(number(7, 16)), 255}})
	}
	return all
}

// drawn draws the icon so large, each pixel as much of a colour as a bar covers.
// What is on the ground is drawn smaller by a scale.
func drawn(all []bar, size int, scale float64) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, size, size))
	unit := float64(size) / side
	for i, b := range all {
		if i > 0 {
			b.x, b.y, b.w, b.h = side/2+(b.x-side/2)*scale, side/2+(b.y-side/2)*scale, b.w*scale, b.h*scale
		}
		for y := range size {
			for x := range size {
				covered := overlap(float64(x), b.x*unit, b.w*unit) * overlap(float64(y), b.y*unit, b.h*unit)
				under := picture.RGBAAt(x, y)
				mix := func(under, over uint8) uint8 {
					return uint8(math.Round(float64(under) + (float64(over)-float64(under))*covered))
				}
				picture.SetRGBA(x, y, color.RGBA{mix(under.R, b.fill.R), mix(under.G, b.fill.G), mix(under.B, b.fill.B), max(under.A, uint8(255*math.Ceil(covered)))})
			}
		}
	}
	return picture
}

// overlap is how much of a pixel a stretch covers.
func overlap(pixel, begin, length float64) float64 {
	return max(0, min(pixel+1, begin+length)-max(pixel, begin))
}

// maskable keeps what is drawn within four fifths of the icon, which every home
// screen shows whatever it cuts off (W3C, Web Application Manifest): the corners
// lie 21.3 units from the middle, and may lie 16.
const maskable = 0.72

// TestIconsAreTheIcon draws the icon of the home screen from that of the tabs.
func TestIconsAreTheIcon(t *testing.T) {
	all := bars(t)
	for _, b := range all[1:] {
		for _, corner := range [...][2]float64{{b.x, b.y}, {b.x + b.w, b.y + b.h}, {b.x, b.y + b.h}, {b.x + b.w, b.y}} {
			if far := math.Hypot(corner[0]-side/2, corner[1]-side/2) * maskable; far > side*2/5 {
				t.Errorf("a corner lies %.1f from the middle", far)
			}
		}
	}
	for name, want := range map[string]*image.RGBA{"icon-192.png": drawn(all, 192, 1), "icon-512.png": drawn(all, 512, 1), "icon-maskable-512.png": drawn(all, 512, maskable)} {
		if *update {
			var b bytes.Buffer
			if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, want); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(bytes.NewReader(data))
		if err != nil || got.Bounds() != want.Bounds() {
			t.Fatalf("%s: %v, %v", name, got.Bounds(), err)
		}
		for y := range want.Bounds().Dy() {
			for x := range want.Bounds().Dx() {
				if r, g, b, a := got.At(x, y).RGBA(); [4]uint32{r, g, b, a} != rgba(want.At(x, y)) {
					t.Fatalf("%s is another icon at %d, %d; run this test with -update", name, x, y)
				}
			}
		}
	}
}

func rgba(c color.Color) [4]uint32 {
	r, g, b, a := c.RGBA()
	return [4]uint32{r, g, b, a}
}
