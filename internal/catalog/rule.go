package catalog

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/schema"
)

// The plausible ranges are wide: they catch a slipped decimal point or a
// figure in the wrong unit, not an unusual bike.
const (
	kg = measure.Kilogram
	cm = measure.Centimetre

	maxPrice = measure.Money(100_000_00)
)

// rule is what holds for a fact by itself.
type rule[V any] struct {
	needed bool
	words  []string
	says   string // for people
	check  func(k *checker, path string, value V)
	schema func(s *schema.Schema) // for programs; nil where a schema cannot say it
}

func within[V cmp.Ordered](least, most V) rule[V] {
	return rule[V]{says: fmt.Sprintf("%v to %v", least, most),
		check:  func(k *checker, path string, v V) { problem.Within(&k.List, path, v, least, most) },
		schema: func(s *schema.Schema) { s.Between(least, most) }}
}

// stated is within for a figure that may be zero, meaning that nobody states
// it.
func stated[V cmp.Ordered](least, most V) rule[V] {
	return rule[V]{says: fmt.Sprintf("%v to %v, or not stated", least, most),
		check:  func(k *checker, path string, v V) { problem.Stated(&k.List, path, v, least, most) },
		schema: func(s *schema.Schema) { s.Stated(least, most) }}
}

// required is within for a figure that must be there.
func required[V cmp.Ordered](least, most V) rule[V] {
	return rule[V]{needed: true, says: fmt.Sprintf("%v to %v", least, most),
		check:  func(k *checker, path string, v V) { problem.Required(&k.List, path, v, least, most) },
		schema: func(s *schema.Schema) { s.Between(least, most) }}
}

// listed is a rule for each entry of a list.
func listed[V any](each rule[V]) rule[[]V] {
	return rule[[]V]{says: each.says, check: func(k *checker, path string, list []V) {
		for i, v := range list {
			each.check(k, problem.Index(path, i), v)
		}
	}, schema: func(s *schema.Schema) {
		if each.schema != nil {
			each.schema(s.Items)
		}
	}}
}

// filled is a text that must be there, of so many characters at most.
func filled(most int) rule[string] {
	r := upTo(most)
	r.needed, r.says = true, "1"+r.says[1:]
	long := r.check
	r.schema = func(s *schema.Schema) { s.MinLength, s.MaxLength, s.Pattern = 1, most, `\S` }
	r.check = func(k *checker, path, s string) {
		if strings.TrimSpace(s) == "" {
			k.Add(path, problem.Missing, "a text is needed here")
		}
		long(k, path, s)
	}
	return r
}

// upTo is a text of so many characters at most.
func upTo(most int) rule[string] {
	return rule[string]{says: fmt.Sprintf("0 to %d characters", most), check: func(k *checker, path, s string) {
		if len([]rune(s)) > most {
			k.Add(path, problem.OutOfRange, "this text is too long; keep it under %d characters", most)
		}
	}, schema: func(s *schema.Schema) { s.MaxLength = most }}
}

// oneOf is one of the words, or nothing.
func oneOf(words []string) rule[string] {
	return rule[string]{words: words, check: func(k *checker, path, word string) {
		if word != "" {
			problem.Word(&k.List, path, word, words)
		}
	}, schema: func(s *schema.Schema) { s.Enum = schema.Words(append([]string{""}, words...)...).Enum }}
}

// must is one of the words.
func must(words []string) rule[string] {
	return rule[string]{needed: true, words: words, check: func(k *checker, path, word string) { problem.Word(&k.List, path, word, words) },
		schema: func(s *schema.Schema) { s.Enum = schema.Words(words...).Enum }}
}

var (
	tyreForm = regexp.MustCompile(`^[0-9]{2,3}-[0-9]{3}$`)
	linkForm = regexp.MustCompile(`^https?://[^\s"<>/]+\.[^\s"<>]+$`)
	currency = regexp.MustCompile(`^[A-Z]{3}$`)
)

// photoForm is the form of the name of a photo: it follows from the picture, so
// that a document that names one finds it again wherever the same is kept.
var photoForm = regexp.MustCompile(`^[0-9a-f]{32}$`)

// APhotoName reports whether a text may be the name of a photo.
func APhotoName(s string) bool { return photoForm.MatchString(s) }

const (
	maxCodeLength = 60
	maxLinkLength = 200
)

// formOrNothing is a form that a text has where there is one.
func formOrNothing(form *regexp.Regexp) func(*schema.Schema) {
	return func(s *schema.Schema) { s.Pattern = "^$|" + form.String() }
}

// joined reports whether a text is of small letters and digits, and of capital
// ones where they may be, with single signs between them.
func joined(s, signs string, capitals bool) bool {
	between := true // after a sign, or before the first letter
	for _, c := range []byte(s) {
		switch {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9', capitals && 'A' <= c && c <= 'Z':
			between = false
		case !between && strings.IndexByte(signs, c) >= 0:
			between = true
		default:
			return false
		}
	}
	return !between && len(s) <= maxCodeLength
}

// The rules of texts that have a form.
var (
	aCode = rule[string]{needed: true, says: "small letters and digits joined by - or _", check: func(k *checker, path, code string) {
		switch {
		case code == "":
			k.Add(path, problem.Missing, "a code is needed")
		case !joined(code, "-_", false):
			k.Add(path, problem.OutOfRange, "write a code in small letters and digits joined by - or _, such as seat-rear")
		}
	}, schema: func(s *schema.Schema) { s.Pattern, s.MaxLength = `^[a-z0-9]+([-_][a-z0-9]+)*$`, maxCodeLength }}
	aTag = rule[string]{needed: true, says: "letters and digits joined by a dash", check: func(k *checker, path, tag string) {
		if tag == "" {
			k.Add(path, problem.Missing, "a tag is needed")
		} else if !joined(tag, "-_./", true) {
			k.Add(path, problem.OutOfRange, "write a tag in letters and digits joined by a dash, such as D-014")
		}
	}, schema: func(s *schema.Schema) { s.Pattern, s.MaxLength = `^[A-Za-z0-9]+([-_./][A-Za-z0-9]+)*$`, maxCodeLength }}
	aTyre = rule[string]{says: "ISO 5775, such as 50-406", check: func(k *checker, path, tyre string) {
		if tyre != "" && !tyreForm.MatchString(tyre) {
			k.Add(path, problem.OutOfRange, "write the ISO 5775 size, width and bead seat in millimetres, such as 50-406")
		}
	}, schema: formOrNothing(tyreForm)}
	aCurrency = rule[string]{needed: true, says: "ISO 4217", check: func(k *checker, path, s string) {
		if !currency.MatchString(s) {
			k.Add(path, problem.NotOneOf, "write the three letters of ISO 4217, such as EUR")
		}
	}, schema: func(s *schema.Schema) { s.Pattern = currency.String() }}
	aLink = rule[string]{says: "web address", check: func(k *checker, path, link string) {
		if link != "" && (len(link) > maxLinkLength || !linkForm.MatchString(link)) {
			k.Add(path, problem.OutOfRange, "write the whole address on the web, such as https://maker.example/manual")
		}
	}, schema: func(s *schema.Schema) { formOrNothing(linkForm)(s); s.MaxLength = maxLinkLength }}
	aPhoto = rule[string]{says: "name of a photo that the shop has, or of one that it has not", check: func(k *checker, path, name string) {
		if name != "" && !APhotoName(name) {
			k.Add(path, problem.OutOfRange, "write the name of a photo as an export has it, 32 digits and letters from a to f; or nothing")
		}
	}, schema: formOrNothing(photoForm)}
	aFrame = rule[string]{needed: true, says: "code of a frame", check: func(k *checker, path, code string) {
		switch {
		case code == "":
			k.Add(path, problem.NotFound, "say which frame it is")
		case k.frames[code] == nil:
			k.Add(path, problem.NotFound, "there is no frame %q", code)
		}
	}}
	anAddOn = rule[string]{says: "codes of add-ons", check: func(k *checker, path, code string) {
		if k.addOns[code] == nil {
			k.Add(path, problem.NotFound, "there is no add-on %q", code)
		}
	}}
	ownTags = rule[[]string]{says: "tags", check: (*checker).tags, schema: func(s *schema.Schema) { aCode.schema(s.Items) }}
	groups  = rule[[][]string]{says: "codes of add-ons, or tags", check: (*checker).needs, schema: func(s *schema.Schema) {
		s.Items.MinItems = 1
		aCode.schema(s.Items.Items)
	}}
)

// few bounds a list. Builds are found by trying who sits where: what is far
// beyond any bike would keep everyone waiting.
func few[T, V any](f Field, of func(*T) []V, most int, words string) Field {
	f.checks = append([]check{func(k *checker, path string, owner any) {
		if len(of(owner.(*T))) > most {
			k.Add(path, problem.OutOfRange, "at most %d %s are judged here", most, words)
		}
	}}, f.checks...)
	return f.shaped(func(s *schema.Schema) { s.MaxItems = most })
}
