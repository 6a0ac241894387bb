package page

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/a-h/templ"
)

// Words says the sentence of an English key, with its figures, in the language
// of the page.
type Words func(key string, args ...any) string

// asWritten says it in English.
func asWritten(key string, args ...any) string { return fmt.Sprintf(key, args...) }

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
