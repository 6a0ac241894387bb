package desk

import (
	"net/url"

	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// askedView is a question with its field. What was typed at it and could not
// be right stands in the address.
func askedView(c *talk.Consultation, q *match.Question, typed url.Values) Asked {
	of, _ := profile.Of(q.Path)
	v := &formViewer{Consultation: c}
	f := v.asked(q.Path, &of)
	f.Label, f.Value = c.Speaker.Message(q.Asked()), typed.Get(q.Path)
	if f.Check != "" {
		f.Options = []kit.Option{{Label: "Not asked"}, {Value: "yes", Label: "Yes"}}
	}
	if f.Value != "" {
		tried := c.Form.Clone()
		tried.Answer(q.Path, f.Value)
		f.Error = tried.Fault(q.Path, c.Profile.AsOf)
	}
	a := Asked{Field: f}
	for _, m := range q.Says() {
		a.Says = append(a.Says, c.Speaker.Message(m))
	}
	return a
}
