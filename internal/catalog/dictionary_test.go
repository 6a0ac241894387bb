package catalog_test

import (
	goflag "flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"kinwain/internal/catalog"
)

var update = goflag.Bool("update", false, "write what is generated instead of comparing it")

// TestDictionary keeps the dictionary of the catalogue's documents the same as
// the tables of fields.
func TestDictionary(t *testing.T) {
	const file = "DATA.md"
	want := dictionary()
	if *update {
		if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(file)
	if err != nil || string(got) != want {
		t.Errorf("%s is not that of the tables; run this test with -update: %v", file, err)
	}
}

// kinds says what a field holds, as documents write it.
var kinds = map[catalog.FieldKind]string{
	catalog.Text: "text", catalog.Long: "text of several lines", catalog.Code: "text", catalog.Mass: "kilograms", catalog.Length: "centimetres",
	catalog.Signed: "centimetres, behind the axle negative", catalog.Volume: "litres", catalog.Money: "cents", catalog.Number: "whole number",
	catalog.Share: "number", catalog.Day: "day or month", catalog.Tick: "true or false", catalog.Maybe: "true or false, or left out", catalog.Word: "one of",
	catalog.Teeth: "list of whole numbers", catalog.Codes: "list of codes", catalog.OneFrame: "code of a frame", catalog.Frames: "list of codes of frames",
	catalog.OneZone: "code of a zone", catalog.AddOns: "list of codes of add-ons", catalog.Needs: "list of groups of codes", catalog.Link: "text",
	catalog.Boxed: "an object", catalog.Rows: "list of objects", catalog.PerFrame: "an object for each frame", catalog.Proofs: "list of objects",
}

func dictionary() string {
	var b strings.Builder
	b.WriteString("# The catalogue, key by key\n\nGenerated from the tables of fields in `internal/catalog`: `go test ./internal/catalog -update`. " +
		"0 or an absent key means that nobody states it.\n")
	for _, list := range []string{"shop", "frames", "add_ons", "units"} {
		fmt.Fprintf(&b, "\n## %s\n\n| key | holds | plausible | |\n|---|---|---|---|\n", list)
		define(&b, "", catalog.Of(list))
	}
	return b.String()
}

func define(b *strings.Builder, path string, fields []catalog.Field) {
	for _, f := range fields {
		holds, needed := kinds[f.Kind], ""
		if len(f.Words) > 0 {
			holds += " `" + strings.Join(f.Words, "` `") + "`"
		}
		if f.Zero {
			holds += ", or left out"
		}
		if f.Needed {
			needed = "needed"
		}
		fmt.Fprintf(b, "| `%s%s` | %s | %s | %s |\n", path, f.Name, holds, strings.ReplaceAll(f.Range, "\u00a0", " "), needed)
		switch f.Kind {
		case catalog.Boxed:
			define(b, path+f.Name+".", f.Sub)
		case catalog.Rows, catalog.Proofs:
			define(b, path+f.Name+"[].", f.Sub)
		case catalog.PerFrame:
			define(b, path+f.Name+".*.", f.Sub)
		}
	}
}
