package counter

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/quote"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// customerField is whom a quote is for, on the form that makes it.
const (
	customerField = "customer"
	mostName      = 120 // characters, so that it keeps to its line on paper
)

// quoteSettings returns the figures of a quote that the shop has set.
func (room *Room) quoteSettings(ctx context.Context) (quote.Settings, error) {
	figures, err := room.store.Settings(ctx)
	return quote.SettingsOf(figures), err
}

// offered is the build that a request is about, with what a quote needs.
type offered struct {
	*talk.Consultation
	*talk.Choice
	settings quote.Settings
	draft    quote.Quote
	unit     *catalog.Unit // the very bike that it is for; nil: any of the frame
	gone     string        // tag of a bike that was asked for and is not there
}

// offer judges the chosen build and prices it.
func (room *Room) offer(r *http.Request) (*offered, error) {
	c, err := room.Whole(r)
	if err != nil {
		return nil, err
	}
	chosen, err := room.Chosen(r, c, match.Options{Stages: true})
	if err != nil {
		return nil, err
	}
	if refused := chosen.Refused(c); refused != nil {
		return nil, refused
	}
	settings, err := room.quoteSettings(r.Context())
	if err != nil {
		return nil, err
	}
	c = c.In(talk.PaperLanguage(r, c.Form))
	o := &offered{Consultation: c, Choice: chosen, settings: settings}
	o.choose(r.FormValue(unitField))
	promises, err := room.store.Promises(r.Context(), room.Today())
	if err != nil {
		return nil, err
	}
	o.price(room.Today(), promises)
	return o, nil
}

// price works out the lines and writes the words.
func (o *offered) price(today measure.Date, promises []quote.Promise) {
	m, shop, frame := o.Match, o.Catalogue.Shop, *o.Match.Frame
	o.draft = quote.Quote{
		Consultation: o.ID, Customer: strings.TrimSpace(o.Form.Get(form.Customer)), Shop: shop.Name, Currency: shop.Currency,
		Frame: frame.Code, Passengers: len(o.Profile.Passengers.Or(nil)) > 0, ValidUntil: quote.After(today, o.settings.Days),
	}
	if o.unit != nil {
		frame.Price, o.draft.Unit = frame.PriceOf(o.unit), o.unit.Tag
	}
	o.draft.Sum = quote.NewSum(o.Catalogue, &frame, m.Build, o.settings)
	o.inWords()
	o.toOrder(quote.ToOrder(o.Catalogue, o.draft.Lines, o.draft.Unit, quote.Promised(o.Catalogue, promises, o.ID)))
}

// inWords writes the words of the quote in the language of the customer. They
// are kept with it, as its figures are.
func (o *offered) inWords() {
	v, q := talk.View(o.Consultation, o.Match), &o.draft
	q.Language = string(v.Speaker.Language)
	q.FrameName, q.FrameKind = v.Speaker.Frame(v.Frame), talk.FrameKind(v.Speaker, v.Frame)
	if headline := talk.Headline(v.Speaker, v.Match); headline != "" {
		q.Spare = v.Say("As proposed, the bike has %v.", headline)
	}
	v.Paid = func(m measure.Money) measure.Money { return quote.Paid(&v.Catalogue.Shop, m) }
	q.Outlook = v.Outlook()
	for i := range q.Lines {
		l := &q.Lines[i]
		if l.Kind == quote.Frame {
			l.Name = q.FrameName
			if o.unit != nil {
				l.Note = talk.UnitNamed(v.Speaker, o.unit)
			}
			continue
		}
		l.Name = v.AddOnName(l.Code)
		if l.Note != "" {
			pair := v.Catalogue.AddOn(l.Code).OnFrame[q.Frame]
			l.Note = v.Speaker.Told(pair.Told())
		}
	}
}

// quoteDraft shows what a quote for the chosen build would say.
func (room *Room) quoteDraft(w http.ResponseWriter, r *http.Request) error {
	o, err := room.offer(r)
	if err != nil {
		return err
	}
	return room.showDraft(w, r, o, http.StatusOK, "")
}

func (room *Room) showDraft(w http.ResponseWriter, r *http.Request, o *offered, status int, fault string) error {
	earlier, err := room.store.Quotes(r.Context(), o.ID)
	if err != nil {
		return err
	}
	view := draftView(o, earlier)
	if o.gone != "" {
		view.Unit.Error = "There is no " + o.gone + " of this frame any more. Choose again."
	}
	view.Customer.Error, view.Tongues = fault, talk.Tongues(r, o.Speaker.Language)
	view.Shell = room.Steps(r, o.Consultation, "Quote for the "+o.draft.FrameName, "quote")
	return kit.Render(r.Context(), w, status, QuoteDraftPage(view))
}

// createQuote makes the quote that the draft showed.
func (room *Room) createQuote(w http.ResponseWriter, r *http.Request) error {
	o, err := room.offer(r)
	if err != nil {
		return err
	}
	o.draft.Customer = strings.TrimSpace(r.PostForm.Get(customerField))
	if len([]rune(o.draft.Customer)) > mostName {
		return room.showDraft(w, r, o, http.StatusUnprocessableEntity, fmt.Sprintf("at most %d characters keep to their line on paper", mostName))
	}
	if o.gone != "" {
		return room.showDraft(w, r, o, http.StatusConflict, "")
	}
	o.draft.ID = kit.Once(r)
	made, err := room.store.CreateQuote(r.Context(), o.draft, room.Now())
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.QuoteAt(made.ID), http.StatusSeeOther)
	return nil
}

func (room *Room) quote(w http.ResponseWriter, r *http.Request) error {
	q, err := room.store.Quote(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	until, err := room.usualHold(r.Context())
	if err != nil {
		return err
	}
	return room.showQuote(w, r, &q, http.StatusOK, until, "")
}

// usualHold is the field of the last day on which a bike is held, as the shop
// has set it.
func (room *Room) usualHold(ctx context.Context) (kit.Field, error) {
	settings, err := room.quoteSettings(ctx)
	return kit.Field{Value: quote.After(room.Today(), settings.ReservationDays).String()}, err
}

// showQuote shows a quote, with what stands against holding a bike for it.
func (room *Room) showQuote(w http.ResponseWriter, r *http.Request, q *quote.Quote, status int, until kit.Field, alert string) error {
	view, err := room.quotePage(r, q, until)
	if err != nil {
		return err
	}
	view.Hold.Alert = alert
	return kit.Render(r.Context(), w, status, QuotePage(view))
}

func (room *Room) quotePage(r *http.Request, q *quote.Quote, until kit.Field) (Quote, error) {
	view := quoteView(q, room.Today(), room.Now().Location())
	texts, err := room.store.Texts(r.Context())
	if err != nil {
		return view, err
	}
	for _, key := range [...]string{kit.ContactAddress, kit.ContactPhone, kit.ContactEmail} {
		if texts[key] != "" {
			view.Reach = append(view.Reach, texts[key])
		}
	}
	held, err := room.store.Reservations(r.Context())
	if err != nil {
		return view, err
	}
	if view.Since, err = room.sinceQuote(r.Context(), q, held); err != nil {
		return view, err
	}
	if view.Hold, err = room.holdView(r.Context(), q, held); err != nil {
		return view, err
	}
	view.Hold.Until.Value, view.Hold.Until.Error = until.Value, until.Error
	title := "Quote " + q.Name()
	if q.Customer != "" {
		title += ", " + q.Customer
	}
	view.Said = room.Sessions.PopString(r.Context(), kit.SaidKey)
	view.Shell = room.Steps(r, &talk.Consultation{ID: q.Consultation}, title, "quote")
	return view, nil
}

// quoteCSV answers with the quote for a spreadsheet.
func (room *Room) quoteCSV(w http.ResponseWriter, r *http.Request) error {
	q, err := room.store.Quote(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := q.WriteCSV(&b, lineLabel(&q, speakerOf(&q))); err != nil {
		return err
	}
	room.Attach(w, "text/csv; charset=utf-8", q.Name()+".csv", b.Bytes())
	return nil
}

// accept notes that the customer has accepted a quote, or that they have not:
// it is then kept for as long as papers are.
func (room *Room) accept(w http.ResponseWriter, r *http.Request) error {
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	id, at := chi.URLParam(r, "id"), time.Time{}
	if posted.Get("accepted") == "yes" {
		at = room.Now()
	}
	err = room.store.AcceptQuote(r.Context(), id, at)
	if store.CodeOf(err) == store.Conflict {
		return room.showHanded(w, r, id, "Nothing is changed: all of this quote is handed over. Take that back first.")
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.QuoteAt(id)+"#accepted", http.StatusSeeOther)
	return nil
}

// untilField is the last day of a reservation.
const (
	untilField = "until"
	mostHeld   = 365 // days
)

// hold reserves a bike for a quote, or releases one.
func (room *Room) hold(w http.ResponseWriter, r *http.Request) error {
	q, err := room.store.Quote(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	until := kit.Field{Value: strings.TrimSpace(posted.Get(untilField))}
	if tag := posted.Get("release"); tag != "" {
		err = room.store.Release(r.Context(), tag, q.ID)
	} else {
		var day measure.Date
		if day, until.Error = room.holdUntil(&q, until.Value); until.Error != "" {
			return room.showQuote(w, r, &q, http.StatusUnprocessableEntity, until, "")
		}
		err = room.store.Reserve(r.Context(), posted.Get("hold"), q.ID, day, room.Now())
	}
	switch store.CodeOf(err) {
	case store.Conflict, store.NotFound:
		return room.showQuote(w, r, &q, http.StatusConflict, until, "Somebody was quicker: that bike is not as it was. The list below is new.")
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.QuoteAt(q.ID)+"#hold", http.StatusSeeOther)
	return nil
}

// holdUntil reads the last day of a reservation, or says what is wrong with it.
func (room *Room) holdUntil(q *quote.Quote, typed string) (measure.Date, string) {
	today := room.Today()
	day, err := measure.ParseDate(typed)
	switch {
	case !q.Stands(today):
		return day, "this quote has run out"
	case typed == "":
		return day, "say until which day"
	case err != nil || day.Day == 0:
		return day, "not a day; write it like " + quote.After(today, 1).String()
	case day.Before(today):
		return day, "that day is over"
	case quote.After(today, mostHeld).Before(day):
		return day, "at most a year ahead"
	}
	return day, ""
}
