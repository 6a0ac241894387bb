// Package say says what a customer reads, in the customer's language and
// units: sentences, names of things, quantities, money and dates. The English
// sentence is the key of the same sentence in the other languages.
package say

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/tongue"
)

// Language is the code of a language: ISO 639-1, as html's lang has it.
type Language string

// The languages.
const (
	English Language = "en"
	French  Language = "fr"
	German  Language = "de"
	Dutch   Language = "nl"
)

// Languages lists them all. The first is the one for who reads none of them.
var Languages = []Language{English, French, German, Dutch}

// Name returns what the language calls itself.
func (l Language) Name() string {
	return map[Language]string{English: "English", French: "Français", German: "Deutsch", Dutch: "Nederlands"}[l]
}

// Known returns the language of a code, and whether there is one.
func Known(code string) (Language, bool) {
	for _, l := range Languages {
		if string(l) == code {
			return l, true
		}
	}
	return "", false
}

func tags() []language.Tag {
	var list []language.Tag
	for _, l := range Languages {
		list = append(list, language.Make(string(l)))
	}
	return list
}

var matcher = language.NewMatcher(tags())

// Accepted returns the language that suits an Accept-Language header best,
// English where none does.
func Accepted(header string) Language {
	wanted, _, err := language.ParseAcceptLanguage(header)
	if err != nil || len(wanted) == 0 {
		return Languages[0]
	}
	_, i, _ := matcher.Match(wanted...)
	return Languages[i]
}

// sentence is one sentence in every language.
type sentence tongue.Said

func in(s sentence) map[Language]string {
	return map[Language]string{English: s.English, French: s.French, German: s.German, Dutch: s.Dutch}
}

func formsIn(c tongue.Counted) map[Language]tongue.Forms {
	return map[Language]tongue.Forms{English: c.English, French: c.French, German: c.German, Dutch: c.Dutch}
}

var texts = build()

func build() catalog.Catalog {
	b := catalog.NewBuilder(catalog.Fallback(language.Make(string(Languages[0]))))
	set := func(l Language, key string, m catalog.Message) {
		if err := b.Set(language.Make(string(l)), key, m); err != nil {
			panic("say: " + key + ": " + err.Error()) // a sentence in this program is malformed
		}
	}
	for _, list := range sentences {
		for _, s := range list {
			for l, text := range in(s) {
				set(l, s.English, catalog.String(spaced(l, text)))
			}
		}
	}
	for _, c := range countedSentences {
		for l, f := range formsIn(c) {
			set(l, c.Key, plural.Selectf(c.Number, "%d", plural.One, spaced(l, f.One), plural.Other, spaced(l, f.Other)))
		}
	}
	return b
}

// narrow is the space before the signs that French sets a little apart.
const narrow = "\u202f"

var frenchSpaces = strings.NewReplacer(" :", noBreak+":", " ;", narrow+";", " ?", narrow+"?", noBreak+"?", narrow+"?", " !", narrow+"!", "« ", "«"+noBreak, " »", noBreak+"»")

// spaced keeps the signs that French sets apart on the line of their word.
func spaced(l Language, text string) string {
	if l == French {
		return frenchSpaces.Replace(text)
	}
	return text
}

// keys holds every key there is.
var keys = func() map[string]bool {
	all := map[string]bool{}
	for _, list := range sentences {
		for _, s := range list {
			all[s.English] = true
		}
	}
	for _, c := range countedSentences {
		all[c.Key] = true
	}
	return all
}()

// Has reports whether there is a sentence of the key.
func Has(key string) bool { return keys[key] }

// Speaker says things in one language and one system of units.
type Speaker struct {
	Language Language
	Units    measure.System
	// AddOns are the names of the shop's add-ons, by code.
	AddOns map[string]tongue.Said

	printer        *message.Printer
	group, decimal string // between thousands, and before decimals
}

// New returns a speaker of a language.
func New(l Language, units measure.System) *Speaker {
	s := &Speaker{Language: l, Units: units, printer: message.NewPrinter(language.Make(string(l)), message.Catalog(texts))}
	// The signs of the language, as its numbers show them.
	between := strings.FieldsFunc(s.printer.Sprintf("%v", 1234.5), unicode.IsDigit)
	s.group, s.decimal = between[0], between[1]
	return s
}

// Say says the sentence of a key with its figures and names, which are those
// of match.Message.
func (s *Speaker) Say(key string, args ...any) string {
	said := make([]any, len(args))
	for i, a := range args {
		said[i] = s.arg(a)
	}
	return s.elided(s.printer.Sprintf(key, said...))
}

// elision is before what the French e of que and de falls silent. An h is a
// letter of its own except in most first names.
var elision = regexp.MustCompile(`\b([Qq]u|[Dd])e ([aeiouâàéèêëîïôœAEIOUÂÀÉÈÊËÎÏÔŒH])`)

// elided writes que and de before a vowel as French does: qu’enfant 2.
func (s *Speaker) elided(text string) string {
	if s.Language != French {
		return text
	}
	return elision.ReplaceAllString(text, "$1’$2")
}

// Told says a text of the shop, in English where nobody wrote it in the
// language.
func (s *Speaker) Told(text tongue.Said) string {
	own := map[Language]string{French: text.French, German: text.German, Dutch: text.Dutch}[s.Language]
	return cmp.Or(spaced(s.Language, own), text.English)
}

// addOn says the name of an add-on, within a sentence as the language writes
// it there.
func (s *Speaker) addOn(a match.AddOn) string {
	told := s.Told(s.AddOns[a.Code])
	switch {
	case s.Language == English || told == "" || told == s.AddOns[a.Code].English:
		return a.String()
	case a.Begins:
		return told
	}
	return s.Within(told)
}

// Within writes a name as it stands within a sentence of the language.
func (s *Speaker) Within(name string) string {
	switch s.Language {
	case English:
		return strings.ToLower(name)
	case German:
		return name
	}
	first, size := utf8.DecodeRuneInString(name)
	return string(unicode.ToLower(first)) + name[size:]
}

// Message says a sentence of a match.
func (s *Speaker) Message(m match.Message) string { return s.Say(m.Format, m.Args...) }

// arg makes of a figure or a name what is said of it.
func (s *Speaker) arg(a any) any {
	switch a := a.(type) {
	case match.Message:
		return s.Message(a)
	case match.Rounded:
		return s.rounded(a.Figure, a.Rounding)
	case measure.Mass, measure.Length, measure.Volume:
		return s.rounded(a, measure.Nearest)
	case measure.Percentage:
		return s.Percent(a)
	case measure.Month:
		return s.Month(a)
	case measure.Date:
		return s.Date(a)
	case match.Cost:
		return s.Money(a.Amount, a.Currency)
	case match.Label:
		return s.Label(a)
	case match.AddOn:
		return s.addOn(a)
	case match.Word:
		return s.Word(string(a))
	}
	return a
}

func (s *Speaker) rounded(figure any, r measure.Rounding) any {
	switch f := figure.(type) {
	case measure.Mass:
		return s.Mass(f, r)
	case measure.Length:
		return s.Length(f, r)
	case measure.Volume:
		return s.Figure(f.Show(r))
	}
	return figure
}

// Word says the word of a code: a zone, an axle, a brake, a tag, a type or a
// material. One that the shop made up stays as it is.
func (s *Speaker) Word(code string) string {
	word := strings.NewReplacer("_", " ", "-", " ").Replace(code)
	if keys[word] {
		return s.Say(word)
	}
	return word
}

// numbered is the name that the form begins with beyond those that it spells
// out.
var numbered = regexp.MustCompile(`^child ([0-9]{1,3})$`)

// Label says what a passenger is called: as they chose, or, where they chose
// nothing, as the form began.
func (s *Speaker) Label(l match.Label) string {
	text := l.Text
	if m := numbered.FindStringSubmatch(text); m != nil {
		text = s.Say("child %v", m[1])
	} else if begun[text] {
		text = s.Say(text)
	}
	return match.Label{Text: text, Begins: l.Begins}.String()
}

// List joins names as the language does: a, b and c. Where one of them has a
// comma of its own, which would read as two of them, it is a series.
func (s *Speaker) List(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	if slices.ContainsFunc(names, func(name string) bool { return strings.Contains(name, ", ") }) {
		return s.Series(names)
	}
	return s.Say("%v and %v", strings.Join(names[:len(names)-1], ", "), names[len(names)-1])
}

// Series sets texts that may hold commas of their own one after the other.
func (s *Speaker) Series(texts []string) string {
	return strings.Join(texts, spaced(s.Language, map[bool]string{true: " ; ", false: "; "}[s.Language == French]))
}
