package floor

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

const (
	mostStocktakes = 12   // of the last ones that are listed
	mostRides      = 1000 // to come, among which those on bikes that are not seen are looked for
)

func stocktakeAt(id int64) string { return fmt.Sprintf("%s/%d", kit.StocktakesAddress, id) }

// stocktakes lists those that were finished, and begins one or goes on with it.
func (room *Room) stocktakes(w http.ResponseWriter, r *http.Request) error {
	list, err := room.store.Stocktakes(r.Context(), mostStocktakes)
	if err != nil {
		return err
	}
	c, retired, err := room.all(r.Context())
	if err != nil {
		return err
	}
	view := Stocktakes{Shell: room.shell(r, "Stocktake"), Action: kit.StocktakesAddress}
	view.Expects = say.Counted(len((&store.Stocktake{}).Missing(c, retired)), "bike is to be in the shop", "bikes are to be in the shop")
	for i := range list {
		step := kit.Step{Label: "Begun " + room.when(list[i].Begun) + " by " + list[i].BegunBy, Href: stocktakeAt(list[i].ID)}
		if list[i].GoesOn() {
			view.GoesOn = &step
			continue
		}
		step.Done = "finished " + room.when(list[i].Finished)
		view.List = append(view.List, step)
	}
	return kit.Render(r.Context(), w, http.StatusOK, StocktakesPage(view))
}

// all returns the catalogue as everybody sees it today, and what of it is
// retired.
func (room *Room) all(ctx context.Context) (*catalog.Catalogue, map[store.Thing]bool, error) {
	c, _, err := room.standing(ctx)
	if err != nil {
		return nil, nil, err
	}
	retired, err := room.store.Retired(ctx)
	return c, retired, err
}

func (room *Room) when(t time.Time) string {
	return t.In(room.Now().Location()).Format("2 January 2006, 15:04")
}

func (room *Room) begin(w http.ResponseWriter, r *http.Request) error {
	one, err := room.store.BeginStocktake(r.Context(), kit.Who(r).Name, room.Now())
	if err != nil {
		return err
	}
	http.Redirect(w, r, stocktakeAt(one.ID), http.StatusSeeOther)
	return nil
}

// number reads which stocktake a request is about.
func number(r *http.Request) (int64, error) {
	id, err := strconv.ParseInt(chi.URLParam(r, "id"), 10, 64)
	if err != nil {
		return 0, kit.ErrNotFound
	}
	return id, nil
}

func (room *Room) stocktake(w http.ResponseWriter, r *http.Request) error {
	id, err := number(r)
	if err != nil {
		return err
	}
	one, err := room.store.Stocktake(r.Context(), id)
	if err != nil {
		return err
	}
	c, retired, err := room.all(r.Context())
	if err != nil {
		return err
	}
	view := room.stocktakeView(&one, c, retired)
	if err := room.forWhom(r.Context(), view.Missing); err != nil {
		return err
	}
	view.Shell = room.shell(r, "Stocktake")
	view.Said = room.Sessions.PopString(r.Context(), kit.SaidKey)
	return kit.Render(r.Context(), w, http.StatusOK, StocktakePage(view))
}

// keepScan keeps one scan, and shows the field again.
func (room *Room) keepScan(w http.ResponseWriter, r *http.Request) error {
	id, posted, err := postedTo(r)
	if err != nil {
		return err
	}
	tag, again, err := room.store.Scan(r.Context(), id, posted, kit.Who(r).Name, room.Now())
	if store.CodeOf(err) == store.Conflict {
		return room.Done(w, r, stocktakeAt(id), "Not kept: this stocktake is finished, or full.")
	}
	if err != nil {
		return err
	}
	c, err := room.store.Catalogue(r.Context())
	if err != nil {
		return err
	}
	return room.Done(w, r, stocktakeAt(id), scanned(c, tag, again))
}

// postedTo reads which stocktake a form is about, and the tag in it.
func postedTo(r *http.Request) (id int64, tag string, err error) {
	if id, err = number(r); err != nil {
		return 0, "", err
	}
	posted, err := kit.Posted(r)
	return id, posted.Get(tagField), err
}

// scanned says what came of a scan.
func scanned(c *catalog.Catalogue, tag string, again bool) string {
	at := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })
	switch {
	case tag == "":
		return "Nothing was read. Scan once more."
	case at < 0:
		return noBike(tag) + " It is kept among the unknown tags."
	case again:
		return tag + ", " + c.Frame(c.Units[at].Frame).Called() + ": seen already."
	}
	return tag + ", " + c.Frame(c.Units[at].Frame).Called() + ": seen."
}

func (room *Room) unscan(w http.ResponseWriter, r *http.Request) error {
	id, tag, err := postedTo(r)
	if err != nil {
		return err
	}
	if err := room.store.Unscan(r.Context(), id, tag); err != nil {
		return err
	}
	return room.Done(w, r, stocktakeAt(id), tag+" is taken back.")
}

func (room *Room) finish(w http.ResponseWriter, r *http.Request) error {
	id, err := number(r)
	if err != nil {
		return err
	}
	if err := room.store.FinishStocktake(r.Context(), id, room.Author(r, store.ByEdit)); err != nil {
		return err
	}
	http.Redirect(w, r, stocktakeAt(id), http.StatusSeeOther)
	return nil
}

// stocktakeView draws what was seen and what was not. While it goes on, what is
// missing is worked out; once it is finished, that is kept with it.
func (room *Room) stocktakeView(one *store.Stocktake, c *catalog.Catalogue, retired map[store.Thing]bool) Stocktake {
	view := Stocktake{Action: stocktakeAt(one.ID), Begun: "Begun " + room.when(one.Begun) + " by " + one.BegunBy}
	missing := one.Missing(c, retired)
	if !one.GoesOn() {
		view.Ended, missing = "Finished "+room.when(one.Finished)+" by "+one.FinishedBy, nil
	}
	for _, t := range one.Tags {
		row := room.stocktakeRow(c, t.Tag)
		if t.Seen.IsZero() {
			missing = append(missing, t.Tag)
			continue
		}
		if one.GoesOn() {
			row.TakeBack = view.Action + "/unscan"
		}
		row.When = t.Seen.In(room.Now().Location()).Format("15:04") + ", " + t.Who
		at := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == t.Tag })
		switch {
		case !t.Known:
			view.Unknown = append(view.Unknown, row)
		case one.GoesOn() && at >= 0 && (!c.Units[at].Here() || retired[store.Thing{List: "units", Code: t.Tag}]):
			view.Strange = append(view.Strange, row)
		default:
			view.Seen = append(view.Seen, row)
		}
	}
	for _, tag := range missing {
		view.Missing = append(view.Missing, room.stocktakeRow(c, tag))
	}
	view.Summary = fmt.Sprintf("%d seen, %d not seen", len(view.Seen)+len(view.Strange), len(missing))
	if one.GoesOn() {
		view.Summary += " yet"
	}
	return view
}

// forWhom says of bikes that were not seen to whom they are promised: until when
// each is held, and who comes to ride it.
func (room *Room) forWhom(ctx context.Context, rows []StocktakeRow) error {
	held, err := room.store.Reservations(ctx)
	if err != nil {
		return err
	}
	rides, err := room.store.ComingRides(ctx, "", room.Now(), mostRides)
	if err != nil {
		return err
	}
	for i := range rows {
		row := &rows[i]
		for _, one := range held {
			if one.Unit == row.Tag && one.Holds(room.Today()) {
				row.Promised = append(row.Promised, kit.Step{Label: fmt.Sprintf("Held for %s until the end of %s", one.QuoteName, english.Date(one.Until)), Href: kit.QuoteAt(one.Quote)})
			}
		}
		for _, one := range rides {
			if one.Unit == row.Tag {
				row.Promised = append(row.Promised, kit.Step{Label: "Test ride on " + room.when(one.Starts), Href: kit.RideAt(one.ID)})
			}
		}
	}
	return nil
}

// stocktakeRow says which bike has a tag, and where it is where that is not
// simply in the shop.
func (room *Room) stocktakeRow(c *catalog.Catalogue, tag string) StocktakeRow {
	row := StocktakeRow{Tag: tag}
	at := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })
	if at < 0 {
		return row
	}
	u := &c.Units[at]
	row.Href, row.Name = kit.UnitAt(tag)+"?"+aloneField+"=yes", c.Frame(u.Frame).Called()
	if u.Colour != "" {
		row.Name += ", " + english.Word(u.Colour)
	}
	if u.Status != quote.Available {
		row.Status = talk.UnitStatus(u)
	}
	return row
}
