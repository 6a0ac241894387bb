package catalog

import (
	"fmt"
	"strconv"
	"strings"
)

// MostAtOnce bounds how many units come in one delivery.
const MostAtOnce = 100

// TagsFrom counts tags on from a first one, D-014, D-015 and so on, with as
// many digits as it has. The error says what of the first is no tag, or that
// it has no number to count on.
func TagsFrom(first string, n int) ([]string, error) {
	k := &checker{}
	aTag.check(k, "", first)
	if len(k.List) > 0 {
		return nil, fmt.Errorf("%s", k.List[0].Text)
	}
	stem := strings.TrimRight(first, "0123456789")
	digits := first[len(stem):]
	number, err := strconv.ParseInt(digits, 10, 64)
	if n > 1 && err != nil {
		return nil, fmt.Errorf("let the first tag end in a number that can be counted on, such as D-014")
	}
	tags := []string{first}
	for i := 1; i < n; i++ {
		tags = append(tags, fmt.Sprintf("%s%0*d", stem, len(digits), number+int64(i)))
	}
	return tags, nil
}

// NextTag returns the tag after the greatest of the units of a kind that are
// tagged as the last one of it is; nothing where there is none to go on from.
func (c *Catalogue) NextTag(kind string) string {
	var stem, last string
	var greatest int64 = -1
	for i := range c.Units {
		if u := &c.Units[i]; u.Kind == kind {
			stem = strings.TrimRight(u.Tag, "0123456789")
		}
	}
	for i := range c.Units {
		digits, same := strings.CutPrefix(c.Units[i].Tag, stem)
		if n, err := strconv.ParseInt(digits, 10, 64); same && err == nil && n > greatest {
			greatest, last = n, digits
		}
	}
	if greatest < 0 {
		return ""
	}
	return fmt.Sprintf("%s%0*d", stem, len(last), greatest+1)
}

// codeBefore stands in the address of a unit before its tag.
const codeBefore = "/units/"

// Scanned returns the unit of a text that somebody typed or a scanner read:
// its tag, or the address of which the code on the bike is made. Scanners type
// as on an English keyboard: where the computer has another one, signs between
// letters and digits come out as others, so that they count only where there
// would be two. The tag is what to call the bike where there is none, nil.
func (c *Catalogue) Scanned(text string) (u *Unit, tag string) {
	tag = strings.TrimSpace(text)
	if i := strings.LastIndex(tag, codeBefore); i >= 0 {
		tag = tag[i+len(codeBefore):]
	}
	plain := bare(tag)
	if i := strings.LastIndex(plain, bare(codeBefore)); i >= 0 {
		plain = plain[i+len(bare(codeBefore)):]
	}
	alike := 0
	for i := range c.Units {
		switch one := &c.Units[i]; {
		case one.Tag == tag:
			return one, tag
		case plain != "" && bare(one.Tag) == plain:
			u = one
			alike++
		}
	}
	if alike != 1 {
		return nil, tag
	}
	return u, u.Tag
}

// bare keeps the letters and digits of a text, as small ones.
func bare(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			return c
		case 'A' <= c && c <= 'Z':
			return c + 'a' - 'A'
		}
		return -1
	}, text)
}
