package internal_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestEveryNamedTestExists reads the table of DEVELOPERS.md that names tests for
// what keeps strangers out.
func TestEveryNamedTestExists(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(text), "<!-- security -->\n")
	table, _, found := strings.Cut(table, "<!-- /security -->")
	rows := strings.Split(strings.TrimSpace(table), "\n")
	if !found || len(rows) < 16 {
		t.Fatalf("%d rows", len(rows))
	}
	there := testsThere(t)
	name := regexp.MustCompile("`(Test\\w+)`")
	for _, row := range rows[2:] {
		cells := strings.Split(row, " | ")
		named := name.FindAllStringSubmatch(cells[len(cells)-1], -1)
		if len(cells) != 3 || len(named) == 0 {
			t.Errorf("names no test: %s", row)
		}
		for _, one := range named {
			if !there[one[1]] {
				t.Errorf("there is no %s: %s", one[1], row)
			}
		}
	}
}

// testsThere lists every test of the program.
func testsThere(t *testing.T) map[string]bool {
	t.Helper()
	there := map[string]bool{}
	err := filepath.WalkDir("..", func(name string, entry os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range file.Decls {
			if f, is := d.(*ast.FuncDecl); is && f.Recv == nil && strings.HasPrefix(f.Name.Name, "Test") {
				there[f.Name.Name] = true
			}
		}
		return nil
	})
	if err != nil || len(there) < 500 {
		t.Fatalf("%d tests, %v", len(there), err)
	}
	return there
}
