package webtest

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the pages that are kept anew; read the difference")

// What differs from one run to the next, or with every change of a style sheet.
var (
	fileVersion = regexp.MustCompile(`\?v=[A-Za-z0-9_-]+`)
	requestID   = regexp.MustCompile(`this is request [A-Z2-7]{10}`)
	fitToken    = regexp.MustCompile(`/fit/[a-z2-7]{32}`)
)

// Golden holds the page of an answer against the one that is kept in testdata,
// an element a line.
func (a *Answer) Golden(name string) {
	a.Helper()
	html := fitToken.ReplaceAllString(fileVersion.ReplaceAllString(string(a.Body), ""), "/fit/TOKEN")
	html = requestID.ReplaceAllString(html, "this is request NUMBER")
	html = strings.ReplaceAll(html, "><", ">\n<") + "\n"
	file := filepath.Join("testdata", name+".html")
	if *update {
		if err := os.MkdirAll("testdata", 0o750); err != nil {
			a.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(html), 0o600); err != nil {
			a.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil {
		a.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(kept), "\n"), strings.Split(html, "\n")); diff != "" {
		a.Errorf("%s is not as it is kept; where it should not be, run the test with -update and read the difference: %s", name, diff)
	}
}
