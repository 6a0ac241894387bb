package match

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what is generated instead of comparing it")

// TestReasonTable keeps the contributor's table of reason codes the same as
// the code.
func TestReasonTable(t *testing.T) {
	t.Parallel()
	const file, from, to = "../../DEVELOPERS.md", "<!-- reasons -->\n", "<!-- /reasons -->"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(data), from)
	table, after, ok2 := strings.Cut(rest, to)
	if !ok || !ok2 {
		t.Fatalf("%s has no place for the table", file)
	}
	want := reasonTable()
	if *update {
		if err := os.WriteFile(file, []byte(before+from+want+to+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if table != want {
		t.Errorf("the table in %s is not that of match.Rules; run this test with -update", file)
	}
}

func reasonTable() string {
	var b strings.Builder
	b.WriteString("| code | when | weight | setting |\n|---|---|---|---|\n")
	for _, r := range Rules {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", r.Code, r.When, r.Weight, r.Setting)
	}
	return b.String()
}

// TestEveryReasonHasShortWords holds that a reason has its few words, and no
// other has the same, in every language.
func TestEveryReasonHasShortWords(t *testing.T) {
	seen := map[string]Code{}
	for _, r := range Rules {
		for i, words := range [...]string{r.Short.English, r.Short.French, r.Short.German, r.Short.Dutch} {
			key := fmt.Sprint(i, words)
			if words == "" || len([]rune(words)) > 32 || seen[key] != "" {
				t.Errorf("%s: %q, also %q", r.Code, words, seen[key])
			}
			seen[key] = r.Code
		}
	}
}
