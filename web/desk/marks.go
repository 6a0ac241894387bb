package desk

import (
	"context"
	"net/http"
	"strconv"

	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// marksView says what has changed for a consultation since it was last seen.
func (room *Room) marksView(ctx context.Context, c *talk.Consultation) (Marks, error) {
	list, err := room.store.Marks(ctx, c.ID)
	if err != nil || len(list) == 0 {
		return Marks{}, err
	}
	view := Marks{Dismiss: c.Address("/marks"), UpTo: strconv.FormatInt(list[len(list)-1].ID, 10)}
	for _, m := range list {
		view.List = append(view.List, say.Capital(m.Text)+", since "+m.Created.In(room.Now().Location()).Format("2 January 2006")+".")
	}
	return view, nil
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
