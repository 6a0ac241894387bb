package sheet

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// cell is one field of a row as it stands in the spreadsheet. An empty cell
// is never read: it leaves the field as it is, which means not stated.
type cell interface {
	write() string
	read(cell string) error
}

// formula lists what a spreadsheet takes for the begin of a formula. A text
// that begins with one of them would be computed instead of shown.
const formula = "=+-@\t\r\n"

// escaped reports whether a text begins with the sign that keeps a
// spreadsheet from computing it. An apostrophe before any other text is part
// of the text.
func escaped(s string) bool {
	return len(s) > 1 && s[0] == '\'' && strings.IndexByte(formula+"'", s[1]) >= 0
}

func escape(s string) string {
	if s != "" && strings.IndexByte(formula, s[0]) >= 0 || escaped(s) {
		return "'" + s
	}
	return s
}

func unescape(s string) string {
	if escaped(s) {
		return s[1:]
	}
	return s
}

// text is free text, kept to the last blank.
type text struct{ of *string }

func (c text) write() string       { return escape(*c.of) }
func (c text) read(s string) error { *c.of = unescape(s); return nil }

// word is a code, a tag or a word of a list; blanks around it mean nothing.
type word struct{ of *string }

func (c word) write() string { return escape(*c.of) }
func (c word) read(s string) error {
	*c.of = strings.TrimSpace(unescape(strings.TrimSpace(s)))
	return nil
}

// quantity is a number with a unit that writes itself as documents do.
type quantity interface {
	json.Marshaler
	json.Unmarshaler
}

// figure is a number, which may have decimals.
type figure struct{ of quantity }

func (c figure) write() string {
	number, err := c.of.MarshalJSON()
	if err != nil { // a number always has its digits
		panic(err)
	}
	return string(number)
}

func (c figure) read(s string) error {
	number, err := plain(s)
	if err != nil {
		return err
	}
	return c.of.UnmarshalJSON([]byte(number))
}

// plain returns a number as documents write it, with a decimal point. What
// could be a separator of thousands is never taken for one: with one point or
// one comma it is the decimal one, and with more it is refused.
func plain(s string) (string, error) {
	s = strings.TrimSpace(s)
	if strings.Count(s, ",")+strings.Count(s, ".") > 1 {
		return "", fmt.Errorf("%.40q has more than a decimal point; write it without thousands, such as 1234.5", s)
	}
	return strings.Replace(s, ",", ".", 1), nil
}

// cents is money in whole cents.
type cents struct{ of *measure.Money }

func (c cents) write() string { return strconv.FormatInt(int64(*c.of), 10) }

func (c cents) read(s string) error {
	n, err := whole(s)
	if err == nil {
		*c.of = measure.Money(n)
	} else if decimals.MatchString(strings.TrimSpace(s)) {
		return fmt.Errorf("%.40q is not a whole number of cents; name the column without _cents to write it in the currency", s)
	}
	return err
}

// price is money in the currency, to the cent. Three digits behind a comma
// could be thousands, and are refused.
type price struct{ of *measure.Money }

func (c price) write() string { return c.of.String() }

func (c price) read(s string) error {
	m := decimals.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil || len(m[2]) > 2 {
		return fmt.Errorf("%.40q is not an amount with cents, such as 1389.00; leave out thousands and the sign of the currency", s)
	}
	n, err := whole(m[1] + (m[2] + "00")[:2])
	if err == nil {
		*c.of = measure.Money(n)
	}
	return err
}

var decimals = regexp.MustCompile(`^(-?[0-9]+)(?:[.,]([0-9]+))?$`)

// count is a whole number.
type count struct{ of *int }

func (c count) write() string { return strconv.Itoa(*c.of) }

func (c count) read(s string) error {
	n, err := whole(s)
	if err == nil {
		*c.of = n
	}
	return err
}

func whole(s string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	switch {
	case errors.Is(err, strconv.ErrRange):
		return 0, errors.New("this figure is far too large")
	case err != nil:
		return 0, fmt.Errorf("%.40q is not a whole number, such as 12", s)
	}
	return n, nil
}

// flag is yes or no. Spreadsheets turn true and false into words of their own
// language, and leave yes and no alone.
type flag struct{ of *bool }

func (c flag) write() string {
	if *c.of {
		return "yes"
	}
	return "no"
}

func (c flag) read(s string) error {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "yes", "true":
		*c.of = true
	case "no", "false":
		*c.of = false
	default:
		return fmt.Errorf("%.40q is neither yes nor no", s)
	}
	return nil
}

// day is a day or a month of the calendar. Spreadsheets show a day in the way
// of the country and save what they show; what can mean one day only is read.
type day struct{ of *measure.Date }

func (c day) write() string { return c.of.String() }

func (c day) read(s string) error {
	s = strings.TrimSpace(s)
	if m := yearFirst.FindStringSubmatch(s); m != nil {
		s = isoDay(m[1], m[2], m[3])
	} else if m := dayFirst.FindStringSubmatch(s); m != nil {
		s = isoDay(m[3], m[2], m[1])
	} else if eitherFirst.MatchString(s) {
		return fmt.Errorf("%q may begin with the day or with the month; write it like 2026-11-25", s)
	}
	return c.of.UnmarshalText([]byte(s))
}

var (
	yearFirst   = regexp.MustCompile(`^([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})$`)
	dayFirst    = regexp.MustCompile(`^([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})$`) // nobody begins with the month and sets points
	eitherFirst = regexp.MustCompile(`^[0-9]{1,2}[-/][0-9]{1,2}[-/][0-9]{4}$`)
)

func isoDay(year, month, day string) string {
	return fmt.Sprintf("%s-%02s-%02s", year, month, day)
}

// blankWhen is a cell that is written empty while a condition holds.
type blankWhen struct {
	cell
	empty bool
}

func (c blankWhen) write() string {
	if c.empty {
		return ""
	}
	return c.cell.write()
}

// maybe is a field that may be left alone, which is not the same as zero.
type maybe[T any] struct {
	of **T
	as func(*T) cell
}

func (c maybe[T]) write() string {
	if *c.of == nil {
		return ""
	}
	return c.as(*c.of).write()
}

func (c maybe[T]) read(s string) error {
	var value T
	if err := c.as(&value).read(s); err != nil {
		return err
	}
	*c.of = &value
	return nil
}

// items are the members of a list within one cell, with blanks between them.
func items(s string) []string { return strings.Fields(unescape(strings.TrimSpace(s))) }

// words is a list of codes or tags.
type words struct{ of *[]string }

func (c words) write() string       { return escape(strings.Join(*c.of, " ")) }
func (c words) read(s string) error { *c.of = items(s); return nil }

// counts is a list of whole numbers.
type counts struct{ of *[]int }

func (c counts) write() string {
	return escape(strings.Trim(fmt.Sprint(*c.of), "[]"))
}

func (c counts) read(s string) error {
	for _, item := range items(s) {
		n, err := whole(item)
		if err != nil {
			return fmt.Errorf("%w; with several, leave a blank between them", err)
		}
		*c.of = append(*c.of, n)
	}
	return nil
}

// groups is a list of needs: blanks between what is needed together, and |
// between what will do instead.
type groups struct{ of *[][]string }

func (c groups) write() string {
	alternatives := make([]string, len(*c.of))
	for i, group := range *c.of {
		alternatives[i] = strings.Join(group, "|")
	}
	return escape(strings.Join(alternatives, " "))
}

func (c groups) read(s string) error {
	list := items(s)
	// Blanks around | are as good as none.
	for _, group := range strings.Fields(bars.Replace(strings.Join(list, " "))) {
		members := strings.Split(group, "|")
		for _, member := range members {
			if member == "" {
				return fmt.Errorf("%.40q lacks a name beside |; write seat-rear|bench for one of the two", group)
			}
		}
		*c.of = append(*c.of, members)
	}
	return nil
}

var bars = strings.NewReplacer(" | ", "|", " |", "|", "| ", "|")

// amounts is a list of mounts, each with how much of it there is or is used.
type amounts[T any] struct {
	of    *[]T
	split func(*T) (mount *string, amount *int)
}

func (c amounts[T]) write() string {
	parts := make([]string, len(*c.of))
	for i := range *c.of {
		mount, amount := c.split(&(*c.of)[i])
		parts[i] = *mount + ":" + strconv.Itoa(*amount)
	}
	return escape(strings.Join(parts, " "))
}

func (c amounts[T]) read(s string) error {
	for _, item := range items(s) {
		name, number, found := strings.Cut(item, ":")
		n, err := whole(number)
		if !found || err != nil {
			return fmt.Errorf("%.40q is not a mount with its number; write deck_cm:34 belly:1", item)
		}
		var one T
		mount, amount := c.split(&one)
		*mount, *amount = name, n
		*c.of = append(*c.of, one)
	}
	return nil
}

func mounts(of *[]catalog.Mount) cell {
	return amounts[catalog.Mount]{of, func(m *catalog.Mount) (*string, *int) { return &m.Code, &m.Capacity }}
}

func uses(of *[]catalog.Use) cell {
	return amounts[catalog.Use]{of, func(u *catalog.Use) (*string, *int) { return &u.Mount, &u.Count }}
}
