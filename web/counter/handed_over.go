package counter

import (
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// handedField carries which hand-over the page that is sent showed, so that a
// button that is pressed twice takes back no later one.
const handedField = "handed"

// handOver notes that all of an accepted quote left the shop with the customer.
func (room *Room) handOver(w http.ResponseWriter, r *http.Request) error {
	id := chi.URLParam(r, "id")
	err := room.store.HandOver(r.Context(), id, room.Author(r, store.ByEdit))
	if store.CodeOf(err) == store.Conflict {
		return room.showHanded(w, r, id, "Not handed over: nobody has accepted this quote, or its bike is held for somebody else.")
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.QuoteAt(id)+"#accepted", http.StatusSeeOther)
	return nil
}

// takeBack undoes a hand-over that was none.
func (room *Room) takeBack(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	ms, err := strconv.ParseInt(posted.Get(handedField), 10, 64)
	if err != nil {
		return kit.ErrForm
	}
	id := chi.URLParam(r, "id")
	back, err := room.store.TakeBack(r.Context(), id, time.UnixMilli(ms), room.Author(r, store.ByUndo))
	if why := new(store.Error); store.CodeOf(err) == store.Conflict && errors.As(err, &why) {
		return room.showHanded(w, r, id, "Not taken back: "+why.Text+".")
	}
	if err != nil {
		return err
	}
	q, err := room.store.Quote(r.Context(), id)
	if err != nil {
		return err
	}
	if !q.HandedOver.IsZero() {
		return room.showHanded(w, r, id, "Not taken back: it was handed over once more since.")
	}
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	return room.Done(w, r, kit.QuoteAt(id), backWords(c, back))
}

// showHanded shows a quote again with what stands against what was asked.
func (room *Room) showHanded(w http.ResponseWriter, r *http.Request, id, alert string) error {
	q, err := room.store.Quote(r.Context(), id)
	if err != nil {
		return err
	}
	until, err := room.usualHold(r.Context())
	if err != nil {
		return err
	}
	view, err := room.quotePage(r, &q, until)
	if err != nil {
		return err
	}
	view.Alert = alert
	return kit.Render(r.Context(), w, http.StatusConflict, QuotePage(view))
}

// within writes a status as it stands within a sentence.
func within(status string) string { return strings.ToLower(status[:1]) + status[1:] }

// backWords says what came back with a quote.
func backWords(c *catalog.Catalogue, back store.Back) string {
	said := []string{"The quote is open again."}
	for _, b := range back.Bikes {
		switch {
		case !b.Until.IsZero():
			said = append(said, fmt.Sprintf("%s is held for it until the end of %s.", b.Tag, english.Date(b.Until)))
		case b.Status == quote.Available:
			said = append(said, b.Tag+" is available.")
		default:
			said = append(said, b.Tag+" is "+within(talk.UnitStatus(&catalog.Unit{Status: b.Status}))+".")
		}
	}
	var goods []string
	for _, code := range slices.Sorted(maps.Keys(back.Goods)) {
		goods = append(goods, fmt.Sprintf("%d × %s", back.Goods[code], strings.ToLower(c.AddOn(code).Name)))
	}
	if len(goods) > 0 {
		said = append(said, "Counted back into the store room: "+english.List(goods)+".")
	}
	return strings.Join(said, " ")
}
