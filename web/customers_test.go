package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// customers returns the profile documents of the sample customers, by name.
func customers(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../testdata/profiles/*.json")
	if err != nil || len(files) != 8 {
		t.Fatalf("%d sample customers, %v", len(files), err)
	}
	documents := map[string][]byte{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		documents[strings.TrimSuffix(filepath.Base(file), ".json")] = data
	}
	return documents
}

// question is one answer of a profile document; nil is "don't know yet".
type question struct {
	path   string
	answer any
}

// questions lists the answers of a profile document in the order of their
// paths, but for what the form does not ask.
func questions(t *testing.T, document []byte) []question {
	t.Helper()
	decoder := json.NewDecoder(strings.NewReader(string(document)))
	decoder.UseNumber()
	var tree map[string]any
	if err := decoder.Decode(&tree); err != nil {
		t.Fatal(err)
	}
	delete(tree, "profile")
	delete(tree, "as_of")
	var list []question
	walk("", tree, func(q question) { list = append(list, q) })
	slices.SortFunc(list, func(a, b question) int { return strings.Compare(a.path, b.path) })
	return list
}

func walk(path string, node any, visit func(question)) {
	switch node := node.(type) {
	case []any:
		for i, item := range node {
			walk(fmt.Sprintf("%s[%d]", path, i), item, visit)
		}
	case map[string]any:
		for key, item := range node {
			walk(strings.TrimPrefix(path+"."+key, "."), item, visit)
		}
	default:
		visit(question{path, node})
	}
}

// chosen are the options that the form has no words for: they are its first.
var chosen = map[string]string{"stated": "", "full": "", "least_cost": "", "unstated": ""}

// enter answers a question on the form, with what the page offers for it.
func (f *filled) enter(q question) {
	f.Helper()
	switch answer := q.answer.(type) {
	case nil:
		f.dontKnow(q.path)
	case json.Number:
		typed := answer.String()
		if q.path == "budget_cents" {
			cents, err := strconv.Atoi(typed)
			if err != nil {
				f.Fatal(err)
			}
			typed = fmt.Sprintf("%d.%02d", cents/100, cents%100)
		}
		f.set(q.path, typed)
	case bool:
		switch {
		case answer:
			f.set(q.path, "yes")
		case strings.HasSuffix(q.path, "sits_unaided"):
			f.set(q.path, "no")
		default: // a box that stays empty
			f.one(q.path)
		}
	case string:
		if first, ok := chosen[answer]; ok && !strings.HasSuffix(q.path, ".label") {
			answer = first
		}
		f.set(q.path, answer)
	}
}

func (f *filled) one(name string) {
	f.Helper()
	if n := f.page.Find(fmt.Sprintf(`[name="%s"]`, name)).Length(); n != 1 {
		f.Fatalf("%d fields %s", n, name)
	}
}

// listsOf are the lists that grow by a button, in the order of the page.
var lists = []string{"riders", "passengers", "home.doorways", "home.corners"}

// interview fills in the whole form for a customer as staff would, adding
// rows by the buttons, and returns the address of the consultation.
func (v *visitor) interview(document []byte) (address string) {
	v.Helper()
	address, f := v.consultation()
	asked := questions(v.T, document)
	for _, list := range lists {
		for i := range 20 {
			row := fmt.Sprintf("%s[%d].", list, i)
			if !slices.ContainsFunc(asked, func(q question) bool { return strings.HasPrefix(q.path, row) }) {
				break
			}
			if f.page.Find(fmt.Sprintf(`[name^="%s"]`, row)).Length() == 0 {
				a := v.press(f, address, "add "+list)
				if a.status != http.StatusOK {
					v.Fatalf("adding to %s: %d", list, a.status)
				}
				f = a.form()
			}
		}
	}
	for _, q := range asked {
		f.enter(q)
	}
	v.press(f, address, "frames").is(http.StatusOK, address+"/frames")
	return address
}
