package desk

import (
	"context"
	"net/http"
	"strconv"

	"kinwain/web/kit"
	"kinwain/web/talk"
)

// marksView says what has changed for a consultation since it was last seen.
func (room *Room) marksView(ctx context.Context, c *talk.Consultation) (Marks, error) {
	list, err := room.store.Marks(ctx, c.ID)
	if err != nil {
		return Marks{}, err
	}
	pending, err := room.store.PendingJudgings(ctx, c.ID)
	view := Marks{Dismiss: c.Address("/marks"), ToCheck: len(pending) > 0}
	for _, m := range list {
		view.List, view.UpTo = append(view.List, kit.MarkWords(m, room.Now().Location())), strconv.FormatInt(m.ID, 10)
	}
	return view, err
}

// dismissMarks forgets the marks that were on the page.
func (room *Room) dismissMarks(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Open(r)
	if err != nil {
		return err
	}
	upTo, err := strconv.ParseInt(r.PostFormValue("up_to"), 10, 64)
	if err != nil {
		return kit.ErrForm
	}
	if err := room.store.DismissMarks(r.Context(), c.ID, upTo); err != nil {
		return err
	}
	http.Redirect(w, r, c.Address("/frames"), http.StatusSeeOther)
	return nil
}
