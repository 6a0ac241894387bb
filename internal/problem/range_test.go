package problem_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kinwain/internal/problem"
)

// codes returns the code of every fault that check reports, and fails where
// one is at another path or without a sentence.
func codes(t interface{ Errorf(string, ...any) }, check func(l *problem.List, path string)) []string {
	var l problem.List
	check(&l, "riders[0].height_cm")
	found := []string{}
	for _, p := range l {
		if p.Path != "riders[0].height_cm" || p.Text == "" {
			t.Errorf("fault %+v", p)
		}
		found = append(found, p.Code)
	}
	return found
}

func TestRanges(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		figure                   int
		within, stated, required string
	}{
		{-1, problem.OutOfRange, problem.OutOfRange, problem.OutOfRange},
		{0, problem.OutOfRange, "", problem.Missing},
		{9, problem.OutOfRange, problem.OutOfRange, problem.OutOfRange},
		{10, "", "", ""},
		{15, "", "", ""},
		{20, "", "", ""},
		{21, problem.OutOfRange, problem.OutOfRange, problem.OutOfRange},
	} {
		got := [3]string{
			strings.Join(codes(t, func(l *problem.List, path string) { problem.Within(l, path, c.figure, 10, 20) }), " "),
			strings.Join(codes(t, func(l *problem.List, path string) { problem.Stated(l, path, c.figure, 10, 20) }), " "),
			strings.Join(codes(t, func(l *problem.List, path string) { problem.Required(l, path, c.figure, 10, 20) }), " "),
		}
		if want := [3]string{c.within, c.stated, c.required}; got != want {
			t.Errorf("%d: within, stated and required say %q, want %q", c.figure, got, want)
		}
	}
}

// TestRangesLaw holds all three against each other over ranges that may hold
// zero and may be turned round.
func TestRangesLaw(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		figure, least, most := rapid.IntRange(-5, 5).Draw(t, "figure"), rapid.IntRange(-5, 5).Draw(t, "least"), rapid.IntRange(-5, 5).Draw(t, "most")
		within := codes(t, func(l *problem.List, path string) { problem.Within(l, path, figure, least, most) })
		stated := codes(t, func(l *problem.List, path string) { problem.Stated(l, path, figure, least, most) })
		required := codes(t, func(l *problem.List, path string) { problem.Required(l, path, figure, least, most) })
		want := []string{}
		if figure < least || most < figure {
			want = []string{problem.OutOfRange}
		}
		if diff := cmp.Diff(want, within); diff != "" {
			t.Errorf("within: %s", diff)
		}
		if figure == 0 {
			want = []string{}
		}
		if diff := cmp.Diff(want, stated); diff != "" {
			t.Errorf("stated: %s", diff)
		}
		if figure == 0 {
			want = []string{problem.Missing}
		}
		if diff := cmp.Diff(want, required); diff != "" {
			t.Errorf("required: %s", diff)
		}
	})
}

func TestNotANumberLiesInNoRange(t *testing.T) {
	t.Parallel()
	for _, figure := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for name, check := range map[string]func(l *problem.List, path string, figure, least, most float64){
			"within": problem.Within[float64], "stated": problem.Stated[float64], "required": problem.Required[float64],
		} {
			got := codes(t, func(l *problem.List, path string) { check(l, path, figure, -1e300, 1e300) })
			if diff := cmp.Diff([]string{problem.OutOfRange}, got); diff != "" {
				t.Errorf("%s %v: %s", name, figure, diff)
			}
		}
	}
}

type grip string

func TestWord(t *testing.T) {
	t.Parallel()
	words := []grip{"full", "reduced"}
	for _, word := range words {
		if got := codes(t, func(l *problem.List, path string) { problem.Word(l, path, word, words) }); len(got) != 0 {
			t.Errorf("%q is a fault", word)
		}
	}
	for _, word := range []grip{"", "Full", "full ", "none"} {
		if got := codes(t, func(l *problem.List, path string) { problem.Word(l, path, word, words) }); len(got) != 1 || got[0] != problem.NotOneOf {
			t.Errorf("%q: %q", word, got)
		}
	}
	var l problem.List
	problem.Word(&l, "grip", "firm", words)
	if got, want := l.At("grip"), `"firm" is not one of full, reduced`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestRangeSaysWhatWouldBeRight holds the figures of the sentences.
func TestRangeSaysWhatWouldBeRight(t *testing.T) {
	t.Parallel()
	var l problem.List
	problem.Within(&l, "a", 900, 30, 300)
	problem.Required(&l, "b", 0, 30, 300)
	for path, figures := range map[string][]string{"a": {"900", "30", "300"}, "b": {"30", "300"}} {
		for _, figure := range figures {
			if !strings.Contains(l.At(path), figure) {
				t.Errorf("%q does not name %s", l.At(path), figure)
			}
		}
	}
}
