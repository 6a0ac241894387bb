package page

import (
	"strconv"
	"strings"

	"github.com/a-h/templ"
)

func count(n int) string { return strconv.Itoa(n) }

// joinWords puts words in a row.
func joinWords(list []string) string { return strings.Join(list, "; ") }

// described ties a field to its hint and its fault.
func described(f Field) templ.Attributes {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, f.Name+"-hint")
	}
	ids = append(ids, f.Name+"-error")
	a := templ.Attributes{"aria-describedby": strings.Join(ids, " ")}
	if f.Error != "" {
		a["aria-invalid"] = "true"
	}
	return a
}
