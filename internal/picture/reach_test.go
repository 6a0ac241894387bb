package picture_test

import (
	"testing"

	"kinwain/internal/picture"
)

// Every customer is as high, and every bike as wide, as any other.
func TestReachedToScale(t *testing.T) {
	t.Parallel()
	p := picture.Reached(90, 80, [2]int{3, 60}, []int{0, 40, 60, 63}, []int{0, 45, 70, 78, 80})
	for i := range p.Shapes {
		if low, high := p.Shapes[i].Bounds(); low.X < 0 || low.Y < 0 || high.X > p.Width || high.Y > p.Height {
			t.Errorf("%+v is off the sheet", p.Shapes[i])
		}
	}
	kept, best, ground, most, now := p.Of(picture.Kept)[0], p.Of(picture.Best)[0], p.Of(picture.Ground)[0], p.Of(picture.Rating)[0], p.Of(picture.Now)[0]
	if len(kept.Points) != 4 || len(best.Points) != 5 {
		t.Fatalf("%+v, %+v", kept, best)
	}
	from := ground.Points[0]
	for bikes, customers := range []int{0, 45, 70, 78, 80} {
		at := best.Points[bikes]
		if int(at.X-from.X) != 500*bikes || int(at.Y-from.Y) != 10*customers {
			t.Errorf("%d bikes serve %d at %+v", bikes, customers, at)
		}
	}
	if most.Points[0].Y != best.Points[4].Y || now.Points[0].X != kept.Points[3].X || int(now.Points[0].Y-from.Y) != 600 {
		t.Errorf("most at %+v, now at %+v", most.Points, now.Points)
	}
	if p := picture.Reached(0, 0, [2]int{}, nil, nil); p.Width <= 0 {
		t.Error("nothing to draw on")
	}
}
