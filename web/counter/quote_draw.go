package counter

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// dayWords writes a day as people say it.
func dayWords(d measure.Date) string { return fmt.Sprintf("%d %v %d", d.Day, d.Month, d.Year) }

// lineLabel returns how the lines of a quote are called.
func lineLabel(q *quote.Quote) func(quote.Line) string {
	return func(l quote.Line) string {
		name := strings.ToLower(l.Name)
		switch l.Kind {
		case quote.Fitting:
			return fmt.Sprintf("Fitting: %s, %d min", name, l.Minutes)
		case quote.Extra:
			if l.Minutes < 0 {
				return fmt.Sprintf("Less on the %s: %s, %d min", q.FrameName, name, -l.Minutes)
			}
			return fmt.Sprintf("Extra on the %s: %s, %d min", q.FrameName, name, l.Minutes)
		case quote.TakingOff:
			return fmt.Sprintf("Taking off: %s, %d min", name, l.Minutes)
		}
		return l.Name
	}
}

// billView draws the lines and sums of a quote.
func billView(q *quote.Quote) Bill {
	money := func(m measure.Money) string { return m.Show(q.Currency) }
	label := lineLabel(q)
	b := Bill{Total: money(q.Total)}
	for _, l := range q.Lines {
		b.Lines = append(b.Lines, BillLine{
			Label: label(l), Note: l.Note, Count: fmt.Sprint(l.Quantity), Each: money(l.Each), Amount: money(l.Amount), Labour: l.Minutes != 0,
		})
	}
	if q.TaxIncluded {
		b.Sums = []kit.Amount{
			{Label: "Without tax", Amount: money(q.Net)},
			{Label: fmt.Sprintf("Tax of %v, included", q.TaxRate), Amount: money(q.Tax)},
		}
	} else {
		b.Sums = []kit.Amount{
			{Label: "Subtotal", Amount: money(q.Subtotal)},
			{Label: fmt.Sprintf("Tax of %v, added", q.TaxRate), Amount: money(q.Tax)},
		}
	}
	b.Notes = []string{fmt.Sprintf("Work is charged at %s an hour. Each piece of work is rounded half up to a cent; what is extra on this frame is the whole work less the usual. "+
		"Tax is worked out once, on all of it; it and the deposit are rounded half up.", money(q.LabourPerHour))}
	return b
}

func depositText(q *quote.Quote) string {
	if q.Deposit == 0 {
		return "No deposit is due on signing."
	}
	return fmt.Sprintf("On signing, %v is due as a deposit: %s.", measure.Percentage(q.DepositShare), q.Deposit.Show(q.Currency))
}

func draftView(o *offered, earlier []quote.Quote) QuoteDraft {
	q := &o.draft
	frame := o.Consultation.Address("/frames/" + q.Frame)
	view := QuoteDraft{
		Name: q.FrameName, Kind: q.FrameKind, Back: frame, Action: frame + "/quote", Choice: o.Hidden(),
		Customer: kit.Field{Name: customerField, Label: "For whom", Hint: "As it shall stand on paper; may stay empty.", Value: q.Customer},
		Bill:     billView(q), Deposit: depositText(q), Valid: fmt.Sprintf("The quote would stand until %s.", dayWords(q.ValidUntil)),
		Relaxed: (talk.View(o.Consultation, o.Match)).RelaxedWords(), Warnings: q.Warnings, Passengers: q.Passengers,
	}
	if o.ByHand {
		view.Back += "/by-hand?" + o.Query().Encode()
	}
	for i := range earlier {
		e := &earlier[i]
		view.Earlier = append(view.Earlier, kit.Step{Label: fmt.Sprintf("%s: %s, %s", e.Name(), e.FrameName, e.Total.Show(e.Currency)), Href: kit.QuoteAt(e.ID)})
	}
	return view
}

// longBill is how many lines keep to one page in print of the usual size,
// beside warnings and cautions.
const longBill = 22

func quoteView(q *quote.Quote, today measure.Date, zone *time.Location) Quote {
	view := Quote{
		Number: q.Name(), Seller: q.Shop, Customer: q.Customer, Name: q.FrameName, Kind: q.FrameKind,
		Back: kit.ConsultationAt(q.Consultation, "/frames/"+q.Frame), CSV: kit.QuoteAt(q.ID) + ".csv",
		Made:    fmt.Sprintf("Made on %s.", dayWords(measure.DateOf(q.Created.In(zone)))),
		Valid:   fmt.Sprintf("Stands until %s.", dayWords(q.ValidUntil)),
		Expired: !q.Stands(today), Long: len(q.Lines) > longBill, Bill: billView(q), Deposit: depositText(q), Warnings: q.Warnings, Passengers: q.Passengers,
		Accept: kit.QuoteAt(q.ID) + "/accepted",
	}
	if !q.Accepted.IsZero() {
		view.Accepted = dayWords(measure.DateOf(q.Accepted.In(zone)))
	}
	return view
}

var statusWords = map[string]string{
	quote.Available: "In the shop", quote.OnTestRide: "Out on a test ride", quote.Reserved: "Reserved", "sold": "Sold",
}

// holdView lists the bikes of the quoted frame. The units of the catalogue
// have the status of today.
func holdView(q *quote.Quote, c *catalog.Catalogue, held []quote.Reservation, today measure.Date) Hold {
	h := Hold{Action: kit.QuoteAt(q.ID) + "/hold", Until: kit.Field{Name: untilField, Label: "Hold it until the end of", Needed: true}}
	if !q.Stands(today) {
		h.Closed = "This quote has run out, so no bike can be held for it."
	}
	for i := range c.Units {
		u := &c.Units[i]
		if u.Frame != q.Frame || u.Status == "sold" {
			continue
		}
		unit := HoldUnit{Tag: u.Tag, Detail: unitDetail(u), Fitted: fittedText(c, u.Fitted), Status: standingText(u, held, today, q.Consultation), Free: u.Status == quote.Available}
		if r := holding(held, u.Tag, today); r != nil && r.Quote == q.ID {
			unit.Ours = true
		} else if r != nil {
			unit.Quote = kit.QuoteAt(r.Quote)
		}
		h.Units = append(h.Units, unit)
	}
	return h
}

// holding returns the reservation that holds a unit on a day, or nil.
func holding(held []quote.Reservation, tag string, today measure.Date) *quote.Reservation {
	at := slices.IndexFunc(held, func(r quote.Reservation) bool { return r.Unit == tag && r.Holds(today) })
	if at < 0 {
		return nil
	}
	return &held[at]
}

// standingText says where a unit is, and for whom it is held until when, to
// the staff of a consultation.
func standingText(u *catalog.Unit, held []quote.Reservation, today measure.Date, consultation string) string {
	text := statusWords[u.Status]
	r := holding(held, u.Tag, today)
	if r == nil {
		return text
	}
	whom := r.QuoteName
	if r.Consultation == consultation {
		whom += ", this customer’s"
	}
	reserved := fmt.Sprintf("reserved until %s for %s", dayWords(r.Until), whom)
	if u.Status == quote.Reserved {
		return say.Capital(reserved)
	}
	return text + "; " + reserved
}

// unitDetail says in a few words which bike it is.
func unitDetail(u *catalog.Unit) string {
	words := []string{u.Kind}
	if u.Colour != "" {
		words = append(words, u.Colour)
	}
	if u.Odometer > 0 {
		words = append(words, fmt.Sprintf("%d km ridden", u.Odometer))
	}
	return strings.Join(words, ", ")
}

// fittedText names add-ons on a bike.
func fittedText(c *catalog.Catalogue, codes []string) string {
	if len(codes) == 0 {
		return "As it comes"
	}
	v := &talk.Viewer{Consultation: &talk.Consultation{Shop: &advice.Shop{Catalogue: c}, Speaker: say.New(say.English, measure.Metric)}}
	return "With " + v.Speaker.List(names(v, codes))
}
