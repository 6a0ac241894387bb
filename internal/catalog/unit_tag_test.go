package catalog_test

import (
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
)

func TestTagsAreCountedOn(t *testing.T) {
	for _, one := range []struct {
		first string
		n     int
		want  []string
	}{
		{"D-014", 3, []string{"D-014", "D-015", "D-016"}},
		{"D-098", 3, []string{"D-098", "D-099", "D-100"}},
		{"S9", 2, []string{"S9", "S10"}},
		{"7", 2, []string{"7", "8"}},
		{"front", 1, []string{"front"}},
		{"front", 2, nil},
		{"D 014", 1, nil},
		{"", 1, nil},
		{"D-99999999999999999999", 2, nil},
	} {
		got, err := catalog.TagsFrom(one.first, one.n)
		if !slices.Equal(got, one.want) || (err == nil) != (one.want != nil) {
			t.Errorf("%d from %q: %v, %v; want %v", one.n, one.first, got, err, one.want)
		}
	}
}

func tagged(tags ...string) *catalog.Catalogue {
	c := &catalog.Catalogue{}
	for _, tag := range tags {
		kind := "stock"
		if strings.HasPrefix(tag, "D") {
			kind = "demo"
		}
		c.Units = append(c.Units, catalog.Unit{Tag: tag, Kind: kind})
	}
	return c
}

func TestNextTag(t *testing.T) {
	c := tagged("D-014", "S-120", "D-002", "S-099")
	for kind, want := range map[string]string{"demo": "D-015", "stock": "S-121"} {
		if got := c.NextTag(kind); got != want {
			t.Errorf("%s: %q, want %q", kind, got, want)
		}
	}
	if got := tagged("D-014").NextTag("stock"); got != "" {
		t.Errorf("without a bike in stock: %q", got)
	}
	if got := tagged("left", "right").NextTag("stock"); got != "" {
		t.Errorf("without a number: %q", got)
	}
}

func TestScanned(t *testing.T) {
	c := tagged("D-014", "S-101", "S-1.1", "S1-1")
	for text, want := range map[string]string{
		"D-014": "D-014", " d-014\n": "D-014", "D014": "D-014",
		"http://192.168.1.20:8080/units/D-014": "D-014",
		"HTTPS://BIKES.EXAMPLE/UNITS/S-101":    "S-101",
		"httpÖ--192.168.1.20Ö8080-units-Dß014": "D-014", // as a German keyboard has it
		"S-1.1": "S-1.1",
		"S11":   "", // one of two
		"D-01":  "", "14": "", "": "", "/units/": "", "---": "",
	} {
		u, tag := c.Scanned(text)
		if (u == nil) != (want == "") || u != nil && (u.Tag != want || tag != want) {
			t.Errorf("%q: %v, %q; want %q", text, u, tag, want)
		}
	}
	if _, tag := c.Scanned("http://192.168.1.20:8080/units/X-9"); tag != "X-9" {
		t.Errorf("what is not there is called %q", tag)
	}
}
