package problem

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Within reports a figure outside its plausible range, ends included. What is
// not a number lies in no range.
func Within[T cmp.Ordered](l *List, path string, figure, least, most T) {
	if !(figure >= least && figure <= most) {
		l.Add(path, OutOfRange, "%v is not plausible here; between %v and %v is", figure, least, most)
	}
}

// Stated is Within for a figure that may be zero, meaning that nobody states
// it.
func Stated[T cmp.Ordered](l *List, path string, figure, least, most T) {
	var zero T
	if figure != zero {
		Within(l, path, figure, least, most)
	}
}

// Required is Within for a figure that must be there.
func Required[T cmp.Ordered](l *List, path string, figure, least, most T) {
	var zero T
	if figure == zero {
		l.Add(path, Missing, "this figure is needed; between %v and %v is plausible", least, most)
		return
	}
	Within(l, path, figure, least, most)
}

// Word reports a word that is not one of the list.
func Word[T ~string](l *List, path string, word T, words []T) {
	if !slices.Contains(words, word) {
		l.Add(path, NotOneOf, "%q is not one of %s", string(word), strings.Trim(strings.ReplaceAll(fmt.Sprint(words), " ", ", "), "[]"))
	}
}
