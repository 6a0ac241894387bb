package webtest

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kinwain/testdata"
)

// Family is a customer who meets every verdict of the demo shop, with an open
// question and lists of everything.
const Family = `{"profile": 1, "as_of": "2026-11-25",
 "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82, "weighed": "dressed"}, {"label": "B", "height_cm": 168, "weight_kg": 64}],
 "passengers": [{"label": "first child", "born": "2023-05", "sits_unaided": true}, {"label": "second child", "born": "2025-09", "sits_unaided": null}],
 "cargo_kg": 12, "cargo_litres": 40,
 "home": {"length_cm": 260, "width_cm": 90, "doorways": [{"width_cm": 85, "height_cm": 210}], "corners": [{"in_cm": 130, "out_cm": null}]},
 "budget_cents": 550000, "years": 4}`

// Customers returns the profile documents of the sample customers, by name.
func Customers(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d sample customers, %v", len(files), err)
	}
	documents := map[string][]byte{}
	for _, file := range files {
		data, err := testdata.Profiles.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		documents[strings.TrimSuffix(path.Base(file), ".json")] = data
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
func (f *Filled) enter(q question) {
	f.Helper()
	switch answer := q.answer.(type) {
	case nil:
		f.DontKnow(q.path)
	case json.Number:
		typed := answer.String()
		if q.path == "budget_cents" {
			cents, err := strconv.Atoi(typed)
			if err != nil {
				f.Fatal(err)
			}
			typed = fmt.Sprintf("%d.%02d", cents/100, cents%100)
		}
		f.Set(q.path, typed)
	case bool:
		switch {
		case answer:
			f.Set(q.path, "yes")
		case strings.HasSuffix(q.path, "sits_unaided"):
			f.Set(q.path, "no")
		default: // a box that stays empty
			f.one(q.path)
		}
	case string:
		if first, ok := chosen[answer]; ok && !strings.HasSuffix(q.path, ".label") {
			answer = first
		}
		f.Set(q.path, answer)
	}
}

func (f *Filled) one(name string) {
	f.Helper()
	if n := f.Page.Find(fmt.Sprintf(`[name="%s"]`, name)).Length(); n != 1 {
		f.Fatalf("%d fields %s", n, name)
	}
}

// Lists are the lists that grow by a button, in the order of the page.
var Lists = []string{"riders", "passengers", "home.doorways", "home.corners"}

// Interview fills in the whole form for a customer as staff would, adding
// rows by the buttons, and returns the address of the consultation.
func (v *Visitor) Interview(document []byte) (address string) {
	v.Helper()
	address, f := v.Consultation()
	asked := questions(v.T, document)
	for _, list := range Lists {
		for i := range 20 {
			row := fmt.Sprintf("%s[%d].", list, i)
			if !slices.ContainsFunc(asked, func(q question) bool { return strings.HasPrefix(q.path, row) }) {
				break
			}
			if f.Page.Find(fmt.Sprintf(`[name^="%s"]`, row)).Length() == 0 {
				a := v.Press(f, address, "add "+list)
				if a.Status != http.StatusOK {
					v.Fatalf("adding to %s: %d", list, a.Status)
				}
				f = a.Form()
			}
		}
	}
	for _, q := range asked {
		f.enter(q)
	}
	v.Press(f, address, "frames").Is(http.StatusOK, address+"/frames")
	return address
}
