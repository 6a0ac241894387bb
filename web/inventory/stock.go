package inventory

import (
	"fmt"
	"net/http"
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/web/kit"
	"kinwain/web/wares"
)

// Promised says what of a counted add-on is promised to whom.
type Promised struct {
	Sum    string // empty where nobody counts it
	Quotes []kit.Step
}

// besides are the ways to do something with several things of a list.
func besides(h shelf) []kit.Step {
	if h.list != wares.UnitList {
		return nil
	}
	return []kit.Step{{Label: "Delivery", Href: deliveryAddress}, {Label: "Labels", Href: kit.LabelsAddress}, {Label: "Stocktake", Href: kit.StocktakesAddress}}
}

// addStock adds to the rows of a list what there is of each thing: of add-ons
// how many are counted, promised and free; of units their own price and arrival.
func (room *Room) addStock(r *http.Request, c *catalog.Catalogue, h shelf, view *Wares, rows []WareRow) error {
	switch h.list {
	case wares.AddOnList:
		promises, err := room.store.Promises(r.Context(), room.Today())
		if err != nil {
			return err
		}
		promised := quote.Promised(c, promises, "")
		view.Columns = append(view.Columns, Column{Label: "Stock", Field: "stock"}, Column{Label: "Promised", Minor: true}, Column{Label: "Free", Minor: true})
		for i := range rows {
			a := &c.AddOns[i]
			stock, free := "–", "–" // nobody counts it
			if a.Stock != nil {
				stock, free = strconv.Itoa(*a.Stock), freeWords(*a.Stock-promised[a.Code])
			}
			rows[i].Cells = append(rows[i].Cells, stock, strconv.Itoa(promised[a.Code]), free)
			rows[i].Text += " " + a.Supplier + " " + a.Article
		}
	case wares.UnitList:
		view.Columns = append(view.Columns, Column{Label: "Arrival", Text: true, Minor: true}, Column{Label: "Own price", Field: "price_cents", Minor: true})
		for i := range rows {
			u := &c.Units[i]
			arrival, price := "", ""
			if !u.Arrival.IsZero() {
				arrival = u.Arrival.String()
			}
			if u.Price > 0 {
				price = u.Price.Show(c.Shop.Currency)
			}
			rows[i].Cells = append(rows[i].Cells, arrival, price)
			rows[i].Text += " " + u.Serial + " " + arrival
		}
	}
	return nil
}

// freeWords says how many are free, or how many there are too few.
func freeWords(n int) string {
	if n < 0 {
		return fmt.Sprintf("%d too few", -n)
	}
	return strconv.Itoa(n)
}

// promisedView says of an add-on how many there are and which quotes take some.
func (room *Room) promisedView(r *http.Request, e *editing, view *Ware) error {
	a := e.current.AddOn(e.code)
	promises, err := room.store.Promises(r.Context(), room.Today())
	if err != nil || a == nil {
		return err
	}
	n := quote.Promised(e.current, promises, "")[e.code]
	switch {
	case a.Stock != nil:
		view.Promises.Sum = fmt.Sprintf("%d counted, %d promised, free: %s.", *a.Stock, n, freeWords(*a.Stock-n))
	case n > 0:
		view.Promises.Sum = fmt.Sprintf("Nobody counts it; %d promised.", n)
	}
	for _, p := range promises {
		if takes := p.AddOns[e.code]; takes > 0 {
			how := "open"
			if p.Firm {
				how = "accepted, or a bike is held for it"
			}
			view.Promises.Quotes = append(view.Promises.Quotes, kit.Step{Label: p.QuoteName, Href: kit.QuoteAt(p.Quote), Done: fmt.Sprintf("%d, %s", takes, how)})
		}
	}
	return nil
}

// usualUnit is the form of a new unit: one to sell, there, with what its frame
// comes with, tagged after the last one.
func usualUnit(c *catalog.Catalogue, frame string) wares.Typed {
	typed := wares.FromValues(nil)
	typed.Set("kind", "stock")
	typed.Set("status", quote.Available)
	typed.Set("tag", c.NextTag("stock"))
	if f := c.Frame(frame); f != nil {
		typed.Set("frame", f.Code)
		typed.Choose("fitted", f.ComesWith)
	}
	return typed
}
