package sheet_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog/sheet"
)

// FuzzRead puts one table of any bytes among those of a small shop. What is
// accepted writes itself so that it reads back as the same document, and
// always as the same files.
func FuzzRead(f *testing.F) {
	for i, name := range sheet.Tables() {
		f.Add(byte(i), []byte(small()[name]))
	}
	f.Add(byte(1), []byte("code;name;gross_rating_kg;bare_weight_kg;rider_min_cm;rider_max_cm;price_cents;length_cm;width_cm;height_cm;notes\r\nsedge;\"'=1\";180;24,5;150;195;189000;178;64;112;\"a\"\"\r\n\"\r\n;;;\r\n"))
	f.Add(byte(2), []byte("\ufeffframe\tcode\nsedge\trear\nosier\trear\nsedge\tfront"))
	f.Add(byte(4), []byte("add_on,kind,needs\nseat,bench,a | b c|d\n"))
	f.Add(byte(5), []byte("code,name,weight_kg,fits,uses\nseat,'-,4.1,sedge,deck_cm:1\nbench,\"\xff\",1,,\n"))
	f.Fuzz(func(t *testing.T, table byte, data []byte) {
		texts := small()
		texts[sheet.Tables()[int(table)%len(sheet.Tables())]] = string(data)
		c, err := sheet.Read(filesOf(texts), nil)
		if err != nil {
			if c != nil || len(told(t, err)) == 0 {
				t.Errorf("%v with %v", err, c)
			}
			return
		}
		files := sheet.Write(c)
		back, err := sheet.Read(files, nil)
		if err != nil {
			t.Fatalf("reading back: %v\n%s", err, files)
		}
		before, err := c.Document()
		if err != nil {
			t.Fatal(err)
		}
		after, err := back.Document()
		if err != nil || !bytes.Equal(before, after) {
			t.Errorf("%v: %s", err, cmp.Diff(string(before), string(after)))
		}
		if diff := cmp.Diff(files, sheet.Write(back)); diff != "" {
			t.Error(diff)
		}
	})
}
