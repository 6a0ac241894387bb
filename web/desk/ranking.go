package desk

import (
	"context"
	"net/http"
	"slices"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/profile"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// asked lists the frames of an address, each once, in its order.
func asked(r *http.Request) []string {
	var codes []string
	for _, code := range r.URL.Query()["frame"] {
		if code != "" && !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	return codes
}

// tick ticks frames of the ranking, and unfolds those that do not fit where
// one of them is ticked.
func tick(r *Ranking, codes []string) {
	r.Unfolded = len(r.Fit) == 0
	for i := range r.Fit {
		r.Fit[i].Ticked = slices.Contains(codes, r.Fit[i].Code)
	}
	for i := range r.Unfit {
		r.Unfit[i].Ticked = slices.Contains(codes, r.Unfit[i].Code)
		r.Unfolded = r.Unfolded || r.Unfit[i].Ticked
	}
}

func (room *Room) frames(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Open(r)
	if err != nil {
		return err
	}
	ranking, err := room.ranking(r, c, match.Options{Changes: true})
	if err != nil {
		return err
	}
	ranking.Compare = c.Address("/compare")
	tick(&ranking, asked(r))
	marks, err := room.marksView(r.Context(), c)
	if err != nil {
		return err
	}
	ask, err := room.ask(r, c, "/frames")
	if err != nil {
		return err
	}
	return kit.Render(r.Context(), w, http.StatusOK, FramesPage(Frames{Shell: room.Steps(r, c, "Frames", "frames"), Ranking: ranking, Marks: marks, Ask: ask}))
}

// ranking ranks the frames for a consultation, or says why it cannot yet.
func (room *Room) ranking(r *http.Request, c *talk.Consultation, o match.Options) (Ranking, error) {
	view := waitingView(c)
	if c.Profile != nil {
		ranked, err := room.rank(r.Context(), c.Shop, c.Profile, o)
		if err != nil {
			return Ranking{}, err
		}
		view = rankingView(c, ranked)
	}
	view.Profile, view.Version = c.Address(""), c.Version
	return view, nil
}

// rank ranks all frames for a customer, and times it.
func (room *Room) rank(ctx context.Context, shop *advice.Shop, p *profile.Profile, o match.Options) ([]*match.Match, error) {
	defer room.timed()()
	return shop.Rank(ctx, p, o)
}
