package counter

import (
	"fmt"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/quote"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// choose makes an offer one for the very bike of a tag, if there is one.
func (o *offered) choose(tag string) {
	if tag == "" {
		return
	}
	units := o.Catalogue.Units
	at := slices.IndexFunc(units, func(u catalog.Unit) bool {
		return u.Tag == tag && u.Frame == o.Match.Frame.Code && u.Status != quote.Sold
	})
	if at < 0 {
		o.gone = tag
		return
	}
	o.unit = &units[at]
}

// toOrder notes of the goods how many are not there.
func (o *offered) toOrder(short map[string]int) {
	for i := range o.draft.Lines {
		l := &o.draft.Lines[i]
		n := short[l.Code]
		if l.Kind != quote.AddOn || n == 0 {
			continue
		}
		text := o.Say("To be ordered.")
		if n < l.Quantity {
			text = o.Say("%v of them to be ordered.", n)
		}
		l.Note = strings.TrimSpace(text + " " + l.Note)
	}
}

// unitChoice is the field that makes an offer one for a very bike.
func unitChoice(o *offered) kit.Field {
	shop := o.Catalogue.Shop
	f := kit.Field{Name: unitField, Label: "Which bike", Value: o.draft.Unit,
		Options: []kit.Option{{Label: fmt.Sprintf("Any of this frame, for %s", english.Money(o.Match.Frame.Price, shop.Currency))}}}
	for i := range o.Catalogue.Units {
		if u := &o.Catalogue.Units[i]; u.Frame == o.Match.Frame.Code && u.Status != quote.Sold {
			status := talk.UnitStatus(u)
			f.Options = append(f.Options, kit.Option{Value: u.Tag, Label: fmt.Sprintf("%s for %s: %s, %s", u.Tag, english.Money(o.Match.Frame.PriceOf(u), shop.Currency),
				talk.UnitDetail(english, u), strings.ToLower(status[:1])+status[1:])})
		}
	}
	return f
}
