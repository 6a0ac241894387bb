package catalog_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
)

// spoil makes every figure impossible and every text nonsense.
func spoil(v reflect.Value) {
	switch v.Kind() {
	case reflect.Int, reflect.Int64:
		v.SetInt(-1_000_000_000)
	case reflect.String:
		v.SetString(strings.Repeat("?", 3000))
	case reflect.Struct:
		for i := range v.NumField() {
			spoil(v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			spoil(v.Index(i))
		}
	case reflect.Pointer:
		spoil(v.Elem())
	case reflect.Map:
		for _, key := range v.MapKeys() {
			spoil(reflect.Indirect(v.MapIndex(key)))
		}
	}
}

// TestFaultsComeInTheOrderOfTheDocument spoils one part of the catalogue after
// the other and looks its faults up in the document.
func TestFaultsComeInTheOrderOfTheDocument(t *testing.T) {
	for name, part := range map[string]func(c *catalog.Catalogue) any{
		"shop":   func(c *catalog.Catalogue) any { return &c.Shop },
		"frames": func(c *catalog.Catalogue) any { return &c.Frames },
		"zones":  func(c *catalog.Catalogue) any { return &c.Frames[0].Zones },
		"places": func(c *catalog.Catalogue) any { return &c.Frames[0].Places },
		"seat":   func(c *catalog.Catalogue) any { c.AddOns[0].OnFrame = nil; return &c.AddOns[0] },
		"stand":  func(c *catalog.Catalogue) any { return &c.AddOns[1] },
		"units":  func(c *catalog.Catalogue) any { return &c.Units },
		"all":    func(c *catalog.Catalogue) any { c.AddOns[0].OnFrame = nil; return c },
	} {
		c := small()
		c.AddOns[1].Fits, c.AddOns[1].Needs, c.AddOns[1].Provides = []string{"sedge"}, [][]string{{"rack"}}, []string{"stand"}
		spoil(reflect.ValueOf(part(c)).Elem())
		document, err := c.Document()
		if err != nil {
			t.Fatal(err)
		}
		list, _ := c.Check().(problem.List)
		if len(list) < 4 {
			t.Errorf("%s: only %d faults", name, len(list))
		}
		last, lastPath, told := -1, "", map[string]bool{}
		for _, p := range list {
			if told[p.Path+p.Code] {
				t.Errorf("%s: %s is told twice", name, p)
			}
			told[p.Path+p.Code] = true
			at := position(document, p.Path)
			if at < last {
				t.Errorf("%s: %s is told after %s", name, p.Path, lastPath)
			}
			last, lastPath = at, p.Path
		}
	}
}

// position returns where a path stands in a document, or the end of what
// would hold it.
func position(document []byte, path string) int {
	d := jsontext.NewDecoder(bytes.NewReader(document))
	for n := 0; ; n++ {
		if _, err := d.ReadToken(); err != nil {
			return n
		}
		if problem.Path(d.StackPointer()) == path {
			return n
		}
	}
}
