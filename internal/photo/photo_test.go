package photo_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"kinwain/internal/photo"
)

// picture is red in its upper left quarter and blue elsewhere.
func picture(w, h int) image.Image {
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			p.Set(x, y, color.RGBA{B: 255, A: 255})
			if x < w/2 && y < h/2 {
				p.Set(x, y, color.RGBA{R: 255, A: 255})
			}
		}
	}
	return p
}

func encoded(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture(w, h), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withExif puts an Exif segment with an orientation and a secret behind the
// first marker of a JPEG file.
func withExif(data []byte, turn byte) []byte {
	exif := append([]byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00"), turn, 0, 0, 0, 0, 0, 0)
	exif = append(exif, "SECRETPLACE"...)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2))
	return bytes.Join([][]byte{data[:2], segment, exif, data[2:]}, nil)
}

func TestTurnsUprightAndKeepsNothingElse(t *testing.T) {
	t.Parallel()
	// Where the red quarter is after each orientation, as Exif defines them:
	// the first row of the file is at the top, top, bottom, bottom, left,
	// right, right, left, and its first column follows.
	want := []struct{ right, bottom, turned bool }{1: {}, 2: {right: true}, 3: {right: true, bottom: true}, 4: {bottom: true},
		5: {turned: true}, 6: {right: true, turned: true}, 7: {right: true, bottom: true, turned: true}, 8: {bottom: true, turned: true}}
	for turn := byte(1); turn <= 8; turn++ {
		large, small, err := photo.Make(withExif(encoded(t, 400, 200), turn))
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(large, []byte("SECRET")) || bytes.Contains(large, []byte("Exif")) || bytes.Contains(small, []byte("SECRET")) {
			t.Error("something of the file is left")
		}
		got, err := jpeg.Decode(bytes.NewReader(large))
		if err != nil {
			t.Fatal(err)
		}
		w, h := got.Bounds().Dx(), got.Bounds().Dy()
		if (w < h) != want[turn].turned {
			t.Errorf("orientation %d: %d by %d", turn, w, h)
		}
		x, y := w/4, h/4
		if want[turn].right {
			x = 3 * w / 4
		}
		if want[turn].bottom {
			y = 3 * h / 4
		}
		if r, _, b, _ := got.At(x, y).RGBA(); r < 0xc000 || b > 0x4000 {
			t.Errorf("orientation %d: not red at %d, %d", turn, x, y)
		}
	}
}

func TestScales(t *testing.T) {
	t.Parallel()
	large, small, err := photo.Make(encoded(t, 3200, 1000))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		data []byte
		w, h int
	}{{large, 1600, 500}, {small, 160, 50}} {
		config, err := jpeg.DecodeConfig(bytes.NewReader(c.data))
		if err != nil || config.Width != c.w || config.Height != c.h {
			t.Errorf("%v, %v, want %d by %d", config, err, c.w, c.h)
		}
	}
}

// bomb is a PNG file of a few bytes that says, and would decode to, w by h
// pixels (PNG, second edition, W3C 2003).
func bomb(w, h uint32) []byte { return bombOf(w, h, 8, 0) }

// bombOf is one of so many bits to a colour, in one pass or in several.
func bombOf(w, h uint32, bits, passes byte) []byte {
	chunk := func(kind string, data []byte) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		body := append([]byte(kind), data...)
		return binary.BigEndian.AppendUint32(append(b, body...), crc32.ChecksumIEEE(body))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	if _, err := z.Write(make([]byte, 1<<20)); err != nil {
		panic(err)
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(head, bits, 6, 0, 0, passes)), chunk("IDAT", packed.Bytes()), chunk("IEND", nil)}, nil)
}

// sized is a small JPEG file that says that it has w by h pixels, in one pass or
// in several, with some bytes before that which readers skip.
func sized(t *testing.T, w, h uint16, frame byte, garbage string) []byte {
	t.Helper()
	data := encoded(t, 40, 30)
	at := bytes.Index(data, []byte{0xff, 0xc0})
	size := binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16([]byte{0xff, frame, data[at+2], data[at+3], data[at+4]}, h), w)
	return bytes.Join([][]byte{data[:at], []byte(garbage), size, data[at+9:]}, nil)
}

func TestRefuses(t *testing.T) {
	t.Parallel()
	whole := encoded(t, 300, 300)
	for name, c := range map[string]struct {
		data []byte
		code string
	}{
		"a bomb":                 {bomb(60000, 60000), photo.TooLarge},
		"a wide one":             {bomb(30000, 100), photo.TooLarge},
		"a large one":            {bomb(8000, 8000), photo.TooLarge},
		"deep":                   {bombOf(6000, 5000, 16, 0), photo.TooLarge},
		"deep, and not so large": {bombOf(5000, 5000, 16, 0), photo.Unreadable},
		"deep, in passes":        {bombOf(5000, 5000, 16, 1), photo.TooLarge},
		"in passes":              {sized(t, 5000, 4000, 0xc2, ""), photo.TooLarge},
		"in passes, hidden":      {sized(t, 5000, 4000, 0xc2, "\x01\x01"), photo.TooLarge},
		"in one pass":            {sized(t, 5000, 4000, 0xc0, ""), photo.Unreadable},
		"in passes, and small":   {sized(t, 4000, 3000, 0xc2, ""), photo.Unreadable},
		"many bytes":             {make([]byte, photo.MaxBytes+1), photo.TooLarge},
		"a text":                 {[]byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), photo.NotAPhoto},
		"nothing":                {nil, photo.NotAPhoto},
		"half a file":            {whole[:len(whole)/2], photo.Unreadable},
		"a short bomb":           {bomb(3000, 3000), photo.Unreadable},
		"only a header":          {[]byte("\xff\xd8\xff\xe1\xff\xff"), photo.NotAPhoto},
	} {
		var e *photo.Error
		if _, _, err := photo.Make(c.data); !errors.As(err, &e) || e.Code != c.code {
			t.Errorf("%s: %v, want %s", name, err, c.code)
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, picture(20, 20)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := photo.Make(b.Bytes()); err != nil {
		t.Errorf("a good one: %v", err)
	}
}

func FuzzMake(f *testing.F) {
	whole := encoded(f, 30, 20)
	f.Add(whole)
	f.Add(withExif(whole, 6))
	f.Add(bomb(20, 20))
	f.Fuzz(func(t *testing.T, data []byte) {
		config, _, err := image.DecodeConfig(bytes.NewReader(data))
		if err == nil && config.Width*config.Height > 1_000_000 {
			t.Skip("slow, and refused or decoded as any other")
		}
		large, small, err := photo.Make(data)
		if err != nil {
			return
		}
		for _, made := range [][]byte{large, small} {
			if _, err := jpeg.Decode(bytes.NewReader(made)); err != nil {
				t.Errorf("what is made is no picture: %v", err)
			}
		}
	})
}
