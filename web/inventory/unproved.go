package inventory

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/quality"
	"kinwain/internal/store"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

const (
	sourcesAddress = kit.QualityAddress + "/sources"

	// unprovedRows is how many figures without a source a page lists.
	unprovedRows = 60
	// leanedAmong bounds how many consultations are judged for it.
	leanedAmong = 2000
)

// unproved lists the figures of which nobody has noted where they come from,
// those first that most of the last consultations lean on.
func (room *Room) unproved(w http.ResponseWriter, r *http.Request) error {
	shop, err := room.advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	leaned, judged, last, err := room.leanedOn(r.Context(), shop)
	if err != nil {
		return err
	}
	all, of := quality.Sources(shop.Catalogue, func(list, code, figure string) int {
		return leaned[match.Leaning{List: list, Code: code, Figure: figure}]
	})
	view := UnprovedList{Shell: room.inventoryShell(r, "Figures without a source"), Tabs: tabs("Quality"), Back: kit.QualityAddress,
		Summary: fmt.Sprintf("%s of %d.", say.Capital(say.Counted(len(all), "figure has no source", "figures have no source")), of), Leaned: leanedWords(judged, last)}
	names := namesOf(shop.Catalogue)
	for i := range shop.Catalogue.Frames {
		names["frames "+shop.Catalogue.Frames[i].Code] = advice.FrameName(&shop.Catalogue.Frames[i])
	}
	part := windowOf(r, "page", "Figures", len(all), unprovedRows)
	view.Pages = part.view(r, unprovedRows)
	for _, u := range all[part.from:part.to] {
		thing := names[u.List+" "+u.Thing]
		if u.List == wares.UnitList {
			thing = u.Thing + " " + thing
		}
		view.Rows = append(view.Rows, UnprovedRow{Href: kit.FieldAt(u.List, u.Thing, fieldOfSource(u.Figure)), Thing: thing, Code: u.Thing,
			Figure: say.Capital(figureLabel(u.List, u.Figure.Path)), Leaned: say.Counted(u.Leaned, "consultation", "consultations")})
	}
	return kit.Render(r.Context(), w, http.StatusOK, UnprovedPage(view))
}

// leanedOn counts, of every figure, on how many of the consultations that are
// open it is leaned on by the best build of any frame that fits.
func (room *Room) leanedOn(ctx context.Context, shop *advice.Shop) (leaned map[match.Leaning]int, judged, last int, err error) {
	list, err := room.store.RecentConsultations(ctx, leanedAmong)
	if err != nil {
		return nil, 0, 0, err
	}
	since := room.Now().AddDate(0, 0, -store.OpenDays)
	for last < len(list) && list[last].Updated.After(since) {
		last++
	}
	leaned = map[match.Leaning]int{}
	judged, err = room.judgeRecent(ctx, shop, list[:last], func(ranked []*match.Match) {
		once := map[match.Leaning]bool{}
		for _, m := range ranked {
			if !m.Fits() {
				continue
			}
			for _, l := range m.Leanings() {
				if !once[l] {
					once[l] = true
					leaned[l]++
				}
			}
		}
	})
	return leaned, judged, last, err
}

func leanedWords(judged, last int) string {
	if last == 0 {
		return "No consultation of the last 60 days leans on any of them: what breaks when it is wrong comes first."
	}
	words := fmt.Sprintf("Leaned on: in how many consultations of the last %d days the best build of a frame that fits has a limit there, as they are judged today.", store.OpenDays)
	if judged < last {
		words += fmt.Sprintf(" Of %d, %d could be judged in time, the last ones first.", last, judged)
	}
	return words
}

// fieldOfSource is where a form asks for the source of a figure.
func fieldOfSource(f catalog.Figure) string {
	switch {
	case strings.HasPrefix(f.Path, "fits["):
		return "s-fits"
	case strings.HasPrefix(f.Path, "on_frame."):
		return "s-on_frame"
	}
	return wares.SourceOf(f.Field)
}
