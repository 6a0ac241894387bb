package takehome

import (
	"cmp"
	"net/http"
	"strconv"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/store"
	"kinwain/internal/summary"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// sendForm offers to make a fit summary of a choice, and lists the links of
// this consultation that open one.
func (room *Room) sendForm(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	chosen, err := room.Chosen(r, c, match.Options{})
	if err != nil {
		return err
	}
	return room.showSend(w, r, c, chosen, "")
}

// send makes a summary and shows its link, which is kept nowhere: only who
// sends the same form again sees it again. Or it revokes one.
func (room *Room) send(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	chosen, err := room.Chosen(r, c, match.Options{})
	if err != nil {
		return err
	}
	if r.PostForm.Has("revoke") {
		return room.revoke(w, r, c, chosen)
	}
	token, err := room.issue(r, c, chosen)
	if err != nil {
		return err
	}
	return room.showSend(w, r, c, chosen, token)
}

func (room *Room) issue(r *http.Request, c *talk.Consultation, chosen *talk.Choice) (token string, err error) {
	if refused := chosen.Refused(c); refused != nil {
		return "", refused
	}
	kept, err := summary.Of(c.Shop, c.Profile, chosen.Match, chosen.ByHand)
	if err != nil {
		return "", err
	}
	if kept.Contact, err = room.store.Texts(r.Context()); err != nil {
		return "", err
	}
	if language, ok := say.Known(r.PostForm.Get("language")); ok {
		kept.Language = string(language)
	}
	kept.Units, kept.Hide = metric, r.PostForm.Get("hide") == "yes"
	if r.PostForm.Get(form.Units) == form.Imperial {
		kept.Units = form.Imperial
	}
	if err := room.beside(r.Context(), c, chosen, kept); err != nil {
		return "", err
	}
	document, answer, err := kept.Write(r.Context())
	if err != nil {
		return "", err
	}
	days, err := room.summaryDays(r.Context())
	if err != nil {
		return "", err
	}
	now := room.Now()
	return room.store.IssueFitSummary(r.Context(), store.FitSummary{Consultation: c.ID, Frame: chosen.Match.Frame.Code, Document: document, Answer: answer,
		Token: kit.Once(r), Created: now, Expires: now.AddDate(0, 0, days)})
}

// revoke makes a link void. One that is void already is no error: two may
// have pressed the button.
func (room *Room) revoke(w http.ResponseWriter, r *http.Request, c *talk.Consultation, chosen *talk.Choice) error {
	id, err := strconv.ParseInt(r.PostForm.Get("revoke"), 10, 64)
	if err != nil {
		return kit.ErrForm
	}
	if err := room.store.RevokeFitSummary(r.Context(), c.ID, id, room.Now()); err != nil && store.CodeOf(err) != store.NotFound {
		return err
	}
	http.Redirect(w, r, chosen.Address(c, "/send"), http.StatusSeeOther)
	return nil
}

func (room *Room) showSend(w http.ResponseWriter, r *http.Request, c *talk.Consultation, chosen *talk.Choice, token string) error {
	live, err := room.store.FitSummaries(r.Context(), c.ID, room.Now())
	if err != nil {
		return err
	}
	days, err := room.summaryDays(r.Context())
	if err != nil {
		return err
	}
	view := room.sendView(c, chosen, live, r.PostForm.Get("hide") == "yes" || r.Method == http.MethodGet && c.Form.HidesWeights())
	view.Shell, view.Days = room.Steps(r, c, chosen.Match.Frame.Called()+", to take home", "frame"), strconv.Itoa(days)
	view.Once = kit.NewOnce()
	view.Language, view.Units = languageField(cmp.Or(r.PostForm.Get("language"), c.Form.Get(form.Language))), unitsField(c, r.PostForm.Get(form.Units))
	if token != "" {
		view.Link, view.Code = room.fitAddress(token), "/fit/"+token+"/qr.svg"
	}
	return kit.Render(r.Context(), w, http.StatusOK, SendPage(view))
}

func (room *Room) sendView(c *talk.Consultation, chosen *talk.Choice, live []store.FitSummary, hide bool) Send {
	m := chosen.Match
	view := Send{Name: m.Frame.Called(), Kind: talk.FrameKind(c.Speaker, m.Frame), Verdict: talk.VerdictView(m.Verdict), Line: talk.Line(c, m, nil),
		Back: c.Address("/frames/" + m.Frame.Code), Action: c.Address("/frames/" + m.Frame.Code + "/send"), Hide: hide}
	if !m.Offered() {
		view.Refused = talk.OnlyWhatFits
	}
	if chosen.ByHand {
		view.Back = chosen.Page(c)
		view.ByHand, view.On = true, advice.OnBike(m)
	}
	for _, f := range live {
		view.Live = append(view.Live, room.liveLink(c, f))
	}
	return view
}

func (room *Room) liveLink(c *talk.Consultation, f store.FitSummary) LiveLink {
	name := f.Frame
	if frame := c.Catalogue.Frame(f.Frame); frame != nil {
		name = frame.Called()
	}
	when := func(t time.Time) string { return t.In(room.Now().Location()).Format("2 January 2006, 15:04") }
	return LiveLink{ID: strconv.FormatInt(f.ID, 10), Frame: name, Made: when(f.Created), Until: when(f.Expires), Opened: say.Capital(talk.Opened(c.Speaker, f.Opened))}
}

func languageField(chosen string) kit.Field {
	f := kit.Field{Name: "language", Label: "Language", Value: chosen, Options: []kit.Option{{Value: "", Label: "As their phone asks"}}}
	for _, l := range say.Languages {
		f.Options = append(f.Options, kit.Option{Value: string(l), Label: l.Name()})
	}
	return f
}

// unitsField begins with the units of the talk.
func unitsField(c *talk.Consultation, chosen string) kit.Field {
	f := kit.Field{Name: form.Units, Label: "Units", Value: chosen, Options: []kit.Option{{Value: metric, Label: "Kilograms, centimetres"}, {Value: form.Imperial, Label: "Pounds, inches"}}}
	if chosen == "" {
		f.Value = f.Options[c.System()].Value
	}
	return f
}
