package picture

import "slices"

// Sketch draws how a part of a home is measured: its walls at a usual size,
// and a line for every answer that is asked for and can be seen from there,
// named as the answer is. It is false for what is no such part.
func Sketch(part string, asked ...string) (Picture, bool) {
	var p Picture
	switch part {
	case "place":
		p.line(Wall, "", Point{0, 0}, Point{200 * cm, 0}, Point{200 * cm, 100 * cm}, Point{0, 100 * cm}, Point{0, 0})
		p.line(Measured, "length_cm", Point{3 * cm, 25 * cm}, Point{197 * cm, 25 * cm})
		p.line(Measured, "width_cm", Point{40 * cm, 3 * cm}, Point{40 * cm, 97 * cm})
	case "doorways":
		p.line(Ground, "", Point{-50 * cm, 0}, Point{140 * cm, 0})
		p.line(Wall, "", Point{0, 0}, Point{0, 200 * cm}, Point{90 * cm, 200 * cm}, Point{90 * cm, 0})
		p.line(Measured, "width_cm", Point{3 * cm, 100 * cm}, Point{87 * cm, 100 * cm})
		p.line(Measured, "height_cm", Point{20 * cm, 3 * cm}, Point{20 * cm, 197 * cm})
	case "corners":
		p.line(Wall, "", Point{0, 200 * cm}, Point{0, 0}, Point{240 * cm, 0})
		p.line(Wall, "", Point{100 * cm, 200 * cm}, Point{100 * cm, 90 * cm}, Point{240 * cm, 90 * cm})
		p.line(Measured, "in_cm", Point{3 * cm, 160 * cm}, Point{97 * cm, 160 * cm})
		p.line(Measured, "out_cm", Point{190 * cm, 3 * cm}, Point{190 * cm, 87 * cm})
	case "lift":
		p.line(Wall, "", Point{0, 20 * cm}, Point{0, 0}, Point{150 * cm, 0}, Point{150 * cm, 110 * cm}, Point{0, 110 * cm}, Point{0, 90 * cm})
		p.line(Measured, "length_cm", Point{3 * cm, 15 * cm}, Point{147 * cm, 15 * cm})
		p.line(Measured, "width_cm", Point{110 * cm, 3 * cm}, Point{110 * cm, 107 * cm})
		p.line(Measured, "door_cm", Point{0, 22 * cm}, Point{0, 88 * cm})
	case "steps":
		p.line(Wall, "", Point{0, 0}, Point{40 * cm, 0}, Point{40 * cm, 18 * cm}, Point{70 * cm, 18 * cm}, Point{70 * cm, 36 * cm}, Point{100 * cm, 36 * cm}, Point{100 * cm, 54 * cm}, Point{160 * cm, 54 * cm})
		p.line(Measured, "steps", Point{30 * cm, 12 * cm}, Point{92 * cm, 66 * cm})
	default:
		return p, false
	}
	p.Shapes = slices.DeleteFunc(p.Shapes, func(s Shape) bool { return s.Kind == Measured && !slices.Contains(asked, s.Of) })
	p.fit(10 * cm)
	return p, true
}
