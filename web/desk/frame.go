package desk

import (
	"net/http"

	"kinwain/internal/match"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

func (room *Room) frame(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	chosen, err := room.Chosen(r, c, match.Options{Changes: true})
	if err != nil {
		return err
	}
	m := chosen.Match
	list, err := c.Alternatives(r.Context(), m.Frame, c.Profile)
	if err != nil {
		return err
	}
	view := frameView(c, m)
	if view.Ask, err = room.ask(r, c, "/frames/"+m.Frame.Code); err != nil {
		return err
	}
	view.Alternatives, view.ByHand = alternativesView(c, m, list), c.Address("/frames/"+m.Frame.Code+"/by-hand")
	view.Shell, view.Next = room.Steps(r, c, m.Frame.Name, "frame"), chosen.Next(c)
	return kit.Render(r.Context(), w, http.StatusOK, FramePage(view))
}

func frameView(c *talk.Consultation, m *match.Match) Frame {
	v := talk.View(c, m)
	view := Frame{
		Name: m.Frame.Name, Kind: talk.FrameKind(c.Speaker, m.Frame), Back: c.Address("/frames"), Verdict: talk.VerdictView(m.Verdict), Line: talk.Line(c, m, false),
		Relaxed: v.RelaxedWords(), Reasons: v.ReasonRows(), Sheets: v.LoadSheets(), Seats: v.SeatRows(), AddOns: v.AddOnRows(),
		Notes: m.Frame.Notes, Links: v.Links(), Passengers: len(c.Profile.Passengers.Or(nil)) > 0, Total: v.Money(m.Total),
	}
	view.SheetHead, view.AddHead, view.PriceHead = v.SheetHeading("Load sheet"), v.Heading("What to add, and why"), v.Heading("What it costs")
	view.Nothing = v.NothingWords()
	if help, ok := m.Help(); ok {
		view.Change = help.In(c.System())
	}
	for _, path := range m.Open {
		view.Open = append(view.Open, questionName(c, path))
	}
	view.Horizon, view.Cause = v.HorizonWords()
	view.HomeSum, view.Home = v.HomeRows()
	view.Side, view.HomeDrawn = v.Side(false), v.HomeDrawings()
	view.Price, view.Tax = v.PriceRows()
	view.Ride, view.Stock = inShop(v)
	view.Rides = rideView(v)
	if m.Score != nil {
		view.Score, view.Points = m.Score.FloatString(1), pointsView(m)
	}
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
