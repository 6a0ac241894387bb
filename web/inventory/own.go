package inventory

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/figures"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

const (
	ownAddress = kit.InventoryAddress + "/own"
	ownCSV     = ownAddress + "/counts"
	stillAt    = ownAddress + "?still=yes"
	// lookAgain makes a browser look again in some seconds, and whoever goes
	// by keyboard go on from where the progress stands. Of two addresses that
	// differ only behind the # a browser does not load the second, so each look
	// has its number.
	lookAgain = "4; url=" + ownAddress + "?look=%d#working"

	// mostSurveyed bounds how many consultations are judged: the last ones.
	mostSurveyed = 1000
	// A page waits so long for so many customers who are not judged yet.
	waitFor  = 20
	mostWait = 5 * time.Second
	// nobodyLooks is after how long without a look the work stops.
	nobodyLooks = 45 * time.Second
)

// owned is all that the page and its table say.
type owned struct {
	surveying
	shop        *advice.Shop
	days, least int
	forgotten   int  // after so many days a consultation is erased
	cut         bool // there are more consultations than are judged
}

// survey surveys the consultations of the last days.
func (room *Room) survey(ctx context.Context) (*owned, error) {
	changed, err := room.store.Settings(ctx)
	if err != nil {
		return nil, err
	}
	var o owned
	o.days, o.least = figures.Own(changed)
	o.forgotten, _ = figures.Retention(changed)
	if o.shop, err = room.advice.On(ctx, room.Today()); err != nil {
		return nil, err
	}
	now := room.Now()
	list, err := room.store.FindConsultations(ctx, store.Sought{From: now.AddDate(0, 0, -o.days), Until: now.AddDate(0, 0, 1)}, mostSurveyed+1)
	if err != nil {
		return nil, err
	}
	if o.cut = len(list) > mostSurveyed; o.cut {
		list = list[:mostSurveyed]
	}
	var saved [][]byte
	for i := range list {
		saved = append(saved, list[i].Answers)
	}
	o.surveying, err = room.surveyor.look(ctx, o.shop, saved, room.Today())
	return &o, err
}

// own shows which bikes the shop should own, or how far the customers are judged
// from whom that follows. It looks again by itself, unless somebody wants it to
// stand still.
func (room *Room) own(w http.ResponseWriter, r *http.Request) error {
	o, err := room.survey(r.Context())
	if err != nil {
		return err
	}
	view := Own{Shell: room.inventoryShell(r, "What to own"), Tabs: tabs("What to own"), CSV: ownCSV}
	if o.done != nil {
		o.draw(&view)
		return kit.Render(r.Context(), w, http.StatusOK, OwnPage(view))
	}
	view.Again, view.Pause = ownAddress, stillAt
	if r.URL.Query().Get("still") == "yes" {
		view.Again, view.Pause = stillAt, ""
	} else {
		looks, _ := strconv.Atoi(r.URL.Query().Get("look")) // none was the first
		w.Header().Set("Refresh", fmt.Sprintf(lookAgain, looks+1))
	}
	o.working(&view)
	return kit.Render(r.Context(), w, http.StatusOK, OwnPage(view))
}

// ownCounts hands out all counts as a table.
func (room *Room) ownCounts(w http.ResponseWriter, r *http.Request) error {
	o, err := room.survey(r.Context())
	if err != nil {
		return err
	}
	if o.done == nil || o.tooFew() {
		return kit.Elsewhere(ownAddress)
	}
	var table bytes.Buffer
	if err := o.writeCSV(&table); err != nil {
		return err
	}
	room.Attach(w, "text/csv; charset=utf-8", "what-to-own.csv", table.Bytes())
	return nil
}
