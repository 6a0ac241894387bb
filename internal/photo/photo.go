// Package photo makes a picture that somebody uploads safe to keep and to
// show: bounded in bytes and pixels before it is decoded, turned upright,
// scaled, and written anew, so that nothing of the original file is left, no
// place and no time.
package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"

	_ "image/gif" // read, the first picture of it
	_ "image/png" // read

	"golang.org/x/image/draw"
)

// Bounds of what is taken, and the sizes of what is kept.
const (
	MaxBytes  = 12 << 20
	maxPixels = 32_000_000 // of the largest phones that are common
	maxRoom   = 192 << 20  // bytes that a picture takes while it is decoded
	maxSide   = 12_000     // pixels
	largeSide = 1600       // pixels of the longer side
	smallSide = 160        // pixels of the longer side
	quality   = 82
)

// Codes of what can be wrong with a picture.
const (
	TooLarge   = "too_large"
	NotAPhoto  = "not_a_photo"
	Unreadable = "unreadable"
)

// Error says what is wrong with a picture.
type Error struct{ Code, Text string }

func (e *Error) Error() string { return e.Text }

// Make reads a JPEG, PNG or GIF picture and writes it as two JPEG pictures, a
// large one and a small one for lists. The error is an *Error.
func Make(data []byte) (large, small []byte, err error) {
	if len(data) > MaxBytes {
		return nil, nil, &Error{TooLarge, fmt.Sprintf("this file is larger than %d MB", MaxBytes>>20)}
	}
	// The size is read before the picture is: few bytes may decode to many.
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, nil, &Error{NotAPhoto, "this is no JPEG, PNG or GIF picture"}
	}
	if config.Width < 1 || config.Height < 1 || config.Width > maxSide || config.Height > maxSide || config.Width*config.Height > maxPixels {
		return nil, nil, &Error{TooLarge, fmt.Sprintf("this picture is %d by %d pixels; send one of at most %d million", config.Width, config.Height, maxPixels/1_000_000)}
	}
	if most := maxRoom / depth(config.ColorModel, format, data); config.Width*config.Height > most {
		return nil, nil, &Error{TooLarge, fmt.Sprintf("this picture has %d million pixels in a form that takes much room; send one of at most %d million, or save it as a plain JPEG", config.Width*config.Height/1_000_000, most/1_000_000)}
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, nil, &Error{Unreadable, "this picture is damaged; send it again or another one"}
	}
	turn := 1
	if format == "jpeg" {
		turn = orientation(data)
	}
	scaled := upright(scale(picture, largeSide), turn)
	if large, err = encode(scaled); err != nil {
		return nil, nil, err
	}
	small, err = encode(scale(scaled, smallSide))
	return large, small, err
}

// depth returns how many bytes a pixel takes while a picture is decoded.
func depth(model color.Model, format string, data []byte) int {
	bytes := 4
	switch model {
	case color.GrayModel:
		bytes = 1
	case color.Gray16Model:
		bytes = 2
	case color.YCbCrModel:
		bytes = 3
	case color.RGBA64Model, color.NRGBA64Model:
		bytes = 8
	}
	switch {
	case format == "jpeg" && progressive(data):
		bytes *= 5 // every sample is a coefficient of four bytes besides
	case format == "png" && len(data) > interlaced && data[interlaced] != 0:
		bytes *= 2 // the passes are pictures of their own
	}
	return bytes
}

// interlaced is where a PNG file says in its first chunk whether it comes in
// passes (W3C PNG, IHDR).
const interlaced = 28

func encode(picture image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}

// scale draws the picture on white with its longer side at most so long.
func scale(picture image.Image, side int) *image.RGBA {
	from := picture.Bounds()
	w, h := from.Dx(), from.Dy()
	if longer := max(w, h); longer > side {
		w, h = max(1, w*side/longer), max(1, h*side/longer)
	}
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(to, to.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.CatmullRom.Scale(to, to.Bounds(), picture, from, draw.Over, nil)
	return to
}

// upright turns a picture by its Exif orientation, 1 to 8.
func upright(from *image.RGBA, turn int) *image.RGBA {
	w, h := from.Bounds().Dx(), from.Bounds().Dy()
	if turn < 2 || turn > 8 {
		return from
	}
	size := image.Rect(0, 0, w, h)
	if turn >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	to := image.NewRGBA(size)
	for y := range h {
		for x := range w {
			at := [...]image.Point{2: {w - 1 - x, y}, 3: {w - 1 - x, h - 1 - y}, 4: {x, h - 1 - y},
				5: {y, x}, 6: {h - 1 - y, x}, 7: {h - 1 - y, w - 1 - x}, 8: {y, w - 1 - x}}[turn]
			to.SetRGBA(at.X, at.Y, from.RGBAAt(x, y))
		}
	}
	return to
}
