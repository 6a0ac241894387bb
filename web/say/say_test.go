package say

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	domain "kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/tongue"
	"kinwain/testdata"
	"kinwain/web/form"
	"kinwain/web/say/worn"
)

// entry is one key in every language, in every form.
type entry struct {
	key   string
	texts map[Language][]string
}

func entries() []entry {
	var all []entry
	for _, list := range sentences {
		for _, s := range list {
			e := entry{s.English, map[Language][]string{}}
			for l, text := range in(s) {
				e.texts[l] = []string{text}
			}
			all = append(all, e)
		}
	}
	for _, c := range countedSentences {
		e := entry{c.Key, map[Language][]string{}}
		for l, f := range formsIn(c) {
			e.texts[l] = []string{f.One, f.Other}
		}
		all = append(all, e)
	}
	return all
}

// TestNoKeyIsMissing holds that every key says something in every language,
// and that no two say it.
func TestNoKeyIsMissing(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range entries() {
		if seen[e.key] {
			t.Errorf("twice: %q", e.key)
		}
		seen[e.key] = true
		for _, l := range Languages {
			if len(e.texts[l]) == 0 || slices.Contains(e.texts[l], "") {
				t.Errorf("%s says nothing of %q", l, e.key)
			}
		}
	}
	if len(seen) < 200 {
		t.Errorf("only %d keys", len(seen))
	}
}

var verb = regexp.MustCompile(`%(\[([0-9]+)\])?(.?)`)

// verbs lists which arguments a sentence says, in ascending order.
func verbs(t *testing.T, text string) []int {
	t.Helper()
	var list []int
	next := 1
	for _, m := range verb.FindAllStringSubmatch(text, -1) {
		if m[3] != "v" {
			t.Errorf("%q has a verb that is not %%v", text)
		}
		if m[2] != "" {
			next, _ = strconv.Atoi(m[2])
		}
		list = append(list, next)
		next++
	}
	slices.Sort(list)
	return list
}

func TestVerbsAgree(t *testing.T) {
	for _, e := range entries() {
		want := verbs(t, e.key)
		for l, texts := range e.texts {
			for _, text := range texts {
				if got := verbs(t, text); !slices.Equal(got, want) {
					t.Errorf("%s: %q says the arguments %v, want %v", l, text, got, want)
				}
			}
		}
	}
	for _, c := range countedSentences {
		if n := len(verbs(t, c.Key)); c.Number < 1 || c.Number > n {
			t.Errorf("%q counts argument %d of %d", c.Key, c.Number, n)
		}
	}
}

// parsed returns the syntax of a folder's Go, without tests and the table of
// reasons, which holds every sentence once more.
func parsed(t *testing.T, folder string) []*ast.File {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") || filepath.Base(name) == "rules.go" {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	if len(files) < 3 {
		t.Fatalf("%d files in %s", len(files), folder)
	}
	return files
}

func literal(x ast.Expr) (string, bool) {
	lit, ok := x.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// called returns the name by which a function is called.
func called(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// TestEveryReasonIsSaid walks every sentence that a match can carry.
func TestEveryReasonIsSaid(t *testing.T) {
	found := 0
	for _, file := range parsed(t, "../../internal/match") {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || called(call) != "say" {
				return true
			}
			key, ok := literal(call.Args[0])
			if !ok {
				t.Error("a sentence of a match is put together where nobody can translate it")
			} else if found++; !Has(key) {
				t.Errorf("nobody says %q", key)
			}
			if n := len(verbs(t, key)); n != len(call.Args)-1 {
				t.Errorf("%q has %d arguments", key, len(call.Args)-1)
			}
			return true
		})
	}
	if found < 70 {
		t.Errorf("only %d sentences found", found)
	}
}

// TestPagesSayWhatThereIs holds that every key that a page says is there, and
// that every key that is there is said somewhere.
func TestPagesSayWhatThereIs(t *testing.T) {
	written, said := map[string]bool{}, 0
	for _, folder := range []string{"../kit", "../talk", "../desk", "../counter", "../takehome", "../../internal/match"} {
		for _, file := range parsed(t, folder) {
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok {
					if text, ok := literal(lit); ok {
						written[text] = true
					}
				}
				if call, ok := n.(*ast.CallExpr); ok && strings.EqualFold(called(call), "say") && len(call.Args) > 0 {
					if key, ok := literal(call.Args[0]); ok {
						if said++; !Has(key) {
							t.Errorf("%s: nobody says %q", folder, key)
						}
					}
				}
				return true
			})
		}
	}
	if said < 150 {
		t.Errorf("only %d sentences found", said)
	}
	for _, w := range slices.Concat(words, bikes, short()) { // by their codes
		written[w.English] = true
	}
	for _, s := range slices.Concat(asked(profile.Questions), shown(), former) { // by their paths, and by what was kept
		written[s.English] = true
	}
	written["%v, %v to %v"], written["%v, %v, to %v, %v"] = true, true // by Times
	for _, e := range entries() {
		if !written[e.key] {
			t.Errorf("never said: %q", e.key)
		}
	}
}

// TestNoHoles says every sentence: nothing of fmt's complaints comes through.
func TestNoHoles(t *testing.T) {
	for _, l := range Languages {
		s := New(l, measure.Metric)
		for _, e := range entries() {
			args := make([]any, len(verbs(t, e.key)))
			for i := range args {
				args[i] = 2 + i
			}
			text := s.Say(e.key, args...)
			for i := range args {
				if !strings.Contains(text, fmt.Sprint(2+i)) {
					t.Errorf("%s: %q lacks %d", l, text, 2+i)
				}
			}
			if strings.Contains(text, "%") || text == "" || l != English && len(args) > 2 && text == fmt.Sprintf(e.key, args...) {
				t.Errorf("%s: %q", l, text)
			}
		}
	}
}

// TestCounted says sentences for one and for several.
func TestCounted(t *testing.T) {
	const steps = "%v steps with a bike of %v. Try lifting it before you decide."
	for l, want := range map[Language][2]string{English: {"1 step ", "4 steps "}, French: {"1 marche ", "4 marches "}, German: {"1 Stufe ", "4 Stufen "}, Dutch: {"1 trede ", "4 treden "}} {
		s := New(l, measure.Metric)
		for i, n := range []int{1, 4} {
			if got := s.Say(steps, n, 26*measure.Kilogram); !strings.HasPrefix(got, want[i]) {
				t.Errorf("%s: %q", l, got)
			}
		}
	}
}

// TestEnglishIsThatOfTheDocuments holds that the English of the speaker is that of
// the documents, but for the spaces that keep a figure together.
func TestEnglishIsThatOfTheDocuments(t *testing.T) {
	m := match.Message{Format: "Only %v to spare at %v. Measure again, handlebar and pedals included.", Args: []any{
		match.Rounded{Figure: 437 * measure.Millimetre, Rounding: measure.Down}, match.Message{Format: "doorway %v", Args: []any{"2"}}}}
	for _, units := range []measure.System{measure.Metric, measure.Imperial} {
		if got, want := strings.ReplaceAll(New(English, units).Message(m), noBreak, " "), m.In(units); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := New(German, measure.Metric).Message(m); got != "Nur 43,7\u00a0cm Spielraum für Tür 2. Messen Sie noch einmal, mit Lenker und Pedalen." {
		t.Error(got)
	}
}

func TestLabels(t *testing.T) {
	f := form.New()
	for i := range 10 {
		f.Add(form.Passengers)
		label := f.Get(form.At(form.Passengers, i, "label"))
		for l, word := range map[Language]string{French: "enfant", German: "Kind", Dutch: "kind"} {
			if got, want := New(l, measure.Metric).Label(match.Label{Text: label}), fmt.Sprint(word, " ", i+1); got != want {
				t.Errorf("%s: %q is said %q, want %q", l, label, got, want)
			}
		}
		if got := New(English, measure.Metric).Label(match.Label{Text: label, Begins: true}); !strings.EqualFold(got, label) || got == label {
			t.Errorf("%q begins a sentence as %q", label, got)
		}
	}
	for _, own := range []string{"Mo", "child", "first", "child 7b", "%v", "frame"} {
		if got := New(French, measure.Metric).Label(match.Label{Text: own}); got != own {
			t.Errorf("the name %q is said %q", own, got)
		}
	}
}

// TestWordsOfTheDemoShop holds that every code that a customer of the demo
// shop can meet has its word.
func TestWordsOfTheDemoShop(t *testing.T) {
	demo, err := domain.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	codes := map[string]bool{"front": true, "rear": true}
	add := func(list ...string) {
		for _, code := range list {
			codes[code] = code != "" && code != "other"
		}
	}
	add(domain.Brakes...)
	add(domain.Types...)
	for _, u := range demo.Units {
		add(u.Kind, u.Colour)
	}
	for _, f := range demo.Frames {
		add(f.Material)
		add(f.Provides...)
		if len(f.Size) > 2 { // one to two letters are the same everywhere
			add(f.Size)
		}
		for _, z := range f.Zones {
			add(z.Code)
		}
		for _, m := range f.Mounts {
			add(m.Code)
		}
	}
	for _, a := range demo.AddOns {
		add(a.Provides...)
	}
	for code := range maps.Keys(codes) {
		if codes[code] && !Has(strings.ReplaceAll(code, "_", " ")) {
			t.Errorf("there is no word for %q", code)
		}
	}
	if got := New(French, measure.Metric).Word("a_new-zone"); got != "a new zone" {
		t.Error(got)
	}
}

func TestAccepted(t *testing.T) {
	for header, want := range map[string]Language{"": English, "de": German, "de-CH, fr;q=0.5": German, "es, fr;q=0.3": French, "nl-BE": Dutch, "ja": English, "*": English, "q=;;": English, "en;q=0.1, nl;q=0.9": Dutch} {
		if got := Accepted(header); got != want {
			t.Errorf("%q is answered in %s, want %s", header, got, want)
		}
	}
	for _, l := range Languages {
		if got, ok := Known(string(l)); !ok || got != l || l.Name() == "" {
			t.Errorf("%s is not known", l)
		}
	}
	if _, ok := Known("xx"); ok {
		t.Error("xx is known")
	}
}

// TestNothingIsWorn holds every sentence against the words that no shop would
// say, with a name and a figure in it.
func TestNothingIsWorn(t *testing.T) {
	for _, l := range Languages {
		s := New(l, measure.Imperial)
		for _, e := range entries() {
			args := make([]any, len(verbs(t, e.key)))
			for i := range args {
				args[i] = []any{match.Label{Text: "second child"}, match.Rounded{Figure: 158 * measure.Millimetre}}[i%2]
			}
			if counts(e.key) || slices.ContainsFunc(former, func(s sentence) bool { return s.English == e.key }) {
				continue // of figures alone, below, or as it was told
			}
			if text := s.Say(e.key, args...); len(worn.In(string(l), text)) > 0 {
				t.Errorf("%s: %q in %q", l, worn.In(string(l), text), text)
			}
		}
		for _, c := range countedSentences {
			for _, n := range []int{0, 1, 2, 12} {
				args := make([]any, len(verbs(t, c.Key)))
				for i := range args {
					args[i] = n
				}
				if text := s.Say(c.Key, args...); len(worn.In(string(l), text)) > 0 {
					t.Errorf("%s: %q in %q", l, worn.In(string(l), text), text)
				}
			}
		}
	}
}

func counts(key string) bool {
	return slices.ContainsFunc(countedSentences, func(c tongue.Counted) bool { return c.Key == key })
}

// TestGermanDiffers holds that nothing was left in English, by the language of
// which nothing but this is the same.
func TestGermanDiffers(t *testing.T) {
	same := []string{}
	for _, e := range entries() {
		if slices.Equal(e.texts[German], e.texts[English]) {
			same = append(same, e.key)
		}
	}
	slices.Sort(same)
	if want := []string{"%v %v", "%v (%v)", "%v, %v", "%v:"}; !slices.Equal(same, want) {
		t.Errorf("the same in German: %q", same)
	}
}
