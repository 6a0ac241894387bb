package form

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"kinwain/internal/measure"
	"kinwain/internal/problem"
)

// Heard is one answer that was understood in a line.
type Heard struct {
	Field string // its name in the form
	Value string // as the form has it now
	Words string // of the line
}

// Doubt is a part of a line that was not understood. Where it may mean two
// things, Either names the fields, of which nobody chose; where only one thing
// is not said, Lacks is that.
type Doubt struct {
	Words  string
	Either []string
	Lacks  Lack
}

// Lack is what a part of a line does not say.
type Lack int8

// What may not be said of a child.
const (
	LacksNothing Lack = iota
	LacksDue          // when somebody who is expected is to be born
	LacksYear         // of which year a month is
)

// Hear reads a line as somebody says it, such as "5'11 and 163, kids 14 months
// and 4, dog 30, lift 140 by 110, 5500", in any language of the shop, into the
// form. What is not understood, or may mean two things, changes nothing and is
// left: the line without what was understood. It never guesses. A bare number
// is in the units of the form, and means what nearly everybody would mean by
// it, where that is one thing: 178 is a height and 82 a weight, 5500 a budget,
// 130 none of them.
func (f Form) Hear(line string, today measure.Date) (heard []Heard, doubts []Doubt, left string) {
	line = cut(line)
	var stays []string
	for _, part := range parts(written.Replace(line)) {
		for _, p := range phrases(part) {
			h := &hearing{Form: f.Clone(), today: today, words: p.words}
			if p.ok && h.phrase(p) && h.holds() {
				h.into(f)
				heard = append(heard, h.heard...)
				continue
			}
			stays = append(stays, p.words)
			doubts = append(doubts, Doubt{p.words, h.either, h.lacks})
		}
	}
	return heard, doubts, strings.Join(stays, ", ")
}

// into writes what was heard into a form.
func (h *hearing) into(f Form) {
	maps.Copy(f.values, h.values)
	for name := range f.unknown {
		if !h.unknown[name] {
			delete(f.unknown, name)
		}
	}
}

// holds reports whether nothing is wrong with what was heard.
func (h *hearing) holds() bool {
	_, err := h.Profile(h.today)
	var faults problem.List
	if !errors.As(err, &faults) {
		return true
	}
	for _, a := range h.heard {
		if faults.At(a.Field) != "" {
			return false
		}
	}
	return true
}

// Clone returns a copy that changes apart.
func (f Form) Clone() Form { return Form{maps.Clone(f.values), maps.Clone(f.unknown)} }

// phrase is a part of a line about one thing.
type phrase struct {
	words   string
	about   topic
	count   int // of people, where it says how many
	figures []lexeme
	lasting bool // it says for how long
	most    bool // it says that its figure is the most there is to spend, and nothing else of a budget
	firm    bool // and that no more will do
	coming  bool // whom it is about is to be born
	boys    bool // it says that they are
	girls   bool // or that; where it says both, it says nothing of one child
	ok      bool // every word of it is known
}

// phrases cuts a part of a line where another topic begins.
func phrases(part string) []phrase {
	small := strings.ToLower(part)
	trimmed := strings.TrimSpace(part)
	if trimmed == "" {
		return nil
	}
	if len(small) != len(part) { // a letter that is another length when small
		part = small
	}
	all, ok := lex(small)
	if !ok {
		return []phrase{{words: trimmed}}
	}
	var list []phrase
	for from := 0; from < len(all); {
		to := endOf(all, from)
		p := phraseOf(all[from:to])
		p.words = strings.TrimSpace(part[all[from].from:all[to-1].to])
		list = append(list, p)
		from = to
	}
	return list
}

// endOf returns where the phrase that begins at a lexeme ends.
func endOf(all []lexeme, from int) int {
	to := topicEnd(all, from)
	if n := ofWhoExpects(all[from:to]); n > 0 {
		return from + n
	}
	return to
}

// topicEnd returns where that is by what it is about: before the next topic, or
// before the figures that lead up to it where this one has its own.
func topicEnd(all []lexeme, from int) int {
	topicAt, figures, last := -1, 0, 0
	for i := from; i < len(all); i++ {
		if all[i].word == "" {
			figures, last = figures+1, i
		}
		if topicAt >= 0 && figures > 0 && named[all[i].word] && hasFigures(all, i) { // lift 140 by 110 | my wife 163
			return last + 1
		}
		if topics[all[i].word] == noTopic {
			continue
		}
		if topicAt < 0 {
			if i > from && joiners[all[i-1].word] { // 178 and kids 4
				return i
			}
			topicAt, figures = i, 0
			continue
		}
		if goesOn(all[topicAt].word, all[i].word) && (figures == 0 || expectsOn(all, topicAt, i)) {
			continue
		}
		end := i
		for end > topicAt+1 && (joiners[all[end-1].word] || counts[all[end-1].word] > 0) {
			end--
		}
		return end
	}
	return len(all)
}

// goesOn reports whether a word for a topic says more of the one before it: a
// baby that is due, twins that are expected, the most that a dog weighs.
func goesOn(word, next string) bool { return coming[word] || coming[next] || most[word] || most[next] }

// expectsOn reports whether a topic behind a month is still about the child who
// is expected in it: expecting in March | a baby, a baby in March | on the way.
func expectsOn(all []lexeme, topicAt, i int) bool {
	if hasFigures(all, i) {
		return false
	}
	when := i - 1
	for when > topicAt && all[when].word != "" && !joiners[all[when].word] {
		when--
	}
	if !aboutPeople(all[topicAt]) || !aboutPeople(all[i]) || all[when].word != "" {
		return false
	}
	if coming[all[topicAt].word] {
		return all[when].amount == month || all[when].amount == born
	}
	for _, x := range all[topicAt:when] {
		if x.word == "" {
			return false // an age, or a day
		}
	}
	return all[when].amount == month
}

// hasFigures reports whether there are figures behind a word, before the next topic.
func hasFigures(all []lexeme, i int) bool {
	for i++; i < len(all) && topics[all[i].word] == noTopic; i++ {
		if all[i].word == "" {
			return true
		}
	}
	return false
}

func aboutPeople(x lexeme) bool {
	return topics[x.word] == aboutChildren || topics[x.word] == aboutTwins
}

// ofWhoExpects returns how many words in front of a child who is expected are
// about a rider: my wife 163 | is expecting in March. There are none where a
// figure among them may be a day, a year, or how many or how old they are.
func ofWhoExpects(all []lexeme) int {
	ends, at := 0, 0
	for ; at < len(all) && topics[all[at].word] == noTopic && (all[at].word != "" || ofRider(all[at])); at++ {
		if all[at].word == "" {
			ends = at + 1
		}
	}
	if !slices.ContainsFunc(all[at:], func(x lexeme) bool { return coming[x.word] }) {
		return 0
	}
	return ends
}

// ofRider reports whether a figure is of nobody but somebody who rides.
func ofRider(x lexeme) bool {
	const days, least = 31, 1000 // a year, or what there is to spend
	n := number(x.text)
	return x.amount == length || x.amount == mass || x.amount == bare && (n == 0 || n > days && n < least)
}

// phraseOf sorts the words of a phrase.
func phraseOf(all []lexeme) phrase {
	p := phrase{ok: true}
	for i, x := range all {
		switch {
		case x.word == "":
			p.figures = append(p.figures, x)
		case coming[x.word]:
			p.coming = true
		case most[x.word]:
			p.most = true
		case topics[x.word] != noTopic:
			p.about, p.boys, p.girls = topics[x.word], p.boys || boy[x.word], p.girls || girl[x.word]
			if counted(p) { // two kids, 2 kids
				p.count, p.figures = number(p.figures[0].text), nil
			}
		case counts[x.word] > 0 && i+1 < len(all) && topics[all[i+1].word] != noTopic:
			p.count = counts[x.word]
		case lasting[x.word]:
			p.lasting = true
		case firm[x.word]:
			p.firm = true
		case joiners[x.word] || fillers[x.word]:
		default:
			p.ok = false
		}
	}
	return p.settled()
}

// settled says what a phrase is about by what it says besides: only a budget has
// a most, and only children are expected.
func (p phrase) settled() phrase {
	spends, expects := p.most || p.firm, p.coming
	switch {
	case spends && expects:
		p.ok = false
	case spends && p.about == noTopic:
		p.about, p.most = aboutBudget, true
	case expects && p.about == noTopic:
		p.about = aboutChildren
	case spends && p.about == aboutBudget:
		p.most = false
	case spends, expects && p.about != aboutChildren && p.about != aboutTwins:
		p.ok = false // the most that a dog weighs: or is that what it weighs?
	}
	return p
}

// counted reports whether the one figure before a word for people says how
// many they are.
func counted(p phrase) bool {
	people := p.about == aboutChildren || p.about == aboutTwins || p.about == aboutRiders
	return people && len(p.figures) == 1 && p.figures[0].amount == bare && number(p.figures[0].text) > 0 && number(p.figures[0].text) <= 8
}
