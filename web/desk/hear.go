package desk

import (
	"net/http"
	"strings"

	"kinwain/internal/measure"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// heard is what became of a line that was typed as it was heard.
type heard struct {
	understood []form.Heard
	left       bool // some of it stays in the line, and did not stand there before
}

// hear reads the line of a form into its fields: where a button asks for it,
// and with every other button that loads the page again. It returns nil where
// the line was not read.
func hear(f form.Form, do string, loads bool, today measure.Date) *heard {
	words := strings.SplitN(do, " ", 3)
	if len(words) == 3 && words[0] == "mean" {
		k := &heard{}
		if one, ok := f.Mean(words[1], words[2], today); ok {
			k.understood = append(k.understood, one)
			f.ForgetWords(words[2])
		}
		return k
	}
	line := f.Get(form.Line)
	if do != "hear" && (!loads || strings.TrimSpace(line) == "") {
		return nil
	}
	understood, _, left := f.Hear(line, today)
	f.Set(form.Line, left)
	return &heard{understood, left != "" && left != line}
}

// any reports whether there is something to say of the line.
func (h *heard) any() bool { return h != nil && (len(h.understood) > 0 || h.left) }

// heardOf begins what a session has to say of a line in a consultation.
func heardOf(c *talk.Consultation) string { return "heard in " + c.ID + "\n" }

// remember keeps what was understood for the page that is loaded next.
func (room *Room) remember(r *http.Request, k *kept) {
	if k.heard.any() {
		room.Sessions.Put(r.Context(), kit.SaidKey, heardOf(k.Consultation)+strings.Join(heardWords(k.Consultation, k.heard.understood, room.Today()), "\n"))
	}
}

// remembered returns what was kept, once.
func (room *Room) remembered(r *http.Request, c *talk.Consultation) []string {
	lines, ours := strings.CutPrefix(room.Sessions.GetString(r.Context(), kit.SaidKey), heardOf(c))
	if !ours {
		return nil
	}
	room.Sessions.Remove(r.Context(), kit.SaidKey)
	if lines == "" {
		return nil
	}
	return strings.Split(lines, "\n")
}

// heardWords say one line for each answer that was understood.
func heardWords(c *talk.Consultation, list []form.Heard, today measure.Date) []string {
	var lines []string
	for _, h := range list {
		shown := h.Value
		if c.Form.Hides(h.Field) {
			shown = "entered"
		} else if said := c.Form.Understood(h.Field, today); said != "" {
			shown += ", " + said
		}
		lines = append(lines, say.Capital(questionName(c, h.Field))+": "+shown)
	}
	return lines
}

// readings are the words of what a doubt may be about.
var readings = map[string]string{
	"height_cm": "a rider’s height", "weight_kg": "a rider’s weight", "pet_kg": "the pet’s weight", "cargo_kg": "kilograms of cargo", "cargo_litres": "litres of cargo",
	form.InMonths: "months", form.InYears: "years", "born": "a child’s age", form.Lasting: "how long it should last",
}

// lacking are the questions of what a part of a line does not say.
var lacking = map[form.Lack]string{
	form.LacksDue:  "In which month? Such as: due in March.",
	form.LacksYear: "Of which year? Or say that it is due.",
}

// hearingView says what was understood, and asks about the rest of the line.
func hearingView(c *talk.Consultation, understood []string, today measure.Date) Hearing {
	h := Hearing{Understood: understood}
	_, doubts, _ := c.Form.Clone().Hear(c.Form.Get(form.Line), today)
	for _, d := range doubts {
		one := Doubt{Words: d.Words, Lacks: lacking[d.Lacks]}
		for _, reading := range d.Readings() {
			label := readings[reading]
			if strings.HasSuffix(reading, "cargo_kg") && c.System() == measure.Imperial {
				label = "pounds of cargo"
			}
			one.Readings = append(one.Readings, kit.Button{Label: label, Value: "mean " + reading + " " + d.Words})
		}
		h.Doubts = append(h.Doubts, one)
	}
	return h
}
