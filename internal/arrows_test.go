// Package internal_test keeps the arrows between the folders: which may use
// which, and that what the shop knows depends on no technology.
package internal_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "kinwain/"

// arrows lists, for every folder with Go in it, what of ours it imports: no
// more, and no less.
var arrows = map[string][]string{
	"internal/measure":       {},
	"internal/problem":       {},
	"internal/tongue":        {},
	"internal/schema":        {"internal/measure"},
	"internal/schematest":    {"internal/problem", "internal/schema"}, // for tests
	"internal/catalog":       {"internal/measure", "internal/problem", "internal/schema", "internal/tongue"},
	"internal/catalog/sheet": {"internal/measure", "internal/problem", "internal/catalog"},
	"internal/profile":       {"internal/measure", "internal/problem", "internal/schema", "internal/tongue"},
	"internal/photo":         {},
	"internal/staff":         {},
	"internal/growth":        {"internal/measure"},
	"internal/parking":       {"internal/measure"},
	"internal/load":          {"internal/measure", "internal/catalog", "internal/profile"},
	"internal/fitting/relax": {},
	"internal/fitting":       {"internal/fitting/relax", "internal/measure", "internal/catalog", "internal/profile", "internal/growth", "internal/parking", "internal/load"},
	"internal/fitting/audit": {"internal/measure", "internal/catalog", "internal/parking", "internal/load", "internal/fitting"},
	"internal/ride":          {"internal/measure", "internal/catalog", "internal/load"},
	"internal/wideshop":      {"internal/catalog"},
	"internal/match":         {"internal/tongue", "internal/problem", "internal/schema", "internal/measure", "internal/catalog", "internal/profile", "internal/growth", "internal/parking", "internal/load", "internal/fitting", "internal/fitting/audit", "internal/ride"},
	"internal/quote":         {"internal/measure", "internal/catalog", "internal/fitting"},
	"internal/compare":       {"internal/measure", "internal/catalog", "internal/profile", "internal/parking", "internal/load", "internal/ride", "internal/match"},
	"internal/picture":       {"internal/measure", "internal/catalog", "internal/parking", "internal/load", "internal/match"},
	"internal/quality":       {"internal/measure", "internal/problem", "internal/catalog", "internal/growth"},
	"internal/coverage":      {"internal/measure", "internal/catalog", "internal/match"},
	"internal/figures":       {"internal/measure", "internal/match", "internal/quote"},
	"internal/store":         {"internal/measure", "internal/catalog", "internal/staff", "internal/quote", "migrations"},
	"internal/advice":        {"internal/measure", "internal/catalog", "internal/profile", "internal/match", "internal/quote", "internal/store"},
	"internal/summary":       {"internal/measure", "internal/problem", "internal/catalog", "internal/profile", "internal/parking", "internal/load", "internal/fitting", "internal/match", "internal/advice"},
	"internal/concern":       {"internal/measure", "internal/quote", "internal/catalog", "internal/profile", "internal/parking", "internal/load", "internal/fitting", "internal/match", "internal/store", "internal/advice", "internal/summary"},
	"internal/skipped":       {}, // for tests
	"internal/testfolder":    {}, // for tests
	"migrations":             {},
	"static":                 {},
	"testdata":               {},
	"web/say":                {"internal/measure", "internal/tongue", "internal/catalog", "internal/profile", "internal/match"},
	"web/form":               {"internal/measure", "internal/problem", "internal/profile"},
	"web/wares":              {"internal/measure", "internal/problem", "internal/catalog"},
	"web/kit":                {"internal/measure", "internal/problem", "internal/picture", "internal/staff", "internal/store", "static", "web/say"},
	"web/talk":               {"internal/measure", "internal/problem", "internal/catalog", "internal/profile", "internal/parking", "internal/load", "internal/fitting", "internal/match", "internal/picture", "internal/quote", "internal/store", "internal/advice", "internal/summary", "web/say", "web/form", "web/kit"},
	"web/desk":               {"internal/measure", "internal/problem", "internal/catalog", "internal/profile", "internal/parking", "internal/load", "internal/fitting", "internal/ride", "internal/match", "internal/quote", "internal/compare", "internal/figures", "internal/store", "internal/advice", "testdata", "web/say", "web/form", "web/kit", "web/talk"},
	"web/counter":            {"internal/measure", "internal/catalog", "internal/profile", "internal/fitting", "internal/match", "internal/quote", "internal/store", "internal/advice", "web/say", "web/form", "web/kit", "web/talk"},
	"web/floor":              {"internal/measure", "internal/catalog", "internal/match", "internal/quote", "internal/store", "static", "web/say", "web/form", "web/kit", "web/talk"},
	"web/takehome":           {"internal/measure", "internal/problem", "internal/catalog", "internal/profile", "internal/match", "internal/picture", "internal/figures", "internal/store", "internal/advice", "internal/summary", "internal/concern", "static", "web/say", "web/form", "web/kit", "web/talk"},
	"web/inventory":          {"internal/figures", "internal/coverage", "internal/picture", "internal/quote", "internal/measure", "internal/problem", "internal/catalog", "internal/catalog/sheet", "internal/photo", "internal/match", "internal/quality", "internal/store", "internal/advice", "internal/concern", "static", "web/say", "web/form", "web/wares", "web/kit"},
	"web/shop":               {"internal/measure", "internal/problem", "internal/catalog", "internal/profile", "internal/staff", "internal/match", "internal/figures", "internal/store", "internal/advice", "internal/concern", "testdata", "web/say", "web/kit"},
	"web":                    {"internal/schema", "internal/catalog", "internal/advice", "internal/profile", "internal/match", "internal/staff", "internal/store", "internal/concern", "static", "web/form", "web/kit", "web/talk", "web/desk", "web/counter", "web/floor", "web/takehome", "web/inventory", "web/shop"},
	"web/say/worn":           {},
	"web/webtest":            {"internal/catalog", "internal/catalog/sheet", "internal/staff", "internal/store", "testdata", "web/say/worn", "web"},
}

// domain reports whether a folder holds what the shop knows, and nothing else.
func domain(folder string) bool {
	return strings.HasPrefix(folder, "internal/") && !slices.Contains([]string{"internal/store", "internal/skipped", "internal/testfolder"}, folder)
}

// technology lists what the domain does without.
var technology = []string{"net", "net/http", "net/url", "database/sql", "html/template", "os", "log", "log/slog", "flag"}

// clocks are the functions of package time that look at one.
var clocks = []string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "Sleep", "NewTimer", "NewTicker"}

// source is one file of the program, without its tests.
type source struct {
	folder string
	name   string
	file   *ast.File
}

// sources parses the whole program.
func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	err := filepath.WalkDir("..", func(name string, entry os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && name != ".." && strings.HasPrefix(entry.Name(), ".") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		folder := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(name)), "../")
		all = append(all, source{folder, entry.Name(), file})
		return err
	})
	if err != nil || len(all) < 50 {
		t.Fatalf("%d files, %v", len(all), err)
	}
	return all
}

// imports lists what a file imports.
func (s source) imports(t *testing.T) []string {
	t.Helper()
	var list []string
	for _, spec := range s.file.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, name)
	}
	return list
}

func TestArrows(t *testing.T) {
	used := map[string]map[string]bool{}
	for _, s := range sources(t) {
		if s.folder == "cmd/kinwain" {
			continue
		}
		may, known := arrows[s.folder]
		if used[s.folder] == nil {
			used[s.folder] = map[string]bool{}
			if !known {
				t.Errorf("%s has Go in it and no arrows", s.folder)
			}
		}
		for _, name := range s.imports(t) {
			ours, found := strings.CutPrefix(name, module)
			if !found {
				continue
			}
			used[s.folder][ours] = true
			if !slices.Contains(may, ours) {
				t.Errorf("%s/%s imports %s", s.folder, s.name, name)
			}
		}
	}
	for folder, may := range arrows {
		if used[folder] == nil {
			t.Errorf("there is no %s any more", folder)
		}
		for _, ours := range may {
			if !used[folder][ours] {
				t.Errorf("%s may import %s, and does not", folder, ours)
			}
		}
	}
}

// rooms are the folders of the web that each hold one task.
var rooms = []string{"web/desk", "web/counter", "web/floor", "web/takehome", "web/inventory", "web/shop"}

// TestRoomsKeepApart holds that no room knows another, and that only the whole
// and its tests know them.
func TestRoomsKeepApart(t *testing.T) {
	for folder, may := range arrows {
		for _, room := range rooms {
			if slices.Contains(may, room) && folder != "web" {
				t.Errorf("%s knows the room %s", folder, room)
			}
		}
		if slices.Contains(may, "web/webtest") {
			t.Errorf("%s needs what only tests use", folder)
		}
	}
}

func TestDomainKnowsNoTechnologyAndNoClock(t *testing.T) {
	for _, s := range sources(t) {
		if !domain(s.folder) {
			continue
		}
		for _, name := range s.imports(t) {
			if slices.Contains(technology, name) || name == "time" && localName(s.file, name) == "." { // a clock without its name could not be told
				t.Errorf("%s/%s imports %s", s.folder, s.name, name)
			}
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			if selector, ok := n.(*ast.SelectorExpr); ok && isName(selector.X, localName(s.file, "time")) && slices.Contains(clocks, selector.Sel.Name) {
				t.Errorf("%s/%s looks at a clock: time.%s", s.folder, s.name, selector.Sel.Name)
			}
			return true
		})
	}
}

// localName returns how a file calls a package that it imports.
func localName(file *ast.File, imported string) string {
	for _, spec := range file.Imports {
		if spec.Path.Value != strconv.Quote(imported) {
			continue
		}
		if spec.Name != nil {
			return spec.Name.Name
		}
		return path.Base(imported)
	}
	return ""
}

func isName(x ast.Expr, name string) bool {
	id, ok := x.(*ast.Ident)
	return ok && name != "" && id.Name == name
}

// TestSQLIsInTheStore holds that nobody else opens a database.
func TestSQLIsInTheStore(t *testing.T) {
	users := map[string]bool{}
	for _, s := range sources(t) {
		for _, name := range s.imports(t) {
			if name == "database/sql" || strings.HasPrefix(name, "modernc.org/sqlite") {
				users[s.folder] = true
			}
		}
	}
	delete(users, "internal/store")
	delete(users, "migrations")
	for folder := range users {
		t.Errorf("%s uses a database", folder)
	}
}

// TestTopLevel holds that the first look at the project shows what it is for,
// and nothing that was left lying about. What git ignores is not looked at.
func TestTopLevel(t *testing.T) {
	want := []string{"DEVELOPERS.md", "README.md", "cmd", "go.mod", "go.sum", "internal", "migrations", "static", "testdata", "web"}
	ignored, err := os.ReadFile("../.gitignore")
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir("..")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, entry := range entries {
		if name := entry.Name(); !strings.HasPrefix(name, ".") && !matches(t, strings.Fields(string(ignored)), name) {
			got = append(got, name)
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("at the top are %v, want %v", got, want)
	}
}

func matches(t *testing.T, patterns []string, name string) bool {
	t.Helper()
	for _, pattern := range patterns {
		ok, err := path.Match(strings.Trim(pattern, "/"), name)
		if err != nil {
			t.Fatal(err)
		}
		if ok {
			return true
		}
	}
	return false
}
