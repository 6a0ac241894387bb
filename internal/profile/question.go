package profile

import (
	"cmp"
	"reflect"
	"slices"
	"strings"

	"kinwain/internal/problem"
	"kinwain/internal/schema"
	"kinwain/internal/tongue"
)

// Question is one thing that a customer is asked. It is declared once, in a
// table: the check, the form and its reading and the words of an open question
// come from there.
type Question struct {
	Name    string      // key of the document, and of the field in the form
	Named   tongue.Said // what is open, where the answer is not known yet; none where it never is
	Must    bool        // no answer is "don't know yet": it has to come
	Sub     []Question  // of a list or of something with parts
	Section string      // of the form, where it is a field of the profile itself
	Label   string      // in the form
	Hint    string
	Kind    Kind
	Words   []Word      // of a Choice
	Aside   bool        // folded away until asked for
	Sure    bool        // the form offers no "don't know yet"
	Usual   Span        // what nearly everybody answers; none where no figure of it decides
	Asked   tongue.Said // as it is asked in talk, where it may decide; of a person with their name

	at     func(owner any) any // a pointer to the answer
	open   func(owner any)     // makes the answer "don't know yet"
	rows   func(owner any, n int) []any
	begins bool // its first row may be asked about before there is one
	part   func(owner any, fill func(part any) (said bool))
	into   func(owner any, i int) any // the thing that the answer is, or its row i, to change in place
	given  func(owner any) bool
	zero   func(owner any) bool
	checks []check
	shape  func() *schema.Schema
}

// Kind is how a question is answered in a form.
type Kind int8

// The kinds of questions.
const (
	Figure Kind = iota // in any unit
	Text
	Choice // of words
	Tick   // yes, or not asked
)

// Word is one of the words of a Choice. The first is what no answer means.
type Word struct{ Value, Label string }

// check adds the faults of one answer.
type check func(k *checker, path string, owner any)

// At returns a pointer to the answer, given what it is an answer about: a
// *Profile, *Rider, *Passenger, *Home, *Doorway, *Corner or *Lift.
func (q *Question) At(owner any) any { return q.at(owner) }

// MayBeOpen reports whether "don't know yet" is an answer.
func (q *Question) MayBeOpen() bool { return q.open != nil }

// Open makes the answer "don't know yet".
func (q *Question) Open(owner any) { q.open(owner) }

// IsZero reports whether the question does not apply.
func (q *Question) IsZero(owner any) bool { return q.zero(owner) }

// IsList reports whether the answer is a list of things with answers of their
// own.
func (q *Question) IsList() bool { return q.rows != nil }

// Rows makes the answer a list of so many and returns pointers to them.
func (q *Question) Rows(owner any, n int) []any { return q.rows(owner, n) }

// Fill makes the answer a thing whose own answers fill gives. Where it gives
// none, the question does not apply.
func (q *Question) Fill(owner any, fill func(part any)) {
	q.part(owner, func(part any) bool {
		fill(part)
		return slices.ContainsFunc(q.Sub, func(s Question) bool { return !s.zero(part) })
	})
}

// ask declares a question about a T.
func ask[T, V any](name string, named tongue.Said, at func(*T) *Answer[V], rules ...rule[V]) Question {
	q := Question{Name: name, Named: named,
		at:    func(owner any) any { return at(owner.(*T)) },
		open:  func(owner any) { *at(owner.(*T)) = Unknown[V]() },
		zero:  func(owner any) bool { return at(owner.(*T)).IsZero() },
		given: func(owner any) bool { return at(owner.(*T)).IsGiven() },
		shape: func() *schema.Schema {
			s := types.Of(reflect.TypeFor[V]())
			for _, rule := range rules {
				rule.schema(s)
			}
			return s
		},
	}
	for _, rule := range rules {
		q.checks = append(q.checks, func(k *checker, path string, owner any) {
			if value, ok := at(owner.(*T)).Get(); ok {
				rule.check(k, path, value)
			}
		})
	}
	return q
}

// rule is what holds for an answer by itself, also as a schema says it.
type rule[V any] struct {
	check  func(k *checker, path string, value V)
	schema func(*schema.Schema)
}

// list declares a question of which the answer is a list, of so many at most.
func list[T, R any](name string, named tongue.Said, at func(*T) *Answer[[]R], most int, many string, sub []Question) Question {
	q := ask(name, named, at, rule[[]R]{
		func(k *checker, path string, all []R) { checkRows(k, path, all, most, many, sub) },
		func(s *schema.Schema) { s.MaxItems, s.Items = most, schemaOf(sub) },
	})
	q.Sub = sub
	q.rows = func(owner any, n int) []any {
		all := make([]R, n)
		*at(owner.(*T)) = Given(all)
		return pointers(all)
	}
	q.into = func(owner any, i int) any {
		rows := at(owner.(*T)).edit()
		for len(*rows) <= i {
			*rows = append(*rows, *new(R))
		}
		return &(*rows)[i]
	}
	return q
}

func pointers[R any](all []R) []any {
	list := make([]any, len(all))
	for i := range all {
		list[i] = &all[i]
	}
	return list
}

func checkRows[R any](k *checker, path string, all []R, most int, many string, sub []Question) {
	if len(all) > most {
		k.Add(path, problem.OutOfRange, many, most)
	}
	k.labels = map[string]bool{}
	for i := range all {
		k.answers(problem.Index(path, i), sub, &all[i])
	}
}

// parts declares a question of which the answer is a thing with answers of its
// own.
func parts[T, P any](name string, named tongue.Said, at func(*T) *Answer[P], sub []Question) Question {
	q := ask(name, named, at, rule[P]{
		func(k *checker, path string, part P) { k.answers(path, sub, &part) },
		func(s *schema.Schema) { *s = *schemaOf(sub) },
	})
	q.Sub = sub
	q.part = func(owner any, fill func(part any) bool) {
		var part P
		if *at(owner.(*T)) = (Answer[P]{}); fill(&part) {
			*at(owner.(*T)) = Given(part)
		}
	}
	q.into = func(owner any, _ int) any { return at(owner.(*T)).edit() }
	return q
}

// also checks what an answer has to do with others.
func also[T any](q Question, rule func(k *checker, path string, owner *T)) Question {
	q.checks = append(q.checks, func(k *checker, path string, owner any) { rule(k, path, owner.(*T)) })
	return q
}

// first checks that before what the table says of the answer itself.
func first[T any](q Question, rule func(k *checker, path string, owner *T)) Question {
	q.checks = append([]check{func(k *checker, path string, owner any) { rule(k, path, owner.(*T)) }}, q.checks...)
	return q
}

// within is a figure in its plausible range.
func within[V cmp.Ordered](least, most V) rule[V] {
	return rule[V]{func(k *checker, path string, v V) { problem.Within(&k.List, path, v, least, most) },
		func(s *schema.Schema) { s.Between(least, most) }}
}

// oneOf is a word of a list.
func oneOf[V ~string](words ...V) rule[V] {
	return rule[V]{func(k *checker, path string, v V) { problem.Word(&k.List, path, v, words) },
		func(s *schema.Schema) { s.Enum = schema.Words(words...).Enum }}
}

// must marks an answer that has to come.
func (q Question) must() Question { q.Must = true; return q }

// asks says how the form asks.
func (q Question) asks(label, hint string) Question { q.Label, q.Hint = label, hint; return q }

// in puts a question about the customer into a section of the form.
func (q Question) in(section string) Question { q.Section = section; return q }

// choice lets choose one of words.
func (q Question) choice(words ...Word) Question { q.Kind, q.Words = Choice, words; return q }

// tick is answered by yes, or not asked.
func (q Question) tick() Question { q.Kind, q.Sure = Tick, true; return q }

// sure has no "don't know yet" in the form.
func (q Question) sure() Question { q.Sure = true; return q }

// usually says between which figures nearly all answers lie, in the smallest
// units (common practice, no published source). They are closer together than
// what is plausible: outside them it is not worth asking what would be.
// It is asked in talk in every language, of a person by what they are called.
func (q Question) usually(least, most int64, english, french, german, dutch string) Question {
	q.Usual = Span{least, most}
	return q.asked(english, french, german, dutch)
}

// asked says how it is asked in talk.
func (q Question) asked(english, french, german, dutch string) Question {
	q.Asked = tongue.In(english, french, german, dutch)
	return q
}

// begun lets the first row of a list be asked about before there is one.
func (q Question) begun() Question { q.begins = true; return q }

// aside folds a question away until it is asked for.
func (q Question) aside() Question { q.Aside = true; return q }

// Of returns the question at a path, such as riders[0].height_cm.
func Of(path string) (Question, bool) {
	list := Questions
	var found Question
	for name := range strings.SplitSeq(path, ".") {
		name, _, _ = strings.Cut(name, "[")
		at := slices.IndexFunc(list, func(q Question) bool { return q.Name == name })
		if at < 0 {
			return Question{}, false
		}
		found, list = list[at], list[at].Sub
	}
	return found, true
}

// answers checks everything that a table says of somebody or something.
func (k *checker) answers(path string, questions []Question, owner any) {
	for i := range questions {
		at := problem.Join(path, questions[i].Name)
		for _, check := range questions[i].checks {
			check(k, at, owner)
		}
	}
}
