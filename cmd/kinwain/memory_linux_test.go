package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/catalog/sheet"
	"kinwain/internal/wideshop"
	"kinwain/testdata"
)

// mostMemory bounds what an import may take on the computer of a shop, in
// megabytes.
const mostMemory = 150

// TestImportOfTenThousandRows imports a shop of ten thousand add-ons in every
// form, and then another price for each, and looks at the most memory that the
// program had.
func TestImportOfTenThousandRows(t *testing.T) {
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	shop := wideshop.Of(demo, len(demo.Frames)-1, 10_000)
	dir, data := t.TempDir(), filepath.Join(t.TempDir(), "data")
	if err := writeSheets(sheet.Write(shop), filepath.Join(dir, "tables")); err != nil {
		t.Fatal(err)
	}
	if err := writeSheets(sheet.Write(shop), filepath.Join(dir, "shop.zip")); err != nil {
		t.Fatal(err)
	}
	workbook, err := sheet.Workbook(shop)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, "shop.xlsx"), workbook, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	prices := "code,price\r\n"
	for _, a := range shop.AddOns {
		prices += fmt.Sprintf("%s,%v\r\n", a.Code, a.Price+100)
	}
	if err := os.WriteFile(filepath.Join(dir, "add_ons.csv"), []byte(prices), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ args, says string }{
		{"-dry-run shop.zip", "10055 added"}, {"tables", "10011 add-ons"},
		{"-dry-run add_ons.csv", "0 removed, 10011 changed"}, {"add_ons.csv", "10011 add-ons"}, {"-dry-run shop.xlsx", "0 removed, 10011 changed"}, {"shop.zip", "10011 add-ons"},
	} {
		said, took := memoryOf(t, dir, append([]string{"import", "-data", data}, strings.Fields(c.args)...)...)
		if t.Logf("%s: %d MB", c.args, took); took > mostMemory || took < 20 || !strings.Contains(said, c.says) {
			t.Errorf("%s took %d MB and said %.300q, want %q", c.args, took, said, c.says)
		}
	}
}

// TestImportOfEmptyObjects refuses what is small as a file and huge once it is
// read.
func TestImportOfEmptyObjects(t *testing.T) {
	dir := t.TempDir()
	document := `{"catalogue": 1, "add_ons": [{}` + strings.Repeat(",{}", 4<<20) + `]}`
	if err := os.WriteFile(filepath.Join(dir, "a.json"), []byte(document), 0o600); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	said, took := memoryOf(t, dir, "import", "-data", "data", "a.json")
	if !strings.Contains(said, "more than 50000 things") || took > 60 || time.Since(began) > 10*time.Second {
		t.Errorf("%v, %d MB: %s", time.Since(began), took, said)
	}
}

var peak = regexp.MustCompile(`VmHWM:\s+([0-9]+) kB`)

// memoryOf runs the program in a folder and returns what it said, and the most
// memory that it had, in megabytes. What the system tells of a child that has
// ended would count its parent, too: so it is asked until the end.
func memoryOf(t *testing.T, dir string, args ...string) (said string, megabytes int) {
	t.Helper()
	program := exec.CommandContext(t.Context(), os.Args[0], args...)
	program.Dir, program.Env = dir, append(os.Environ(), asProgram+"=1", "GOGC=") // as it comes, whatever tests run under
	var stderr bytes.Buffer
	program.Stderr = &stderr
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- program.Wait() }()
	for {
		status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", program.Process.Pid))
		if m := peak.FindSubmatch(status); err == nil && m != nil {
			kilobytes, _ := strconv.Atoi(string(m[1])) // digits
			megabytes = kilobytes >> 10
		}
		select {
		case <-ended: // what it ended with, it said
			return stderr.String(), megabytes
		case <-time.After(2 * time.Millisecond):
		}
	}
}
