package counter

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// english says what staff read.
var english = say.New(say.English, measure.Metric)

// speakerOf speaks as a quote was written.
func speakerOf(q *quote.Quote) *say.Speaker {
	if l, known := say.Known(q.Language); known {
		return say.New(l, measure.Metric)
	}
	return english
}

// lineLabel returns how the lines of a quote are called.
func lineLabel(q *quote.Quote, s *say.Speaker) func(quote.Line) string {
	return func(l quote.Line) string {
		name := s.Within(l.Name)
		switch l.Kind {
		case quote.Fitting:
			return s.Say("Fitting: %v, %v min", name, l.Minutes)
		case quote.Extra:
			if l.Minutes < 0 {
				return s.Say("Less on the %v: %v, %v min", q.FrameName, name, -l.Minutes)
			}
			return s.Say("Extra on the %v: %v, %v min", q.FrameName, name, l.Minutes)
		case quote.TakingOff:
			return s.Say("Taking off: %v, %v min", name, l.Minutes)
		}
		return l.Name
	}
}

// billView draws the lines and sums of a quote.
func billView(q *quote.Quote, s *say.Speaker) Bill {
	money := func(m measure.Money) string { return s.Money(m, q.Currency) }
	label := lineLabel(q, s)
	b := Bill{Total: money(q.Total)}
	for _, l := range q.Lines {
		b.Lines = append(b.Lines, BillLine{
			Label: label(l), Note: l.Note, Count: fmt.Sprint(l.Quantity), Each: money(l.Each), Amount: money(l.Amount), Labour: l.Minutes != 0,
		})
	}
	if q.TaxIncluded {
		b.Sums = []kit.Amount{
			{Label: s.Say("Without tax"), Amount: money(q.Net)},
			{Label: s.Say("Tax of %v, included", q.TaxRate), Amount: money(q.Tax)},
		}
	} else {
		b.Sums = []kit.Amount{
			{Label: s.Say("Subtotal"), Amount: money(q.Subtotal)},
			{Label: s.Say("Tax of %v, added", q.TaxRate), Amount: money(q.Tax)},
		}
	}
	b.Notes = []string{s.Say("Work is charged at %v an hour. Each piece of work is rounded half up to a cent; what is extra on this frame is the whole work less the usual. Tax is worked out once, on all of it; it and the deposit are rounded half up.", money(q.LabourPerHour))}
	return b
}

func depositText(q *quote.Quote, s *say.Speaker) string {
	if q.Deposit == 0 {
		return s.Say("No deposit is due on signing.")
	}
	return s.Say("On signing, %v is due as a deposit: %v.", measure.Percentage(q.DepositShare), s.Money(q.Deposit, q.Currency))
}

// paperOf is what is written on a quote, made or not yet.
func paperOf(q *quote.Quote, s *say.Speaker) Paper {
	return Paper{Lang: string(s.Language), Say: s.Say, Name: q.FrameName, Kind: q.FrameKind, Spare: q.Spare, Outlook: q.Outlook, Bill: billView(q, s), Deposit: depositText(q, s),
		Warnings: q.Warnings, Passengers: q.Passengers}
}

func draftView(o *offered, earlier []quote.Quote) QuoteDraft {
	q, s := &o.draft, o.Speaker
	frame := o.Consultation.Address("/frames/" + q.Frame)
	view := QuoteDraft{
		Paper: paperOf(q, s), Back: o.Page(o.Consultation), Action: frame + "/quote", Again: append(o.Hidden(), kit.Hidden{Name: talk.LanguageField, Value: q.Language}), Unit: unitChoice(o),
		Customer: kit.Field{Name: customerField, Label: "For whom", Hint: "As it shall stand on paper; may stay empty.", Value: q.Customer},
		Valid:    s.Say("The quote would stand until %v.", q.ValidUntil),
	}
	view.Choice = append(slices.Clone(view.Again), kit.Hidden{Name: unitField, Value: q.Unit}, kit.Hidden{Name: kit.OnceField, Value: kit.NewOnce()})
	for i := range earlier {
		e := &earlier[i]
		view.Earlier = append(view.Earlier, kit.Step{Label: fmt.Sprintf("%s: %s, %s", e.Name(), e.FrameName, english.Money(e.Total, e.Currency)), Href: kit.QuoteAt(e.ID)})
	}
	return view
}

// longBill is how many lines, with those of the outlook, keep to one page in print of the usual size,
// beside warnings and cautions.
const longBill = 22

func quoteView(q *quote.Quote, today measure.Date, zone *time.Location) Quote {
	s := speakerOf(q)
	view := Quote{
		Paper: paperOf(q, s), Number: q.Name(), Seller: q.Shop, Customer: q.Customer,
		Back: kit.ConsultationAt(q.Consultation, "/frames/"+q.Frame), CSV: kit.QuoteAt(q.ID) + ".csv",
		Made:    s.Say("Made on %v.", measure.DateOf(q.Created.In(zone))),
		Valid:   s.Say("Stands until %v.", q.ValidUntil),
		Expired: !q.Stands(today), Long: len(q.Lines)+len(q.Outlook) > longBill, Accept: kit.QuoteAt(q.ID) + "/accepted", HandOver: kit.QuoteAt(q.ID) + "/handed-over", TakeBack: kit.QuoteAt(q.ID) + "/taken-back",
	}
	if !q.Accepted.IsZero() {
		view.Accepted = english.Date(measure.DateOf(q.Accepted.In(zone)))
	}
	if !q.HandedOver.IsZero() {
		view.Handed = english.Date(measure.DateOf(q.HandedOver.In(zone)))
		view.Which = kit.Hidden{Name: handedField, Value: strconv.FormatInt(q.HandedOver.UnixMilli(), 10)}
	}
	return view
}

// holdUnit is one bike of them.
func holdUnit(q *quote.Quote, c *catalog.Catalogue, u *catalog.Unit, held []quote.Reservation, today measure.Date) HoldUnit {
	r := holding(held, u.Tag, today)
	unit := HoldUnit{Tag: u.Tag, Detail: unitDetail(c, u), Fitted: fittedText(c, u.Fitted), Status: standingText(u, held, today, q.Consultation), Free: quote.MayHold(u.Status, r != nil)}
	if r != nil && r.Quote == q.ID {
		unit.Ours = true
	} else if r != nil {
		unit.Quote = kit.QuoteAt(r.Quote)
	}
	return unit
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
	text := talk.UnitStatus(u)
	r := holding(held, u.Tag, today)
	if r == nil {
		return text
	}
	whom := r.QuoteName
	if r.Consultation == consultation {
		whom = "this customer, " + whom
	}
	reserved := fmt.Sprintf("reserved until %s for %s", english.Date(r.Until), whom)
	if u.Status == quote.Reserved {
		return say.Capital(reserved)
	}
	return text + "; " + reserved
}

// unitDetail says to staff which bike it is, and what it costs where that is not
// what its frame does.
func unitDetail(c *catalog.Catalogue, u *catalog.Unit) string {
	text := talk.UnitDetail(english, u)
	if own := talk.PriceOfUnit(c, u); own != "" {
		text += ", for " + own
	}
	return text
}

// fittedText names add-ons on a bike.
func fittedText(c *catalog.Catalogue, codes []string) string {
	if len(codes) == 0 {
		return "As it comes"
	}
	v := &talk.Viewer{Consultation: &talk.Consultation{Shop: &advice.Shop{Catalogue: c}, Speaker: english}}
	return "With " + v.Speaker.List(names(v, codes))
}
