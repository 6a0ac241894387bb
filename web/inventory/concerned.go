package inventory

import (
	"crypto/sha256"
	"fmt"
	"net/http"

	"kinwain/internal/catalog"
	"kinwain/web/kit"
)

// seenField carries which consequences were on the page that is sent.
const seenField = "seen"

// unseen returns the consequences of a change that have to be looked at before
// it is saved: where somebody is concerned and the page that was sent did not
// show just that, or where the manager asks for them. It returns nil where
// there is nothing to look at.
func (room *Room) unseen(r *http.Request, before, after *catalog.Catalogue) (*kit.Consequences, error) {
	if after.CheckAfter(before) != nil {
		return nil, nil // it is not saved anyway
	}
	found, err := room.watch.Of(r.Context(), before, after)
	if err != nil {
		return nil, err
	}
	view := kit.ConsequencesView(found)
	view.Seen = fmt.Sprintf("%x", sha256.Sum256(fmt.Append(nil, view.Rows, view.More)))
	asked := r.PostForm.Get("do") == "consequences"
	if asked || len(view.Rows) > 0 && r.PostForm.Get(seenField) != view.Seen {
		return &view, nil
	}
	return nil, nil
}
