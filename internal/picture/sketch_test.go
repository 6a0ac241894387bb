package picture_test

import (
	"slices"
	"testing"

	"kinwain/internal/picture"
)

// TestSketchesShowWhatIsMeasured holds that each sketch has a line for every
// answer that can be seen on it, from wall to wall, and stays on its sheet.
func TestSketchesShowWhatIsMeasured(t *testing.T) {
	t.Parallel()
	for part, want := range map[string][]string{"place": {"length_cm", "width_cm"}, "doorways": {"width_cm", "height_cm"},
		"corners": {"in_cm", "out_cm"}, "lift": {"length_cm", "width_cm", "door_cm"}, "steps": {"steps"}} {
		pic, ok := picture.Sketch(part, want...)
		if !ok {
			t.Fatalf("no sketch of %s", part)
		}
		var got []string
		for _, s := range pic.Of(picture.Measured) {
			got = append(got, s.Of)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: measured are %v, want %v", part, got, want)
		}
		if bare, _ := picture.Sketch(part, want[1:]...); len(bare.Of(picture.Measured)) != len(want)-1 {
			t.Errorf("%s: what nobody asks is measured", part)
		}
		for i := range pic.Shapes {
			low, high := pic.Shapes[i].Bounds()
			if low.X < 0 || low.Y < 0 || high.X > pic.Width || high.Y > pic.Height {
				t.Errorf("%s: %v to %v is off the sheet", part, low, high)
			}
		}
	}
	if _, ok := picture.Sketch("cellar"); ok {
		t.Error("a sketch of what nobody asks")
	}
}
