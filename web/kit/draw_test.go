package kit

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"kinwain/internal/picture"
)

// sheet is a picture of one shape of every form.
var sheet = picture.Picture{Width: 1000, Height: 500, Shapes: []picture.Shape{
	{Kind: picture.Tube, Points: []picture.Point{{X: 100, Y: 100}, {X: 400, Y: 300}, {X: 350, Y: 300}}},
	{Kind: picture.AddOn, Closed: true, Of: "box", Points: []picture.Point{{X: 10, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 20}}},
	{Kind: picture.AddOn, Closed: true, Points: []picture.Point{{X: 110, Y: 0}, {X: 130, Y: 0}, {X: 130, Y: 20}}},
	{Kind: picture.Wheel, Radius: 50, Points: []picture.Point{{X: 200, Y: 50}}},
}}

// TestDrawPutsShapesWhereTheyAre holds the marks to the points of the shapes:
// the same to the right, and as far from the foot as from the head of the sheet.
func TestDrawPutsShapesWhereTheyAre(t *testing.T) {
	t.Parallel()
	d := Draw("one", "A bike", "What it shows", &sheet, func(s *picture.Shape) string { return s.Of })
	want := []Mark{
		{Class: "tube", Path: "M100 400l300-200-50 0"},
		{Class: "add-on solid", Path: "M10 500l20 0 0-20z", Title: "box"},
		{Class: "add-on solid", Path: "M110 500l20 0 0-20z"},
		{Class: "wheel", Path: "M150 450a50 50 0 1 0 100 0 50 50 0 1 0-100 0z"},
	}
	if len(d.Marks) != len(want) {
		t.Fatalf("%d marks, want %d", len(d.Marks), len(want))
	}
	for i, m := range d.Marks {
		if m != want[i] {
			t.Errorf("%+v, want %+v", m, want[i])
		}
	}
	if got := d.ViewBox(); got != "0 0 1000 500" {
		t.Errorf("it shows %s", got)
	}
	small := Glance(&sheet)
	if len(small.Marks) != 3 || small.Marks[1].Path != "M1 25l1 0 0-1zM6 25l1 0 0-1z" {
		t.Errorf("small: %+v", small.Marks)
	}
}

// TestAtOneScale holds that drawings that are compared are seen on sheets of
// one size, each whole.
func TestAtOneScale(t *testing.T) {
	t.Parallel()
	a, b := Drawing{Wide: 200, High: 90}, Drawing{Wide: 120, High: 130}
	AtOneScale(&a, &b)
	if a.ViewBox() != "0 -40 200 130" || b.ViewBox() != "-40 0 200 130" {
		t.Errorf("%s and %s", a.ViewBox(), b.ViewBox())
	}
}

// TestDrawingIsWellFormed reads a drawing as XML: its words are escaped, it is
// named and described, and no style stands in it, which the content policy
// would not let in.
func TestDrawingIsWellFormed(t *testing.T) {
	t.Parallel()
	d := Draw("one", "Bags & <boxes>", "Under 5\"", &sheet, func(*picture.Shape) string { return "a < b" })
	d.Texts = []MarkText{{X: 1, Y: 2, Class: "to", Text: "3 < 4"}}
	var b bytes.Buffer
	if err := DrawingOf(d).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "style=") {
		t.Error("a style stands in it")
	}
	said := map[string]string{}
	x, name := xml.NewDecoder(&b), ""
	for {
		token, err := x.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			name = token.Name.Local
		case xml.CharData:
			if said[name] == "" {
				said[name] = strings.TrimSpace(string(token))
			}
		}
	}
	if said["title"] != "Bags & <boxes>" || said["desc"] != "Under 5\"" || said["text"] != "3 < 4" {
		t.Errorf("it says %q", said)
	}
}
