package desk

import (
	"net/http"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/figures"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
)

// forgetForm asks whether a consultation should be erased, and says what goes
// with it.
func (room *Room) forgetForm(w http.ResponseWriter, r *http.Request) error {
	return room.showForget(w, r, http.StatusOK, "")
}

func (room *Room) showForget(w http.ResponseWriter, r *http.Request, status int, alert string) error {
	c, err := room.Open(r)
	if err != nil {
		return err
	}
	summaries, err := room.store.FitSummaries(r.Context(), c.ID, room.Now())
	if err != nil {
		return err
	}
	quotes, err := room.store.Quotes(r.Context(), c.ID)
	if err != nil {
		return err
	}
	rides, err := room.store.Rides(r.Context(), c.ID)
	if err != nil {
		return err
	}
	view := Forget{Shell: room.Steps(r, c, "Erase this consultation", ""), Alert: alert, Back: c.Address(""), Action: c.Address("/erase"), Export: c.Address("/export.json")}
	accepted := 0
	for _, q := range quotes {
		if !q.Accepted.IsZero() {
			accepted++
		}
	}
	view.Goes = append(view.Goes, "every answer of the profile")
	for _, part := range []struct {
		n         int
		one, many string
	}{
		{len(summaries), "fit summary, whose link ends", "fit summaries, whose links end"}, {len(quotes) - accepted, "quote, and the bike held for it", "quotes, and the bikes held for them"}, {len(rides), "test ride", "test rides"},
	} {
		if part.n > 0 {
			view.Goes = append(view.Goes, say.Counted(part.n, part.one, part.many))
		}
	}
	if accepted > 0 {
		view.Stays = say.Counted(accepted, "accepted quote stays, as a paper of a sale.", "accepted quotes stay, as papers of a sale.")
	}
	return kit.Render(r.Context(), w, status, ForgetPage(view))
}

// forget erases a consultation.
func (room *Room) forget(w http.ResponseWriter, r *http.Request) error {
	err := room.store.EraseConsultation(r.Context(), chi.URLParam(r, "id"), room.Now())
	if store.CodeOf(err) == store.Conflict {
		return room.showForget(w, r, http.StatusConflict, "A bike is out with this customer. Note that it is back, then erase.")
	}
	if err != nil {
		return err
	}
	return room.Done(w, r, kit.StartAddress, "The consultation is erased.")
}

// export answers with all that is kept about one consultation.
func (room *Room) export(w http.ResponseWriter, r *http.Request) error {
	id := chi.URLParam(r, "id")
	document, err := room.store.Dossier(r.Context(), id)
	if err != nil {
		return err
	}
	room.Attach(w, "application/json", "consultation-"+strings.ToLower(id[:min(len(id), 6)])+".json", document)
	return nil
}

// keptFor says how long answers are kept.
func (room *Room) keptFor(r *http.Request) (string, error) {
	changed, err := room.store.Settings(r.Context())
	days, _ := figures.Retention(changed)
	return "What is answered here is erased " + say.Counted(days, "day", "days") + " after it was last used.", err
}
