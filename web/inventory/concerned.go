package inventory

import (
	"cmp"
	"context"
	"net/http"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/web/kit"
)

// shownConcerned is how many answers the page about them lists.
const shownConcerned = 100

// askFirst returns what has to be looked at before a change is saved: where it
// may concern somebody and the page that was sent did not show this very
// change, or where the manager asks. It returns nil where there is nothing to
// look at.
func (room *Room) askFirst(r *http.Request, before, after *catalog.Catalogue) (*kit.Asking, error) {
	after = catalog.Carry(before, after)
	if after.CheckAfter(before, room.Today()) != nil {
		return nil, nil // it is not saved anyway
	}
	changes, err := catalog.Edits(before, after)
	if err != nil {
		return nil, err
	}
	reach, err := room.watch.Reach(r.Context(), before, after)
	if err != nil {
		return nil, err
	}
	return kit.ToAsk(r, kit.AskingView(fieldChanges(changes, before, after), reach, kit.Digest(changes)), reach), nil
}

// fieldChanges says what changes in words, what no answer follows from left out.
func fieldChanges(changes []catalog.Change, before, after *catalog.Catalogue) []kit.FieldChange {
	names := namesOf(before, after)
	var list []kit.FieldChange
	for _, c := range changes {
		if c.OnlyWords() || c.Kind() == catalog.Moved {
			continue
		}
		thing := names[c.List+" "+c.Code]
		if f := cmp.Or(after.Frame(c.Code), before.Frame(c.Code)); c.List == "frames" && f != nil {
			thing = f.Called() // of one name there are several
		}
		if u := cmp.Or(after.Unit(c.Code), before.Unit(c.Code)); c.List == "units" && u != nil {
			thing = u.Tag + ", " + nameOfFrame(after, u.Frame)
		}
		list = append(list, kit.FieldChange{Thing: thing, Field: historyField(c),
			Old: figureIn(c, c.Old, before.Shop.Currency), New: figureIn(c, c.New, after.Shop.Currency)})
	}
	return list
}

// asked is a page that asks before something is done.
type asked struct {
	title, button, action, back string
	also                        []kit.Hidden
}

func (room *Room) showAsked(w http.ResponseWriter, r *http.Request, a *kit.Asking, of asked) error {
	return kit.Render(r.Context(), w, http.StatusOK, AskedPage(Asked{Shell: room.inventoryShell(r, of.title), Asking: *a,
		Button: of.button, Action: of.action, Back: of.back, Also: of.also}))
}

// checking says how far judging is.
func (room *Room) checking(ctx context.Context) (kit.Checking, error) {
	p, err := room.store.Progress(ctx)
	return kit.CheckingView(p), err
}

// concerned lists whom changes concern that nobody has seen yet, the worst
// first.
func (room *Room) concerned(w http.ResponseWriter, r *http.Request) error {
	view := Concerned{Shell: room.inventoryShell(r, "Whom it concerns"), Tabs: tabs("Concerned")}
	var err error
	if view.Checking, err = room.checking(r.Context()); err != nil {
		return err
	}
	marks, err := room.store.Marks(r.Context(), "")
	if err != nil {
		return err
	}
	slices.SortStableFunc(marks, func(a, b store.Mark) int { return worse(b) - worse(a) })
	view.More = max(0, len(marks)-shownConcerned)
	names := map[string]string{}
	for _, m := range marks[:len(marks)-view.More] {
		if _, known := names[m.Consultation]; !known {
			c, err := room.store.Consultation(r.Context(), m.Consultation)
			if store.CodeOf(err) != store.NotFound && err != nil {
				return err
			}
			names[m.Consultation] = whom(c)
		}
		view.Rows = append(view.Rows, ConcernedRow{Href: addressOf(m), Whom: names[m.Consultation], Text: kit.MarkWords(m, room.Now().Location()), Worse: m.Worse})
	}
	return kit.Render(r.Context(), w, http.StatusOK, ConcernedPage(view))
}

func worse(m store.Mark) int {
	if m.Worse {
		return 1
	}
	return 0
}

// whom names a customer.
func whom(c store.Consultation) string {
	if c.Customer == "" {
		return "A customer without a name"
	}
	return c.Customer
}

// addressOf is where a mark is to be seen.
func addressOf(m store.Mark) string {
	switch {
	case m.Quote != "":
		return kit.QuoteAt(m.Quote)
	case m.Ride != "":
		return kit.RideAt(m.Ride)
	}
	return kit.ConsultationAt(m.Consultation, "/frames")
}
