package inventory_test

import (
	"archive/zip"
	"bytes"
	"net/http"
	"strings"
	"testing"

	"kinwain/internal/catalog/sheet"
	"kinwain/web/webtest"
)

// TestColumnsAreTold reads the dictionary as the manager does, from the page of
// import on.
func TestColumnsAreTold(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Get(webtest.ImportPath).One(`a[href="/inventory/import/columns"]`).AttrOr("href", "")
	a := v.Get(address).Is(http.StatusOK, address)
	told := 0
	for _, table := range sheet.Dictionary() {
		a.Count(`nav a[href="#`+table.Name+`"]`, 1)
		a.Count(webtest.ByID(table.Name), 1)
		for _, c := range table.Columns {
			row := a.One(webtest.ByID(table.Name + "." + c.Name))
			if got := webtest.Words(row); !strings.HasPrefix(got, c.Name) || !strings.Contains(got, c.Holds) || !strings.Contains(got, strings.Join(strings.Fields(c.Range), " ")) {
				t.Errorf("of %s of %s it is said: %s", c.Name, table.Name, got)
			}
			told++
		}
	}
	a.Count("main tbody tr", told)
	few := v.Get(address + "?q=rear+axle")
	if n := few.Page.Find("main tbody tr").Length(); n == 0 || n > told/4 || few.Page.Find(webtest.ByID("frames.rear_axle_max_kg")).Length() != 1 {
		t.Errorf("%d columns are found", n)
	}
	if got := v.Get(address + "?q=nothing-has-it").Text(".empty"); got != "No column has “nothing-has-it” in it." {
		t.Error(got)
	}
	blank := v.Get(a.One(`a[download]`).AttrOr("href", ""))
	archive, err := zip.NewReader(bytes.NewReader(blank.Body), int64(len(blank.Body)))
	if err != nil || len(archive.File) != len(sheet.Tables()) {
		t.Errorf("%v, %v", archive, err)
	}
}
