package catalog

import (
	"regexp"
	"strings"

	"kinwain/internal/problem"
)

// checker collects the faults of one document.
type checker struct {
	problem.List
	catalogue *Catalogue
	frames    map[string]*indexed
	addOns    map[string]*AddOn
}

var (
	codeForm = regexp.MustCompile(`^[a-z0-9]+([-_][a-z0-9]+)*$`)
	tagForm  = regexp.MustCompile(`^[A-Za-z0-9]+([-_./][A-Za-z0-9]+)*$`)
	tyreForm = regexp.MustCompile(`^[0-9]{2,3}-[0-9]{3}$`)
	currency = regexp.MustCompile(`^[A-Z]{3}$`)
)

const maxCodeLength = 60

// Check returns every fault of meaning in the catalogue, in the order of the
// document. The error is a problem.List.
func (c *Catalogue) Check() error {
	k := &checker{catalogue: c, frames: map[string]*indexed{}, addOns: map[string]*AddOn{}}
	frames := make([]*indexed, len(c.Frames))
	for i := range c.Frames {
		frames[i] = index(&c.Frames[i])
		k.frames[c.Frames[i].Code] = frames[i]
	}
	for i := range c.AddOns {
		k.addOns[c.AddOns[i].Code] = &c.AddOns[i]
	}
	if c.Version != 1 {
		k.Add("catalogue", problem.OutOfRange, "this is version %d of the format; version 1 is read here", c.Version)
	}
	k.shop(c.Shop)
	codes := seen{}
	for i, f := range frames {
		path := problem.Index("frames", i)
		k.once(codes, problem.Join(path, "code"), f.Code)
		k.frame(path, f)
	}
	codes = seen{}
	for i := range c.AddOns {
		path := problem.Index("add_ons", i)
		k.once(codes, problem.Join(path, "code"), c.AddOns[i].Code)
		k.addOn(path, &c.AddOns[i])
	}
	codes = seen{}
	for i := range c.Units {
		path := problem.Index("units", i)
		k.once(codes, problem.Join(path, "tag"), c.Units[i].Tag)
		k.unit(path, &c.Units[i])
	}
	return k.Err()
}

func (k *checker) shop(s Shop) {
	k.text("shop.name", s.Name, 120)
	if !currency.MatchString(s.Currency) {
		k.Add("shop.currency", problem.NotOneOf, "write the three letters of ISO 4217, such as EUR")
	}
	problem.Within(&k.List, "shop.labour_cents_per_hour", s.LabourPerHour, 0, 1_000_00)
	problem.Within(&k.List, "shop.tax_percent", s.Tax, 0, 100_00)
}

// once reports a code that an earlier entry has.
func (k *checker) once(codes seen, path, code string) {
	if codes.again(code) && code != "" {
		k.Add(path, problem.Duplicate, "%q is used twice; every one needs its own", code)
	}
}

func (k *checker) code(path, code string) {
	switch {
	case code == "":
		k.Add(path, problem.Missing, "a code is needed")
	case len(code) > maxCodeLength || !codeForm.MatchString(code):
		k.Add(path, problem.OutOfRange, "write a code in small letters and digits joined by - or _, such as seat-rear")
	}
}

func (k *checker) text(path, s string, most int) {
	if strings.TrimSpace(s) == "" {
		k.Add(path, problem.Missing, "a text is needed here")
	}
	k.note(path, s, most)
}

func (k *checker) note(path, s string, most int) {
	if len([]rune(s)) > most {
		k.Add(path, problem.OutOfRange, "this text is too long; keep it under %d characters", most)
	}
}

func (k *checker) word(path, word string, words []string, required bool) {
	if word == "" && !required {
		return
	}
	problem.Word(&k.List, path, word, words)
}
