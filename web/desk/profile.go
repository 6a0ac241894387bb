package desk

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/match"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// posted reads the form that was sent, does with it what else was asked for
// and saves it as it is, faults and all: nothing typed is lost.
func (room *Room) posted(r *http.Request, do func(f, before form.Form)) (*talk.Consultation, error) {
	saved, err := room.store.Consultation(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return nil, err
	}
	before, err := form.Decode(saved.Answers)
	if err != nil {
		return nil, err
	}
	posted, err := kit.Posted(r)
	if err != nil {
		return nil, err
	}
	f := form.FromValues(posted)
	do(f, before)
	if saved, err = room.save(r, f, saved); err != nil {
		return nil, err
	}
	return room.Consult(r, saved, f)
}

func (room *Room) save(r *http.Request, f form.Form, saved store.Consultation) (store.Consultation, error) {
	answers, err := f.Encode()
	if err != nil {
		return saved, err
	}
	customer := strings.TrimSpace(f.Get(form.Customer))
	if string(answers) == string(saved.Answers) && customer == saved.Customer {
		return saved, nil
	}
	return room.store.SaveConsultation(r.Context(), saved.ID, customer, answers, room.Now())
}

// act does what a button of the form asks for: "add riders" appends a row,
// "remove riders 1" takes one out.
func act(f form.Form, do string) {
	words := strings.Fields(do)
	switch {
	case len(words) == 2 && words[0] == "add":
		f.Add(words[1])
	case len(words) == 3 && words[0] == "remove":
		if row, err := strconv.Atoi(words[2]); err == nil {
			f.Remove(words[1], row)
		}
	}
}

func (room *Room) profileForm(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Open(r)
	if err != nil {
		return err
	}
	return room.showForm(w, r, c, http.StatusOK, false)
}

// saveProfile saves the form and goes on to the frames, or shows the form
// again where something is wrong or a row was added.
func (room *Room) saveProfile(w http.ResponseWriter, r *http.Request) error {
	c, err := room.posted(r, func(f, before form.Form) {
		f.SwitchUnits(before.System())
		act(f, r.PostForm.Get("do"))
	})
	if err != nil {
		return err
	}
	switch do := r.PostForm.Get("do"); {
	case do == "frames" && c.Profile != nil:
		http.Redirect(w, r, c.Address("/frames"), http.StatusSeeOther)
	case do == "frames":
		return room.showForm(w, r, c, http.StatusUnprocessableEntity, true)
	default:
		http.Redirect(w, r, c.Address(anchor(c.Form, do)), http.StatusSeeOther)
	}
	return nil
}

// anchor leads back to the row that was added, or to the list that lost one.
func anchor(f form.Form, do string) string {
	words := strings.Fields(do)
	if len(words) < 2 || firstFields[words[1]] == "" {
		return ""
	}
	if row := f.Rows(words[1]) - 1; words[0] == "add" && row >= 0 {
		return "#" + form.At(words[1], row, firstFields[words[1]])
	}
	return "#" + sectionOf(words[1])
}

func (room *Room) showForm(w http.ResponseWriter, r *http.Request, c *talk.Consultation, status int, insist bool) error {
	ranking, err := room.ranking(r, c, match.Options{})
	if err != nil {
		return err
	}
	view := formView(c, insist)
	if view.Kept, err = room.keptFor(r); err != nil {
		return err
	}
	view.Erase = c.Address("/erase")
	if view.Ask, err = room.ask(r, c, ""); err != nil {
		return err
	}
	view.Shell, view.Ranking = room.Steps(r, c, "Profile", "profile"), ranking
	return kit.Render(r.Context(), w, status, ProfilePage(view))
}

// live saves the form and answers with the short ranking alone. The fields on
// the screen stay as they are, so their units do too.
func (room *Room) live(w http.ResponseWriter, r *http.Request) error {
	c, err := room.posted(r, func(f, before form.Form) { f.Set(form.Units, before.Get(form.Units)) })
	if err != nil {
		return err
	}
	ranking, err := room.ranking(r, c, match.Options{})
	if err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, Live(ranking))
}
