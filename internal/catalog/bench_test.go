package catalog_test

import (
	"fmt"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
)

// large is a shop of so many frames and add-ons, without a fault. Every add-on
// fits every frame, differs on every tenth, and excludes ten others; every
// frame has eight zones and mounts.
func large(frames, addOns int) *catalog.Catalogue {
	c := &catalog.Catalogue{Version: 1, Shop: catalog.Shop{Name: "Low Quay", Currency: "EUR"}}
	var fits []string
	pairs := map[string]catalog.Pair{}
	for i := range frames {
		f := small().Frames[1]
		f.Code, f.Zones = fmt.Sprintf("frame-%d", i), nil
		for j := range 8 {
			f.Zones = append(f.Zones, catalog.Zone{Code: fmt.Sprintf("zone-%d", j), Rating: 40 * kg})
			f.Mounts = append(f.Mounts, catalog.Mount{Code: fmt.Sprintf("mount-%d", j), Capacity: 4})
		}
		c.Frames, fits = append(c.Frames, f), append(fits, f.Code)
		if i%10 == 0 {
			pairs[f.Code] = catalog.Pair{FittingMinutes: pointer(5)}
		}
	}
	for i := range addOns {
		a := catalog.AddOn{Code: fmt.Sprintf("add-on-%d", i), Name: "Tray", Weight: 900, Zone: "zone-7", Cargo: 9 * kg, Fits: fits, OnFrame: pairs,
			Uses: []catalog.Use{{Mount: "mount-7", Count: 2}}, Needs: [][]string{{"wheel_guard", "tray"}}}
		for j := 1; j <= 10 && j < addOns; j++ {
			a.Excludes = append(a.Excludes, fmt.Sprintf("add-on-%d", (i+j)%addOns))
		}
		c.AddOns = append(c.AddOns, a)
	}
	return c
}

// BenchmarkCheck and the two after it show that the time for one add-on does
// not grow with their number, nor with the frames faster than these do.
func BenchmarkCheck(b *testing.B) {
	sizes(b, func(c *catalog.Catalogue) func() error { return c.Check })
}

func BenchmarkWriteSheets(b *testing.B) {
	sizes(b, func(c *catalog.Catalogue) func() error { return func() error { sheet.Write(c); return nil } })
}

func BenchmarkReadSheets(b *testing.B) {
	sizes(b, func(c *catalog.Catalogue) func() error {
		files := sheet.Write(c)
		return func() error { _, err := sheet.Read(files, nil); return err }
	})
}

func sizes(b *testing.B, of func(*catalog.Catalogue) func() error) {
	for _, size := range [][2]int{{20, 1_000}, {20, 10_000}, {200, 1_000}, {200, 10_000}} {
		b.Run(fmt.Sprintf("frames=%d/add-ons=%d", size[0], size[1]), func(b *testing.B) {
			run := of(large(size[0], size[1]))
			b.ReportAllocs()
			for b.Loop() {
				if err := run(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(size[1]), "ns/add-on")
		})
	}
}

// BenchmarkCheckLongLists has lists far longer than any shop's.
func BenchmarkCheckLongLists(b *testing.B) {
	for _, n := range []int{1_000, 10_000} {
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			c := large(n, 2)
			f, a := &c.Frames[0], &c.AddOns[0]
			c.Frames[0].Combined = []catalog.Combined{{Rating: 40 * kg}}
			a.Excludes, a.Zone, a.Cargo, a.Uses = nil, "", 0, nil
			for i := range n {
				code := fmt.Sprintf("more-%d", i)
				f.Zones, f.Mounts = append(f.Zones, catalog.Zone{Code: code}), append(f.Mounts, catalog.Mount{Code: code, Capacity: 1})
				f.Combined[0].Zones = append(f.Combined[0].Zones, code)
				f.Places = append(f.Places, catalog.Place{Zone: code, Kind: "bench", MinMonths: 12})
				c.AddOns = append(c.AddOns, catalog.AddOn{Code: code, Name: "Lamp", Weight: 1, Excludes: []string{"add-on-1"}})
				f.ComesWith = append(f.ComesWith, code)
			}
			b.ReportAllocs()
			for b.Loop() {
				if err := c.Check(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/entry")
		})
	}
}
