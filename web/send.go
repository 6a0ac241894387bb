package web

import (
	"net/http"
	"strconv"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/store"
	"kinwain/internal/summary"
	"kinwain/web/form"
	"kinwain/web/page"
	"kinwain/web/say"
)

// sendForm offers to make a fit summary of a choice, and lists the links of
// this consultation that open one.
func (s *server) sendForm(w http.ResponseWriter, r *http.Request) error {
	c, err := s.whole(r)
	if err != nil {
		return err
	}
	chosen, err := s.chosen(r, c, match.Options{})
	if err != nil {
		return err
	}
	return s.showSend(w, r, c, chosen, "")
}

// send makes a summary and shows its link, this once: it is kept nowhere. Or
// it revokes one.
func (s *server) send(w http.ResponseWriter, r *http.Request) error {
	c, err := s.whole(r)
	if err != nil {
		return err
	}
	chosen, err := s.chosen(r, c, match.Options{})
	if err != nil {
		return err
	}
	if r.PostForm.Has("revoke") {
		return s.revoke(w, r, c, chosen)
	}
	token, err := s.issue(r, c, chosen)
	if err != nil {
		return err
	}
	return s.showSend(w, r, c, chosen, token)
}

func (s *server) issue(r *http.Request, c *consultation, chosen *choice) (token string, err error) {
	kept, err := summary.Of(c.Shop, c.profile, chosen.match, chosen.byHand)
	if err != nil {
		return "", err
	}
	if kept.Contact, err = s.Store.Texts(r.Context()); err != nil {
		return "", err
	}
	if language, ok := say.Known(r.PostForm.Get("language")); ok {
		kept.Language = string(language)
	}
	kept.Units, kept.Hide = metric, r.PostForm.Get("hide") == "yes"
	if r.PostForm.Get(form.Units) == form.Imperial {
		kept.Units = form.Imperial
	}
	document, err := kept.Document()
	if err != nil {
		return "", err
	}
	days, err := s.summaryDays(r.Context())
	if err != nil {
		return "", err
	}
	now := s.Now()
	return s.Store.IssueFitSummary(r.Context(), store.FitSummary{Consultation: c.id, Frame: chosen.match.Frame.Code, Document: document, Created: now, Expires: now.AddDate(0, 0, days)})
}

// revoke makes a link void. One that is void already is no error: two may
// have pressed the button.
func (s *server) revoke(w http.ResponseWriter, r *http.Request, c *consultation, chosen *choice) error {
	id, err := strconv.ParseInt(r.PostForm.Get("revoke"), 10, 64)
	if err != nil {
		return errForm
	}
	if err := s.Store.RevokeFitSummary(r.Context(), c.id, id, s.Now()); err != nil && store.CodeOf(err) != store.NotFound {
		return err
	}
	http.Redirect(w, r, chosen.address(c, "/send"), http.StatusSeeOther)
	return nil
}

func (s *server) showSend(w http.ResponseWriter, r *http.Request, c *consultation, chosen *choice, token string) error {
	live, err := s.Store.FitSummaries(r.Context(), c.id, s.Now())
	if err != nil {
		return err
	}
	days, err := s.summaryDays(r.Context())
	if err != nil {
		return err
	}
	view := s.sendView(c, chosen, live, r.PostForm.Get("hide") == "yes")
	view.Shell, view.Days = s.steps(r, c, chosen.match.Frame.Name+", to take home", "frame"), strconv.Itoa(days)
	view.Language, view.Units = languageField(r.PostForm.Get("language")), unitsField(c, r.PostForm.Get(form.Units))
	if token != "" {
		view.Link, view.Code = s.fitAddress(token), "/fit/"+token+"/qr.svg"
	}
	return render(r.Context(), w, http.StatusOK, page.SendPage(view))
}

func (s *server) sendView(c *consultation, chosen *choice, live []store.FitSummary, hide bool) page.Send {
	m := chosen.match
	view := page.Send{Name: m.Frame.Name, Kind: frameKind(c.speaker, m.Frame), Verdict: verdictView(m.Verdict), Line: line(c, m, false),
		Back: c.address("/frames/" + m.Frame.Code), Action: c.address("/frames/" + m.Frame.Code + "/send"), Hide: hide}
	if chosen.byHand {
		view.Back = chosen.address(c, "/by-hand")
		view.ByHand, view.On = true, advice.OnBike(m)
	}
	for _, f := range live {
		view.Live = append(view.Live, s.liveLink(c, f))
	}
	return view
}

func (s *server) liveLink(c *consultation, f store.FitSummary) page.LiveLink {
	name := f.Frame
	if frame := c.Catalogue.Frame(f.Frame); frame != nil {
		name = frame.Name
	}
	when := func(t time.Time) string { return t.In(s.Now().Location()).Format("2 January 2006, 15:04") }
	return page.LiveLink{ID: strconv.FormatInt(f.ID, 10), Frame: name, Made: when(f.Created), Until: when(f.Expires)}
}

func languageField(chosen string) page.Field {
	f := page.Field{Name: "language", Label: "Language", Value: chosen, Options: []page.Option{{Value: "", Label: "As their phone asks"}}}
	for _, l := range say.Languages {
		f.Options = append(f.Options, page.Option{Value: string(l), Label: l.Name()})
	}
	return f
}

// unitsField begins with the units of the talk.
func unitsField(c *consultation, chosen string) page.Field {
	f := page.Field{Name: form.Units, Label: "Units", Value: chosen, Options: []page.Option{{Value: metric, Label: "Kilograms, centimetres"}, {Value: form.Imperial, Label: "Pounds, inches"}}}
	if chosen == "" {
		f.Value = f.Options[c.system()].Value
	}
	return f
}
