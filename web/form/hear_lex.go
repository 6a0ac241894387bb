package form

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// amount is what kind of figure a number of a line is, by its unit.
type amount int8

const (
	bare amount = iota
	length
	mass
	volume
	age // in months or years
	born
	month // by its name, of no year
	percent
	money
)

// lexeme is a word or a figure of a line, where it stands.
type lexeme struct {
	from, to int
	word     string // small; empty for a figure
	text     string // of a figure, as the form reads it
	amount   amount
}

// figures are the ways to write one, the longest first: the first that
// matches counts.
var figures = []struct {
	form   *regexp.Regexp
	amount amount
}{
	{regexp.MustCompile(`^[0-9]{1,2} ?(?:'|ft|feet|foot) ?(?:[0-9]{1,2} ?(?:"|in\b|inch\b|inches\b)?)?`), length},
	{regexp.MustCompile(`^[0-9] ?m ?[0-9]{2}\b`), length},
	{regexp.MustCompile(`^[0-9]{1,2} ?(?:st|stone)\b ?(?:[0-9]{1,2} ?(?:lbs?\b)?)?`), mass},
	{regexp.MustCompile(`^[€$£] ?[0-9](?:[0-9.,]*[0-9])?`), money},
	{regexp.MustCompile(`^[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4}\b`), born},
	{regexp.MustCompile(`^[0-9]{1,2}[./][0-9]{4}\b`), born},
	{regexp.MustCompile(`^[0-9]{4}-[0-9]{2}(?:-[0-9]{2})?\b`), born},
	{regexp.MustCompile(`^(?:[0-9]{1,3}(?:[., ][0-9]{3})+|[0-9]+)(?:[.,][0-9]{1,2})? ?(?:€|\$|£|eur\b|euros?\b|usd\b|dollars?\b|gbp\b|chf\b)`), money},
	{regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)? ?(?:%|percent\b|prozent\b|procent\b|pourcent\b)`), percent},
	{regexp.MustCompile(`^[0-9]{1,3} ?(?:months?|mo|mois|monate?n?|maand|maanden|years?|yrs?|y|yo|ans?|jahre?n?|jaar)\b`), age},
	{regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)? ?(?:mm|cm|m|in|inch|inches)\b`), length},
	{regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)? ?(?:kgs?|kilos?|lbs?|pounds?)\b`), mass},
	{regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)? ?(?:l|litres?|liters?)\b`), volume},
	{regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)?`), bare},
}

var (
	wordForm = regexp.MustCompile(`^[\p{L}&+×][\p{L}]*`)
	written  = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "′", "'", "’", "'", "″", `"`, "”", `"`, "“", `"`)
)

// lex cuts a part of a line into words and figures. It is false where
// something is neither.
func lex(part string) ([]lexeme, bool) {
	var all []lexeme
	for at := 0; at < len(part); {
		rest := part[at:]
		if strings.IndexByte(" \t\v\f\r.:~", rest[0]) >= 0 {
			at++
			continue
		}
		if rest[0] == '\'' && len(all) > 0 && all[len(all)-1].to == at && wordForm.MatchString(rest[1:]) && all[len(all)-1].word != "" { // he's
			at++
			continue
		}
		x, ok := figureOf(rest)
		if !ok {
			w := wordForm.FindString(rest)
			if w == "" {
				return nil, false
			}
			x = wordOf(w, rest)
		}
		x.from, x.to = at, at+x.to
		all = append(all, x)
		at = x.to
	}
	return together(all), true
}

// ofYear is the year behind the name of a month.
var ofYear = regexp.MustCompile(`^\.? ?((?:19|20)[0-9]{2})\b`)

// wordOf reads a word, or the name of a month as the figure that it is.
func wordOf(w, rest string) lexeme {
	if utf8.RuneCountInString(w) < 3 || monthNamed(w) == 0 {
		return lexeme{to: len(w), word: w}
	}
	if m := ofYear.FindStringSubmatch(rest[len(w):]); m != nil {
		return lexeme{to: len(w) + len(m[0]), text: w + " " + m[1], amount: born}
	}
	return lexeme{to: len(w), text: w, amount: month}
}

// together makes one word of those that mean together what one does.
func together(all []lexeme) []lexeme {
	for _, s := range sayings {
		for i := 0; i+len(s.words) <= len(all); i++ {
			said := all[i : i+len(s.words)]
			if slices.EqualFunc(said, s.words, func(x lexeme, word string) bool { return x.word == word }) {
				all = slices.Replace(all, i, i+len(said), lexeme{from: said[0].from, to: said[len(said)-1].to, word: s.as})
			}
		}
	}
	return all
}

func figureOf(rest string) (lexeme, bool) {
	for _, f := range figures {
		if m := f.form.FindString(rest); m != "" {
			return lexeme{to: len(m), text: strings.TrimSpace(m), amount: f.amount}, true
		}
	}
	return lexeme{}, false
}

// parts cuts a line at what separates: a semicolon, a new line, a full stop
// before a space, and a comma that is not within a number.
func parts(line string) []string {
	var all []string
	from := 0
	digit := func(i int) bool { return i >= 0 && i < len(line) && line[i] >= '0' && line[i] <= '9' }
	for i := range len(line) {
		cut := line[i] == ';' || line[i] == '\n' || line[i] == ',' && !(digit(i-1) && digit(i+1)) ||
			line[i] == '.' && (i+1 == len(line) || line[i+1] == ' ') && !digit(i+2)
		if cut {
			all = append(all, line[from:i])
			from = i + 1
		}
	}
	return append(all, line[from:])
}
