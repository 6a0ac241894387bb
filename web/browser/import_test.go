package browser_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"kinwain/testdata"
	"kinwain/web/webtest"
)

// TestImportInABrowser sends a table with a fault, mends it, sends it again
// and imports it.
func TestImportInABrowser(t *testing.T) {
	c := browser(t)
	s := webtest.Open(t)
	tables := s.Staff().Tables()
	file := filepath.Join(t.TempDir(), "add_ons.csv")
	b := c.tab(s)
	b.signIn()
	b.visit(webtest.ImportPath)
	send := func(data []byte) {
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		b.do(chromedp.SetUploadFiles("#files", []string{file}))
		b.click("form .primary")
	}
	if !evaluate[bool](b, `document.querySelector("[data-busy]").hidden`) {
		t.Error("it says that it is busy before anything was sent")
	}
	evaluate[chromedp.Void](b, `document.querySelector("[data-busy]").closest("form").dispatchEvent(new Event("submit", { bubbles: true }))`)
	if evaluate[bool](b, `document.querySelector("[data-busy]").hidden`) {
		t.Error("it does not say that it is busy")
	}
	b.expect("status of 422")
	send(webtest.Edited(t, tables["add_ons.csv"], ",159.00,", ",dear,").Data)
	b.until(`document.querySelector(".file-faults li")?.textContent.includes("add_ons.csv, row 2, price")`)
	b.look("an import with a fault")
	send(webtest.Edited(t, tables["add_ons.csv"], ",159.00,", ",169.00,").Data)
	b.until(`document.querySelector(".changed")`)
	b.look("what an import would change")
	b.click(".confirm .primary")
	b.until(`document.querySelector(".done")`)
	if want := strings.ReplaceAll(string(testdata.Demo), `"price_cents": 15900,`, `"price_cents": 16900,`); s.Document() != want {
		t.Error(cmp.Diff(want, s.Document()))
	}
}
