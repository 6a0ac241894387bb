package desk

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// insistField is in the address of the form where it says what is missing.
const insistField = "insist"

func (room *Room) profileForm(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Open(r)
	if err != nil {
		return err
	}
	return room.showForm(w, r, c, http.StatusOK, "")
}

// saveProfile saves the form and goes on to the frames, or back to the form
// where something is wrong or a row was added: a page that is loaded again
// sends nothing again. Where it cannot be saved, the form is shown as typed.
func (room *Room) saveProfile(w http.ResponseWriter, r *http.Request) error {
	k, err := room.posted(r, true)
	if err != nil && k != nil {
		f := kit.FailureOf(err)
		room.Log.ErrorContext(r.Context(), "answers not saved", "path", r.URL.Path, "error", err)
		return room.showForm(w, r, k.Consultation, f.Status, f.Text+" "+asTyped)
	}
	if err != nil {
		return err
	}
	to, do := k.Address(anchor(k.Form, r.PostForm.Get("do"))), r.PostForm.Get("do")
	room.remember(r, k)
	switch {
	case len(k.clashes) > 0:
		view := ClashView{Shell: room.Steps(r, k.Consultation, "Two answers", "profile"), News: k.news()}
		return kit.Render(r.Context(), w, http.StatusConflict, ClashPage(view))
	case k.heard.any(): // it is said first what was understood
		to = k.Address("#" + form.Line)
	case weighs(k.Form, do) >= 0:
		to = weighAt(k.Consultation, weighs(k.Form, do))
	case do == "frames" && len(k.Faults) == 0:
		to = k.Address("/frames")
	case do == "frames":
		to = k.Address("?" + insistField + "=yes")
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}

// weighs returns the row of the rider whom a button leads to the scale; -1 where
// it does not.
func weighs(f form.Form, do string) int {
	row, err := strconv.Atoi(strings.TrimPrefix(do, "weigh "))
	if err != nil || !strings.HasPrefix(do, "weigh ") || row < 0 || row >= f.Rows(form.Riders) {
		return -1
	}
	return row
}

const asTyped = "Below is all that you typed. Keep this page open, and press Save again."

// anchor leads back to the row that was added, or to the list that lost one,
// or on to a step.
func anchor(f form.Form, do string) string {
	words := strings.Fields(do)
	if len(words) == 2 && words[0] == "go" && slices.Contains(steps, words[1]) {
		return "#" + words[1]
	}
	if len(words) == 2 && words[0] == "bring" {
		return "#" + cargoStep
	}
	if len(words) < 2 || firstFields[words[1]] == "" {
		return ""
	}
	if row := f.Rows(words[1]) - 1; words[0] != "remove" && row >= 0 {
		return "#" + form.At(words[1], row, firstFields[words[1]])
	}
	return "#" + sectionOf(words[1])
}

func (room *Room) showForm(w http.ResponseWriter, r *http.Request, c *talk.Consultation, status int, unsaved string) error {
	ranking, err := room.ranking(r, c, shown.none)
	if err != nil {
		return err
	}
	view := formView(c, room.Today(), r.URL.Query().Get(insistField) == "yes")
	if view.Kept, err = room.keptFor(r); err != nil {
		return err
	}
	view.Hearing = hearingView(c, room.remembered(r, c), room.Today())
	view.Unsaved, view.Script = unsaved, room.ProfileScript()
	if version := r.PostFormValue(form.Version); version != "" { // shown as typed, it changes what it did
		view.Version = version
	}
	view.Erase = c.Address("/erase")
	if view.Ask, err = room.ask(r, c, ""); err != nil {
		return err
	}
	view.Shell, view.Ranking = room.Steps(r, c, "Profile", "profile"), ranking
	return kit.RenderPart(w, r, status, ProfilePage(view))
}

// live saves the form and answers with the short ranking alone, and with what
// the page that sent it has to show besides.
func (room *Room) live(w http.ResponseWriter, r *http.Request) error {
	k, err := room.posted(r, false)
	if err != nil {
		return err
	}
	ranking, err := room.ranking(r, k.Consultation, shown.none)
	if err != nil {
		return err
	}
	if ranking.Moves, err = room.moves(r, k); err != nil {
		return err
	}
	status := http.StatusOK
	if len(k.clashes) > 0 {
		status = http.StatusConflict
	}
	news := k.news()
	news.Told = formView(k.Consultation, room.Today(), false)
	if k.heard != nil {
		news.Hearing = hearingView(k.Consultation, heardWords(k.Consultation, k.heard.understood, room.Today()), room.Today())
		news.Heard = true
	}
	if news.Rows { // the page is loaded again
		room.remember(r, k)
	}
	return kit.Render(r.Context(), w, status, LiveNews(ranking, news))
}
