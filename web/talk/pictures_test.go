package talk

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strings"
	"testing"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/testdata"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// viewed calls f with every frame of the demo shop for every sample customer.
func viewed(t *testing.T, f func(name string, c *Consultation, m *match.Match)) {
	t.Helper()
	all, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	shop := &advice.Shop{Catalogue: all, Settings: match.DefaultSettings()}
	files, err := testdata.Profiles.ReadDir("profiles")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		document, err := testdata.Profiles.ReadFile(path.Join("profiles", file.Name()))
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Parse(document)
		if err != nil {
			t.Fatal(err)
		}
		ranked, err := shop.Rank(t.Context(), p, match.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range ranked {
			f(strings.TrimSuffix(file.Name(), ".json")+" on "+m.Frame.Code, &Consultation{Profile: p, Shop: shop}, m)
		}
	}
}

// wordsOf reads a drawing as XML and returns what it says, by element. No
// style may stand in it: the content policy would not let it in.
func wordsOf(t *testing.T, d *kit.Drawing) map[string][]string {
	t.Helper()
	var b bytes.Buffer
	if err := kit.DrawingOf(*d).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	said := map[string][]string{}
	x, name := xml.NewDecoder(&b), ""
	for {
		token, err := x.Token()
		if errors.Is(err, io.EOF) {
			return said
		}
		if err != nil {
			t.Fatalf("%v in %s", err, b.String())
		}
		switch token := token.(type) {
		case xml.StartElement:
			name = token.Name.Local
			for _, a := range token.Attr {
				if a.Name.Local == "style" {
					t.Errorf("a style: %s", a.Value)
				}
			}
		case xml.EndElement:
			name = ""
		case xml.CharData:
			if name != "" {
				said[name] = append(said[name], string(token))
			}
		}
	}
}

// TestDrawingsInEveryLanguage reads every drawing of every frame and customer
// as XML, in each language: it is named and described, and in its own words.
func TestDrawingsInEveryLanguage(t *testing.T) {
	t.Parallel()
	drawn := map[string]int{}
	viewed(t, func(name string, c *Consultation, m *match.Match) {
		titles := map[string]bool{}
		for _, l := range say.Languages {
			v := View(c, m)
			c.Speaker = say.New(l, measure.Metric)
			for _, d := range append(v.HomeDrawings(), v.Side(false)) {
				drawn[d.ID]++
				said := wordsOf(t, &d)
				if len(said["title"]) == 0 || said["title"][0] != d.Title || d.Title == "" {
					t.Errorf("%s in %s: %s is called %q", name, l, d.ID, said["title"])
				}
				if len(d.Notes) > 0 && (len(said["desc"]) == 0 || said["desc"][0] == "") {
					t.Errorf("%s in %s: %s is not described", name, l, d.ID)
				}
				if titles[d.ID+d.Title] {
					t.Errorf("%s: %q in two languages", name, d.Title)
				}
				titles[d.ID+d.Title] = true
			}
		}
	})
	if drawn["side"] < 400 || drawn["place"] < 100 || drawn["way"] < 100 {
		t.Errorf("drawn were %v", drawn)
	}
}

// TestDiscreetDrawingsTellNoWeight holds that a drawing without weights says
// none: no kilogram stands in it, no arrow and no centre of mass, and it is
// the same whoever of the riders is the heaviest.
func TestDiscreetDrawingsTellNoWeight(t *testing.T) {
	t.Parallel()
	viewed(t, func(name string, c *Consultation, m *match.Match) {
		c.Speaker = say.New(say.English, measure.Metric)
		d := View(c, m).Side(true)
		for element, list := range wordsOf(t, &d) {
			if text := strings.Join(list, " "); strings.Contains(text, "kg") {
				t.Errorf("%s: a %s says %q", name, element, text)
			}
		}
		for _, mark := range d.Marks {
			if strings.HasPrefix(mark.Class, "axle-load") || strings.HasPrefix(mark.Class, "balance") || strings.HasPrefix(mark.Class, "rating") {
				t.Errorf("%s: it shows a %s", name, mark.Class)
			}
		}
		if len(m.Sheets) > 0 && !strings.HasSuffix(d.Title, "under rider "+m.Sheets[0].Rider.Label) {
			t.Errorf("%s: %s, want the first rider", name, d.Title)
		}
	})
}

// TestGlanceIsSmall holds that the drawing of a row stays a small part of a
// page, and that all of a page can be told apart by more than their names.
func TestGlanceIsSmall(t *testing.T) {
	t.Parallel()
	const most = 900
	viewed(t, func(name string, c *Consultation, m *match.Match) {
		c.Speaker = say.New(say.English, measure.Metric)
		d := View(c, m).Glance()
		var b bytes.Buffer
		if err := kit.GlanceOf(d).Render(t.Context(), &b); err != nil {
			t.Fatal(err)
		}
		if b.Len() >= most {
			t.Errorf("%s: %d bytes, want under %d: %s", name, b.Len(), most, b.String())
		}
		if wheels := strings.Count(b.String(), "0 1 0"); wheels < 4 {
			t.Errorf("%s: not two wheels in %s", name, b.String())
		}
	})
}
