package parking

import (
	"math"
	"math/rand/v2"
	"testing"
)

// bend is a corner on a grid, for a rectangle that is pushed and turned in
// small steps. It knows walls and collisions but no turning condition.
type bend struct {
	long, short, in, out float64
	size                 int // centres run from 0 to size in both directions
}

const angles = 60 // steps of 3° in half a turn, after which a rectangle repeats

// free reports whether the rectangle, centred at (x, y) and turned by the
// given step, touches no wall. The corridors are x in [0, in] going up and
// y in [0, out] going right. The rectangle misses the inner block exactly if a
// wall direction or one of its own sides separates the two.
func (c bend) free(x, y float64, angle int) bool {
	sin, cos := math.Sincos(float64(angle) / angles * math.Pi)
	halfX := (c.long*math.Abs(cos) + c.short*math.Abs(sin)) / 2
	halfY := (c.long*math.Abs(sin) + c.short*math.Abs(cos)) / 2
	if x < halfX || y < halfY {
		return false
	}
	if x+halfX <= c.in || y+halfY <= c.out {
		return true
	}
	behind := func(nx, ny, half float64) bool {
		return nx >= 0 && ny >= 0 && nx*x+ny*y+half <= nx*c.in+ny*c.out
	}
	return behind(cos, sin, c.long/2) || behind(sin, -cos, c.short/2) || behind(-sin, cos, c.short/2)
}

// passes searches all places and angles from the top of the first corridor to
// the end of the second. If lengthways is set, the rectangle enters and leaves
// with its longer side along the corridor, otherwise in any way.
func (c bend) passes(lengthways bool) bool {
	side := c.size + 1
	seen := make([]bool, side*side*angles)
	var queue []int
	add := func(x, y, angle int) {
		angle = (angle + angles) % angles
		at := (x*side+y)*angles + angle
		if x >= 0 && y >= 0 && x < side && y < side && !seen[at] && c.free(float64(x), float64(y), angle) {
			seen[at] = true
			queue = append(queue, at)
		}
	}
	for angle := range angles {
		for x := range side {
			if angle == angles/2 || !lengthways {
				add(x, c.size, angle)
			}
		}
	}
	for len(queue) > 0 {
		at := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		x, y, angle := at/angles/side, at/angles%side, at%angles
		if x == c.size && (angle == 0 || !lengthways) {
			return true
		}
		add(x+1, y, angle)
		add(x-1, y, angle)
		add(x, y+1, angle)
		add(x, y-1, angle)
		add(x, y, angle+1)
		add(x, y, angle-1)
	}
	return false
}

// TestCornerAgainstWalk pushes rectangles round corners on a grid of 1 cm and
// 3°. The grid cannot resolve less than about 3 cm, so closer cases are left
// out. A bike on its wheels goes in and comes out lengthways, one on end goes
// as it likes.
func TestCornerAgainstWalk(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(1, 2))
	const step, blur = 10, 30
	var seen [2][2]int
	for range 60 {
		long := 30 + random.IntN(25)
		short := 5 + random.IntN(long-5)
		in, out := short-3+random.IntN(long/2), short-3+random.IntN(long/2)
		c := bend{float64(long), float64(short), float64(in), float64(out), max(in, out) + long}
		corner := Corner{In: mm(in * step), Out: mm(out * step)}
		outline := Box{Length: mm(long * step), Width: mm(short * step)}
		for i, pose := range []How{Flat, Upright} {
			slack := corner.slack(outline, pose)
			if slack > -blur && slack < blur {
				continue
			}
			got, want := slack >= 0, c.passes(pose == Flat)
			if got != want {
				t.Errorf("%s %d × %d cm round %d and %d cm: slack %d mm, but walking says %t", pose, long, short, in, out, slack, want)
			}
			if want {
				seen[i][1]++
			} else {
				seen[i][0]++
			}
		}
	}
	for i, count := range seen {
		if count[0] < 5 || count[1] < 5 {
			t.Errorf("pose %d: only %v cases that fail and pass", i, count)
		}
	}
}
