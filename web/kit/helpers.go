package kit

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"kinwain/web/say"
)

// Words says the sentence of an English key, with its figures, in the language
// of the page.
type Words func(key string, args ...any) string

// AsWritten says it in English.
func AsWritten(key string, args ...any) string { return fmt.Sprintf(key, args...) }

// cautions are the keys of what is said before anybody rides.
func cautions(passengers bool) []string { return say.Cautions(passengers) }

// Count writes a number.
func Count(n int) string { return strconv.Itoa(n) }

// JoinWords puts words in a row.
func JoinWords(list []string) string { return strings.Join(list, "; ") }

// Typing names the keyboard of a field, where it is another than for text at
// large, and the list that is offered while something is typed.
func Typing(f Field) templ.Attributes {
	a := templ.Attributes{}
	if f.Mode != "" {
		a["inputmode"] = f.Mode
	}
	if f.Month {
		a["data-month"] = true
	}
	if f.List != "" {
		a["list"] = f.List
	}
	return a
}

// Described ties a field to its hint and its fault.
func Described(f Field) templ.Attributes {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, cmp.Or(f.HintAt, f.Name+"-hint"))
	}
	if f.Echo {
		ids = append(ids, f.Name+"-reads")
	}
	ids = append(ids, f.Name+"-error")
	a := templ.Attributes{"aria-describedby": strings.Join(ids, " ")}
	if f.Error != "" {
		a["aria-invalid"] = "true"
		if f.Begin {
			a["autofocus"] = true
		}
	}
	return a
}
