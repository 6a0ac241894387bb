package inventory

import (
	"fmt"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/web/say"
)

// shownNotices bounds what is listed before everything else.
const shownNotices = 100

// lostNotices says which ratings, limits and needs an import takes away.
func lostNotices(i *waiting) Notices {
	var lines []Notice
	names := namesOf(i.current, i.new)
	for _, c := range i.changes {
		for _, l := range c.Losses() {
			lines = append(lines, noticeOf(c, l.Path, names, l.Field, figureOf(l.Field, l.Old, i.new.Shop.Currency)))
		}
	}
	return notices(lines, say.Counted(len(lines), "rating, limit or need goes", "ratings, limits and needs go"),
		"What is not stated does not bind: more is allowed than before.")
}

// leapNotices says which figures change by more than a factor of three.
func leapNotices(i *waiting) Notices {
	var lines []Notice
	names := namesOf(i.current, i.new)
	for _, c := range i.changes {
		if f, far := c.Leap(); far {
			lines = append(lines, noticeOf(c, c.Field, names, f,
				figureOf(f, c.Old, i.current.Shop.Currency)+" becomes "+figureOf(f, c.New, i.new.Shop.Currency)))
		}
	}
	return notices(lines, say.Counted(len(lines), "figure to be looked at", "figures to be looked at"),
		"More than three times what it was, or less than a third: a decimal point may have slipped.")
}

func notices(lines []Notice, heading, lead string) Notices {
	n := Notices{Heading: heading, Lead: lead, Lines: lines}
	if more := len(lines) - shownNotices; more > 0 {
		n.Lines, n.More = lines[:shownNotices], fmt.Sprintf("And %d more.", more)
	}
	return n
}

// noticeOf says something about a field of a thing: zone rear, rating: 60 kg.
func noticeOf(c catalog.Change, path string, names map[string]string, f *catalog.Field, what string) Notice {
	field := strings.ToLower(f.Label[:1]) + f.Label[1:]
	if f.Kind == catalog.Needs { // its label in the form begins a row
		field = "need"
	}
	if entry, _, inside := strings.Cut(path, "]"); inside {
		field = entryWords(c.List, entry) + ", " + field
	} else if rest, on := strings.CutPrefix(path, "on_frame."); on {
		frame, _, _ := strings.Cut(rest, ".")
		field = "on " + frame + ", " + field
	}
	return Notice{Thing{Code: c.Code, Name: names[c.List+" "+c.Code]}, say.Capital(field) + ": " + what}
}

// figureOf writes a figure of a document with its unit.
func figureOf(f *catalog.Field, text, currency string) string {
	if f.Kind == catalog.Needs {
		return strings.NewReplacer("|", " or ", " ", ", and ").Replace(catalog.Words(text))
	}
	return f.Shown(text, currency)
}
