package kit

import (
	"fmt"
	"strings"

	"rsc.io/qr"
)

// quiet is the empty margin that a code needs round it, in modules (ISO/IEC
// 18004).
const quiet = 4

// QRCode draws a text as a QR code in SVG, always dark on white: a code that
// is turned to its negative is not read by every camera.
func QRCode(text string) ([]byte, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, fmt.Errorf("draw a code of %d letters: %w", len(text), err)
	}
	side := code.Size + 2*quiet
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" role="img" shape-rendering="crispEdges"><title>QR</title><path fill="#fff" d="M0 0h%dv%dh-%dz"/><path fill="#000" d="`,
		side, side, side, side, side)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return []byte(b.String()), nil
}
