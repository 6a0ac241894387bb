package say

import (
	"fmt"
	"strings"

	"kinwain/internal/catalog"
)

// Counted says how many of something there are.
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Frame says the name that tells frames of one family apart.
func (s *Speaker) Frame(f *catalog.Frame) string {
	return f.CalledAs(s.Told(f.Names.With(f.Name)), s.Word(f.Size))
}

// Capital writes a text with a capital at its beginning.
func Capital(s string) string {
	for _, r := range s {
		return strings.ToUpper(string(r)) + s[len(string(r)):]
	}
	return s
}
