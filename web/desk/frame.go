package desk

import (
	"context"
	"net/http"
	"strings"
	"time"

	"kinwain/internal/match"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

func (room *Room) frame(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	chosen, err := room.Chosen(r, c, match.Options{Changes: true, Stages: true})
	if err != nil {
		return err
	}
	m := chosen.Match
	list, err := c.Alternatives(r.Context(), m.Frame, c.Profile)
	if err != nil {
		return err
	}
	cheaper, err := c.Cheaper(r.Context(), m, c.Profile)
	if err != nil {
		return err
	}
	view := frameView(c, m, alternativesView(c, m, list), cheaper)
	if view.Ask, err = room.ask(r, c, "/frames/"+m.Frame.Code); err != nil {
		return err
	}
	done, err := room.done(r.Context(), c, m.Frame.Code)
	if err != nil {
		return err
	}
	if view.WhatIf, err = room.whatIf(r, c, chosen); err != nil {
		return err
	}
	view.One = oneBike(c, chosen, r.URL.Query().Get(unitQuery))
	view.ByHand, view.Next = chosen.Address(c, "/by-hand"), chosen.Next(c, done)
	view.Shell = room.Steps(r, c, m.Frame.Called(), "frame")
	return kit.RenderPart(w, r, http.StatusOK, FramePage(view))
}

// done says what was done with a frame for a customer, the last of each kind.
func (room *Room) done(ctx context.Context, c *talk.Consultation, frame string) (talk.Done, error) {
	var d talk.Done
	on := func(t time.Time) string { return t.In(room.Now().Location()).Format("2 January") }
	rides, err := room.store.Rides(ctx, c.ID)
	if err != nil {
		return d, err
	}
	var last time.Time
	for i := range rides {
		if ride := &rides[i]; ride.Frame == frame && ride.Status != store.RideCancelled && !ride.Starts.Before(last) {
			last = ride.Starts
			d.Ride = rideDone[ride.Status] + " " + on(ride.Starts)
			if ride.Status == store.RideBooked {
				d.Ride += ride.Starts.In(room.Now().Location()).Format(", 15:04")
			}
		}
	}
	quotes, err := room.store.Quotes(ctx, c.ID)
	if err != nil {
		return d, err
	}
	last = time.Time{}
	for i := range quotes {
		if q := &quotes[i]; q.Frame == frame && !q.Created.Before(last) {
			last = q.Created
			d.Quote = "quoted " + on(q.Created)
		}
	}
	sent, err := room.store.FitSummaries(ctx, c.ID, room.Now()) // the newest first
	for i := len(sent) - 1; i >= 0; i-- {
		if sent[i].Frame == frame {
			d.Send = "sent " + on(sent[i].Created) + ", " + talk.Opened(c.Speaker, sent[i].Opened)
		}
	}
	return d, err
}

// rideDone says of a ride that is not cancelled how far it has come.
var rideDone = map[store.RideStatus]string{store.RideBooked: "booked", store.RideOut: "out since", store.RideBack: "ridden"}

func frameView(c *talk.Consultation, m *match.Match, alternatives []Alternative, cheaper []match.OverTheYears) Frame {
	v := talk.View(c, m)
	v.PhotoAt = kit.SourcePhotoAt
	view := Frame{
		Name: m.Frame.Called(), Kind: talk.FrameKind(c.Speaker, m.Frame), Back: c.Address("/frames"), Verdict: talk.VerdictView(m.Verdict), Line: talk.Line(c, m, nil),
		Relaxed: v.RelaxedWords(), Sheets: v.LoadSheets(), Seats: v.SeatRows(), AddOns: v.AddOnRows(), Alternatives: alternatives,
		Notes: m.Frame.Notes, Links: v.Links(), Passengers: len(c.Profile.Passengers.Or(nil)) > 0, Total: v.Money(m.Total),
		Heads: frameHeads(v, alternatives), Nothing: v.NothingWords(),
	}
	for _, r := range v.ReasonRows() {
		if r.Weight == string(match.Note) {
			view.Known = append(view.Known, r)
		} else {
			view.Reasons = append(view.Reasons, r)
		}
	}
	if help, ok := m.Help(); ok {
		view.Change = c.Speaker.Message(help)
	}
	for _, path := range m.Open {
		view.Open = append(view.Open, questionName(c, path))
	}
	view.Horizon, view.Cause = v.HorizonWords()
	view.Cause = strings.TrimSpace(v.Between() + " " + view.Cause)
	view.Ahead = v.Ahead(c.Form.HidesWeights())
	if view.Plan = v.Plan(cheaper); view.Plan != nil {
		view.Plan.Answer = "" // the heading says it
	}
	view.HomeSum, view.Home = v.HomeRows()
	view.Side, view.HomeDrawn = v.Side(c.Form.HidesWeights()), v.HomeDrawings()
	view.Price, view.Tax = v.PriceRows()
	view.Ride, view.Stock = inShop(v)
	view.Rides = rideView(v)
	view.Score, view.Points = scoreView(c, m)
	return view
}

func inShop(v *talk.Viewer) (ride, stock string) {
	ride, stock = unitsOf(v.Catalogue, v.Frame.Code)
	if ride == "" {
		ride = "No demo can be ridden right now."
	}
	if stock == "" {
		stock = "None in stock to take home today."
	}
	return ride, stock
}
