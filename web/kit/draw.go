package kit

import (
	"slices"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"kinwain/internal/measure"
	"kinwain/internal/picture"
)

// Drawing is a picture to scale as a page shows it, with its words.
type Drawing struct {
	ID          string // of the drawing on its page
	Title, Desc string
	Class       string
	Left, Top   int // of what is seen of the sheet, in its units
	Wide, High  int
	Letter      int // how large its letters are; 0 where the style sheet says it
	Marks       []Mark
	Texts       []MarkText
	Notes       []string // said under it: what was assumed
}

// Mark is one shape, or several of a kind.
type Mark struct {
	Class, Path string
	Pattern     string // of its line, or of its area where it has one, where it is told by more than its colour
	Title       string
}

// MarkText is a text on a drawing: from a point, to it, or about it.
type MarkText struct {
	X, Y        int
	Class, Text string
}

// fine and coarse are the millimetres of a unit of a drawing: of one that is
// looked at, and of one that is glanced at.
const (
	fine   = 1
	coarse = 20
)

// Draw shows a picture. words says what a shape is.
func Draw(id, title, desc string, p *picture.Picture, words func(*picture.Shape) string) Drawing {
	d := Drawing{Class: "drawing", ID: id, Title: title, Desc: desc, Wide: int(p.Width), High: int(p.Height)}
	for i := range p.Shapes {
		s := &p.Shapes[i]
		d.Marks = append(d.Marks, Mark{Class: markClass(s), Path: path(p, s, fine), Title: words(s)})
	}
	return d
}

// Glance shows a picture small and without words: shapes of a kind as one, and
// what lies over itself once.
func Glance(p *picture.Picture) Drawing {
	d := Drawing{Class: "drawing glance", Wide: int(p.Width) / coarse, High: int(p.Height) / coarse}
	for i := range p.Shapes {
		class, at := markClass(&p.Shapes[i]), path(p, &p.Shapes[i], coarse)
		of := slices.IndexFunc(d.Marks, func(m Mark) bool { return m.Class == class })
		switch {
		case of < 0:
			d.Marks = append(d.Marks, Mark{Class: class, Path: at})
		case !strings.Contains(d.Marks[of].Path, at):
			d.Marks[of].Path += at
		}
	}
	return d
}

// AtOneScale lets drawings be compared: each is seen on a sheet as large as
// the largest, in the middle of it and at its foot.
func AtOneScale(drawings ...*Drawing) {
	var wide, high int
	for _, d := range drawings {
		wide, high = max(wide, d.Wide), max(high, d.High)
	}
	for _, d := range drawings {
		d.Left, d.Top = (d.Wide-wide)/2, d.High-high
		d.Wide, d.High = wide, high
	}
}

// patterns are the lines of a pattern, on a square that is turned.
var patterns = map[string]string{"enough": "M0 0h36v36h-36z", "care": "M0 0v36", "stop": "M0 0v36M0 0h36", "between": "M9 0v36M27 0v36"}

// patterns lists those of a drawing, each once.
func (d *Drawing) patterns() []string {
	var list []string
	for _, m := range d.Marks {
		if m.Pattern != "" && !slices.Contains(list, m.Pattern) {
			list = append(list, m.Pattern)
		}
	}
	return list
}

// patterned draws a mark in its pattern.
func (d *Drawing) patterned(m Mark) templ.Attributes {
	if m.Pattern == "" {
		return nil
	}
	ink := "stroke"
	if strings.HasSuffix(m.Class, solid) {
		ink = "fill"
	}
	return templ.Attributes{ink: "url(#" + d.ID + "-" + m.Pattern + ")"}
}

func (d *Drawing) described() templ.Attributes {
	if d.Desc == "" {
		return nil
	}
	return templ.Attributes{"aria-describedby": d.ID + "-desc"}
}

func (d *Drawing) letters() templ.Attributes {
	if d.Letter == 0 {
		return nil
	}
	return templ.Attributes{"font-size": strconv.Itoa(d.Letter)}
}

// ViewBox is what is seen of the sheet, as SVG writes it.
func (d *Drawing) ViewBox() string {
	return strconv.Itoa(d.Left) + " " + strconv.Itoa(d.Top) + " " + strconv.Itoa(d.Wide) + " " + strconv.Itoa(d.High)
}

// solid ends the class of a shape that is filled.
const solid = " solid"

// markClass is the class of a shape: its kind, and whether it is filled.
func markClass(s *picture.Shape) string {
	class := strings.ReplaceAll(string(s.Kind), "_", "-")
	if s.Kind != picture.Wheel && (s.Closed || s.Radius > 0) {
		class += solid
	}
	return class
}

// path writes a shape in units of a drawing, from one point to the next. On
// the page y runs downwards.
func path(p *picture.Picture, s *picture.Shape, unit measure.Length) string {
	at := func(l measure.Length) int { return int((l + unit/2) / unit) }
	var b strings.Builder
	number := func(n int) {
		if last := b.String(); n >= 0 && last != "" && last[len(last)-1] >= '0' && last[len(last)-1] <= '9' {
			b.WriteByte(' ')
		}
		b.WriteString(strconv.Itoa(n))
	}
	x, y := 0, 0
	for i, point := range s.Points {
		px, py := at(point.X), at(p.Height)-at(point.Y)
		switch i {
		case 0:
			b.WriteByte('M')
			number(px)
			number(py)
		default:
			if i == 1 {
				b.WriteByte('l')
			}
			number(px - x)
			number(py - y)
		}
		x, y = px, py
	}
	if r := at(s.Radius); r > 0 {
		return circle(x, y, r)
	}
	if s.Closed {
		b.WriteByte('z')
	}
	return b.String()
}

// circle writes a circle as two arcs.
func circle(x, y, r int) string {
	across := strconv.Itoa(r) + " " + strconv.Itoa(r) + " 0 1 0"
	return "M" + strconv.Itoa(x-r) + " " + strconv.Itoa(y) + "a" + across + " " + strconv.Itoa(2*r) + " 0 " + across + strconv.Itoa(-2*r) + " 0z"
}
