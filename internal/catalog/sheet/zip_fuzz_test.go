package sheet_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog/sheet"
)

// FuzzUnzip opens any bytes as an archive. What comes out are tables of no more
// than the bound, which packed again come out the same; and whatever is in
// them, it is read or its faults are told.
func FuzzUnzip(f *testing.F) {
	add := func(files ...sheet.File) {
		packed, err := sheet.Zip(files)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(packed)
		f.Add(packed[:len(packed)/2])
	}
	add(filesOf(small())...)
	add(sheet.File{Name: "../../frames.csv", Data: []byte("code\n")}, sheet.File{Name: `C:\shop.csv`}, sheet.File{Name: "__MACOSX/shop.csv"})
	add(sheet.File{Name: "units.csv", Data: bytes.Repeat([]byte("a"), 1<<16)}, sheet.File{Name: "units.csv"}, sheet.File{Name: "folder.csv/"})
	add()
	f.Add([]byte("PK\x05\x06" + string(make([]byte, 18))))
	f.Fuzz(func(t *testing.T, data []byte) {
		files, err := sheet.Unzip(data)
		if err != nil {
			if files != nil || len(told(t, err)) == 0 {
				t.Errorf("%v with %d files", err, len(files))
			}
			return
		}
		size := 0
		for _, file := range files {
			if size += len(file.Data); !sheet.Holds(file.Name) || size > 64<<20 {
				t.Errorf("%q, %d bytes so far", file.Name, size)
			}
		}
		packed, err := sheet.Zip(files)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := sheet.Unzip(packed); err != nil || !cmp.Equal(files, again, cmp.Comparer(bytes.Equal)) {
			t.Errorf("packed again: %v %s", err, cmp.Diff(files, again))
		}
		if c, err := sheet.Read(files, nil); err != nil && (c != nil || len(told(t, err)) == 0) {
			t.Errorf("%v with %v", err, c)
		}
	})
}
