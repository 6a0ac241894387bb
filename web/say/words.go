package say

import (
	"fmt"
	"strings"
)

// Counted says how many of something there are.
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Capital writes a text with a capital at its beginning.
func Capital(s string) string {
	for _, r := range s {
		return strings.ToUpper(string(r)) + s[len(string(r)):]
	}
	return s
}
