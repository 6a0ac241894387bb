package floor

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// english says what staff read.
var english = say.New(say.English, measure.Metric)

// The fields of an address of the room.
const (
	tagField   = "tag"
	aloneField = "alone" // the customer in front is forgotten
)

// scan shows the field, or goes on to the bike that was read.
func (room *Room) scan(w http.ResponseWriter, r *http.Request) error {
	if r.URL.Query().Has(aloneField) {
		room.NobodyInFront(r)
	}
	status, fault := http.StatusOK, ""
	if read := strings.TrimSpace(r.URL.Query().Get(tagField)); read != "" {
		c, err := room.store.Catalogue(r.Context())
		if err != nil {
			return err
		}
		u, tag := c.Scanned(read)
		if u != nil {
			http.Redirect(w, r, kit.UnitAt(u.Tag), http.StatusSeeOther)
			return nil
		}
		status, fault = http.StatusNotFound, noBike(tag)
	}
	return room.showScan(w, r, status, fault)
}

// noBike says that no bike has a tag.
func noBike(tag string) string {
	if short := []rune(tag); len(short) > 60 {
		tag = string(short[:60]) + "…"
	}
	return fmt.Sprintf("No bike has the tag “%s”.", tag)
}

func (room *Room) showScan(w http.ResponseWriter, r *http.Request, status int, fault string) error {
	_, field, err := room.field(r)
	if err != nil {
		return err
	}
	field.Fault = fault
	return kit.Render(r.Context(), w, status, ScanPage(ScanPageView{room.shell(r, "Scan a bike"), field}))
}

// field returns the customer in front, nil where there is none, and the field
// that says so.
func (room *Room) field(r *http.Request) (*talk.Consultation, Scan, error) {
	field := Scan{Action: kit.UnitsAddress, Nobody: kit.UnitsAddress + "?" + aloneField + "=yes"}
	going, err := room.goesOn(r.Context())
	if err != nil {
		return nil, field, err
	}
	if going != nil {
		field.Working = stocktakeAt(going.ID)
	}
	id := room.InFront(r)
	if id == "" {
		return nil, field, nil
	}
	saved, err := room.store.Consultation(r.Context(), id)
	if store.CodeOf(err) == store.NotFound {
		return nil, field, nil
	}
	if err != nil {
		return nil, field, err
	}
	f, err := form.Decode(saved.Answers)
	if err != nil {
		return nil, field, err
	}
	c, err := room.Consult(r, saved, f)
	if err != nil {
		return nil, field, err
	}
	field.Front = &Front{Name: saved.Customer, Href: c.Address("/frames")}
	if field.Front.Name == "" {
		field.Front.Name = "a customer without a name"
	}
	return c, field, nil
}

// goesOn returns the stocktake that goes on, nil where none does.
func (room *Room) goesOn(ctx context.Context) (*store.Stocktake, error) {
	last, err := room.store.Stocktakes(ctx, 1)
	if err != nil || len(last) == 0 || !last[0].GoesOn() {
		return nil, err
	}
	return &last[0], nil
}

// bike opens the page of the frame for the customer in front, where there is
// one who can be judged; else it says which bike this is.
func (room *Room) bike(w http.ResponseWriter, r *http.Request) error {
	alone := r.URL.Query().Has(aloneField)
	if alone {
		room.NobodyInFront(r)
	}
	all, held, err := room.standing(r.Context())
	if err != nil {
		return err
	}
	u, tag := all.Scanned(param(r, "code"))
	if u == nil {
		return room.showScan(w, r, http.StatusNotFound, noBike(tag))
	}
	c, field, err := room.field(r)
	if err != nil {
		return err
	}
	if !alone && c != nil && c.Profile != nil && c.Catalogue.Frame(u.Frame) != nil {
		http.Redirect(w, r, c.Address("/frames/"+u.Frame+"?"+url.Values{"unit": {u.Tag}}.Encode()), http.StatusSeeOther)
		return nil
	}
	view, err := room.bikeView(r, all, u, held)
	if err != nil {
		return err
	}
	view.Scan = field
	return kit.Render(r.Context(), w, http.StatusOK, BikePage(view))
}

func (room *Room) bikeView(r *http.Request, c *catalog.Catalogue, u *catalog.Unit, held []quote.Reservation) (Bike, error) {
	f := c.Frame(u.Frame)
	view := Bike{Tag: u.Tag, Name: f.Called(), Status: talk.UnitStatus(u), Rows: bikeRows(c, f, u), Once: kit.NewOnce(), Label: labelsOf(u.Tag)}
	view.Shell = room.shell(r, u.Tag+", "+f.Called())
	if view.Manager {
		view.Edit = kit.FieldAt("units", u.Tag, "s-tag")
	}
	if at := slices.IndexFunc(held, func(one quote.Reservation) bool { return one.Unit == u.Tag && one.Holds(room.Today()) }); at >= 0 {
		view.Held, view.HeldAt = fmt.Sprintf("Held for %s until the end of %s", held[at].QuoteName, english.Date(held[at].Until)), kit.QuoteAt(held[at].Quote)
	}
	retired, err := room.store.Retired(r.Context())
	if err != nil {
		return view, err
	}
	view.Retired = retired[store.Thing{List: "units", Code: u.Tag}] || retired[store.Thing{List: "frames", Code: u.Frame}]
	going, err := room.goesOn(r.Context())
	if err != nil || going == nil {
		return view, err
	}
	one, err := room.store.Stocktake(r.Context(), going.ID)
	if !slices.ContainsFunc(one.Tags, func(t store.StocktakeTag) bool { return t.Tag == u.Tag }) {
		view.Seen = stocktakeAt(going.ID) + "/scan"
	}
	return view, err
}

// bikeRows lists what there is to know of a bike, without a customer.
func bikeRows(c *catalog.Catalogue, f *catalog.Frame, u *catalog.Unit) []kit.Amount {
	weight, weighed := match.UnitWeight(c, u)
	words := weight.Show(measure.Metric, measure.Up)
	if !weighed {
		words += ", by the makers’ figures"
	}
	price := english.Money(f.PriceOf(u), c.Shop.Currency)
	if u.Price > 0 {
		price += " for this very bike; the frame costs " + english.Money(f.Price, c.Shop.Currency)
	}
	rows := []kit.Amount{{Label: "Which one", Amount: talk.UnitDetail(english, u)}, {Label: "Gross rating", Amount: f.GrossRating.Show(measure.Metric, measure.Down)},
		{Label: "Weight", Amount: words}, {Label: "Riders", Amount: f.RiderMin.Show(measure.Metric, measure.Up) + " to " + f.RiderMax.Show(measure.Metric, measure.Down)},
		{Label: "Price", Amount: price}, {Label: "On it", Amount: onIt(c, u)}}
	if u.Serial != "" {
		rows = append(rows, kit.Amount{Label: "Serial number", Amount: u.Serial})
	}
	if !u.Arrival.IsZero() && u.Status != catalog.Ordered {
		rows = append(rows, kit.Amount{Label: "Came", Amount: english.Date(u.Arrival)})
	}
	return rows
}

// onIt names what is fitted to a bike.
func onIt(c *catalog.Catalogue, u *catalog.Unit) string {
	var names []string
	for _, code := range match.OnBike(c, u) {
		if a := c.AddOn(code); a != nil {
			names = append(names, a.Name)
		}
	}
	if len(names) == 0 {
		return "Nothing"
	}
	return english.List(names)
}
