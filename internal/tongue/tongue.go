// Package tongue holds what is said in every language that customers read, so
// that whoever declares a fact or a reason says there how it is called.
package tongue

// Said is one sentence or name in every language. The English is its key. The
// verbs are those of fmt, numbered where a language changes their order.
type Said struct{ English, French, German, Dutch string }

// Counted is a sentence that changes with a number.
type Counted struct {
	Key                            string
	Number                         int // which argument it is, from 1
	English, French, German, Dutch Forms
}

// Forms are the sentence for one, as the language counts one, and for any
// other number. Plural rules: Unicode CLDR, by way of golang.org/x/text.
type Forms struct{ One, Other string }

// In says one thing in every language.
func In(english, french, german, dutch string) Said { return Said{english, french, german, dutch} }

// Count says one thing of one and of several in every language.
func Count(key string, number int, english, french, german, dutch Forms) Counted {
	return Counted{key, number, english, french, german, dutch}
}

// OneOr are the forms of a sentence.
func OneOr(one, other string) Forms { return Forms{one, other} }
