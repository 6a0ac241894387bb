// Package quote works out what a build costs, line by line, and what may be
// promised on it: how long the offer stands, and which bike is held for whom.
//
// Every amount is a whole number of cents. What is rounded is rounded half up,
// once: a piece of work when its minutes become money, the tax on the whole
// sum, and the deposit. Sums are never rounded, so the lines add up to the
// total on paper.
package quote

import (
	"fmt"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting"
	"kinwain/internal/measure"
)

// Kind says what a line is for.
type Kind string

// The kinds of lines, in the order in which they stand.
const (
	Frame     Kind = "frame"
	AddOn     Kind = "add_on"
	Fitting   Kind = "fitting"    // of an add-on, as on any frame
	Extra     Kind = "extra"      // labour that an add-on causes on this frame, or saves where it is negative
	TakingOff Kind = "taking_off" // of a part that the frame comes with
)

// Line is one line of a quote. Amount is Quantity times Each, always.
type Line struct {
	Kind     Kind
	Code     string // of the frame or the add-on
	Name     string // the same, in plain words
	Note     string // what the maker or the shop says of the add-on on this frame
	Quantity int
	Minutes  int // of labour for one; zero for goods, negative where work is saved
	Each     measure.Money
	Amount   measure.Money
}

// Sum is the lines of a quote with what they come to.
type Sum struct {
	Lines         []Line
	LabourPerHour measure.Money
	Subtotal      measure.Money // of the lines
	TaxIncluded   bool          // the prices of the lines hold the tax already
	TaxRate       measure.Percentage
	Net           measure.Money // without tax
	Tax           measure.Money // Net + Tax = Total
	Total         measure.Money
	DepositShare  measure.Share
	Deposit       measure.Money
}

// NewSum prices a build of a frame at the catalogue's prices. Where prices
// include tax, its total is what the match of the same build shows.
func NewSum(c *catalog.Catalogue, f *catalog.Frame, b *fitting.Build, s Settings) Sum {
	sum := Sum{LabourPerHour: c.Shop.LabourPerHour, TaxIncluded: c.Shop.PricesIncludeTax, TaxRate: c.Shop.Tax, DepositShare: s.Deposit}
	sum.add(Line{Kind: Frame, Code: f.Code, Name: f.Name, Quantity: 1, Each: f.Price})
	for _, item := range counted(b.AddOns) {
		sum.addOn(c, f, item)
	}
	for _, item := range counted(b.TakenOff) {
		if a := c.AddOn(item.code); a != nil {
			minutes := a.On(f.Code).FittingMinutes
			sum.add(Line{Kind: TakingOff, Code: a.Code, Name: a.Name, Quantity: item.count, Minutes: minutes, Each: c.Shop.Labour(minutes)})
		}
	}
	sum.settle()
	return sum
}

// item is an add-on and how many of it there are.
type item struct {
	code  string
	count int
}

// counted takes together what stands in a sorted list more than once.
func counted(codes []string) []item {
	var items []item
	for i, code := range codes {
		if i > 0 && codes[i-1] == code {
			items[len(items)-1].count++
		} else {
			items = append(items, item{code, 1})
		}
	}
	return items
}

// addOn adds the lines of an add-on: the goods, the fitting as on any frame,
// and the rest of the work on this frame. The whole work on one add-on is
// rounded to a cent, and so is the usual work; what is extra is the
// difference, so that the two come to what the whole work costs.
func (s *Sum) addOn(c *catalog.Catalogue, f *catalog.Frame, it item) {
	a := c.AddOn(it.code)
	if a == nil {
		return
	}
	usual, whole, note := a.FittingMinutes, a.On(f.Code).FittingMinutes, a.OnFrame[f.Code].Note
	goods := Line{Kind: AddOn, Code: a.Code, Name: a.Name, Quantity: it.count, Each: a.Price}
	if whole == usual {
		goods.Note = note
	}
	s.add(goods)
	if usual > 0 {
		s.add(Line{Kind: Fitting, Code: a.Code, Name: a.Name, Quantity: it.count, Minutes: usual, Each: c.Shop.Labour(usual)})
	}
	if whole != usual {
		s.add(Line{Kind: Extra, Code: a.Code, Name: a.Name, Note: note, Quantity: it.count, Minutes: whole - usual,
			Each: c.Shop.Labour(whole) - c.Shop.Labour(usual)})
	}
}

// add appends a line and works out its amount.
func (s *Sum) add(l Line) {
	l.Amount = l.Each * measure.Money(l.Quantity)
	s.Lines = append(s.Lines, l)
	s.Subtotal += l.Amount
}

// settle works out tax, total and deposit.
func (s *Sum) settle() {
	rate, whole := int64(s.TaxRate), int64(measure.Whole)
	if s.TaxIncluded {
		s.Total = s.Subtotal
		s.Tax = part(s.Total, rate, whole+rate)
	} else {
		s.Tax = part(s.Subtotal, rate, whole)
		s.Total = s.Subtotal + s.Tax
	}
	s.Net = s.Total - s.Tax
	s.Deposit = part(s.Total, int64(s.DepositShare), whole)
}

// Paid returns what a price of a shop comes to with its tax.
func Paid(s *catalog.Shop, price measure.Money) measure.Money {
	if s.PricesIncludeTax {
		return price
	}
	return price + part(price, int64(s.Tax), int64(measure.Whole))
}

// part returns an amount times a fraction, rounded half up to a cent. Neither
// is negative.
func part(amount measure.Money, numerator, denominator int64) measure.Money {
	return measure.Money((2*int64(amount)*numerator + denominator) / (2 * denominator))
}

// Quote is an offer as it was made. It never changes, whatever becomes of the
// catalogue.
type Quote struct {
	ID           string // random, not to be guessed
	Year, Number int    // Number runs from 1 in every year
	Consultation string // its ID
	Customer     string // whom it is for, in free text
	Shop         string
	Currency     string
	Frame        string // its code
	FrameName    string
	FrameKind    string   // in words: compact longtail, steel, one size
	Language     string   // in which all its words are: ISO 639-1
	Spare        string   // what the bike has to spare, and where least; empty where that was not said
	Outlook      []string // what the years ahead may ask for; nothing of it is promised
	Passengers   bool     // somebody rides along
	Warnings     []string // what ruled the bike out for this customer when the quote was made
	Created      time.Time
	ValidUntil   measure.Date // the last day on which it stands
	Accepted     time.Time    // when the customer accepted it; zero where nobody has
	Unit         string       // tag of the bike that it is for; empty: any of the frame
	HandedOver   time.Time    // when all of it left the shop with the customer; zero where it has not
	Sum
}

// Name is how people call the quote: Q-2026-0007.
func (q *Quote) Name() string { return fmt.Sprintf("Q-%04d-%04d", q.Year, q.Number) }

// Stands reports whether the offer still holds on a day.
func (q *Quote) Stands(today measure.Date) bool { return !q.ValidUntil.Before(today) }

// After returns the day a number of days after another.
func After(d measure.Date, days int) measure.Date {
	return measure.DateOf(time.Date(d.Year, d.Month, d.Day+days, 0, 0, 0, 0, time.UTC))
}
