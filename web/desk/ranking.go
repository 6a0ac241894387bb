package desk

import (
	"net/http"
	"slices"

	"kinwain/internal/match"
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

// tick ticks choices of the ranking, and unfolds those that do not fit where
// one of them is ticked. One that is ticked and not in the list stays ticked
// beside it.
func tick(r *Ranking, c *talk.Consultation, names []string) {
	listed := map[string]bool{}
	r.Unfolded = len(r.Fit) == 0 || r.MoreUnfit.Previous != ""
	for i := range r.Fit {
		r.Fit[i].Ticked = slices.Contains(names, r.Fit[i].Code)
		listed[r.Fit[i].Code] = true
	}
	for i := range r.Unfit {
		r.Unfit[i].Ticked = slices.Contains(names, r.Unfit[i].Code)
		r.Unfolded = r.Unfolded || r.Unfit[i].Ticked
		listed[r.Unfit[i].Code] = true
	}
	for _, name := range names {
		f := frameOf(c, name)
		if f == nil || listed[name] || len(r.Elsewhere) == mostRanked {
			continue
		}
		row := Ranked{Code: name, Name: f.Called(), Ticked: true}
		if name != f.Code {
			row.Name += ", built by hand"
		}
		r.Elsewhere = append(r.Elsewhere, row)
	}
}

func (room *Room) frames(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Open(r)
	if err != nil {
		return err
	}
	now := !scripted(r) || r.URL.Query().Has(changesField)
	whole := shown.fitting
	if now {
		whole = shown.listed
	}
	ranking, err := room.ranking(r, c, whole)
	if err != nil {
		return err
	}
	ranking.unhelped(now)
	if !now && ranking.Waiting == "" {
		q := r.URL.Query()
		q.Set(changesField, "1")
		ranking.Later = c.Address("/frames?" + q.Encode())
	}
	ranking.Compare = c.Address("/compare")
	tick(&ranking, c, asked(r))
	marks, err := room.marksView(r.Context(), c)
	if err != nil {
		return err
	}
	ask, err := room.ask(r, c, "/frames")
	if err != nil {
		return err
	}
	return kit.RenderPart(w, r, http.StatusOK, FramesPage(Frames{Shell: room.Steps(r, c, "Ranked frames", "frames"), Ranking: ranking, Marks: marks, Ask: ask}))
}

// changesField asks for a ranking with the one change that makes each frame fit
// that does not, which takes a while.
const changesField = "changes"

// scripted reports whether the browser runs the script, which says so in a
// cookie: it fetches what takes a while once the ranking is on the screen.
func scripted(r *http.Request) bool {
	_, err := r.Cookie("script")
	return err == nil
}

// ranking ranks the frames for a consultation, or says why it cannot yet.
func (room *Room) ranking(r *http.Request, c *talk.Consultation, whole func(shown) []*match.Match) (Ranking, error) {
	view := waitingView(c)
	if c.Profile != nil {
		ranked, s, err := room.ranked(r, c, whole)
		if err != nil {
			return Ranking{}, err
		}
		view = rankingView(c, ranked, s)
	}
	view.Profile, view.Version = c.Address(""), c.Version
	return view, nil
}

// ranked ranks all frames for a customer and takes out what the address asks
// for, and times it. Those that are to be whole, which are the first of what is
// shown, say as well what lasting longer costs or the one change that helps.
func (room *Room) ranked(r *http.Request, c *talk.Consultation, whole func(shown) []*match.Match) ([]*match.Match, shown, error) {
	defer room.timed()()
	ranked, err := c.Shop.Rank(r.Context(), c.Profile, match.Options{})
	if err != nil {
		return nil, shown{}, err
	}
	s := partOf(r.URL.Query()).of(ranked)
	if some := whole(s); len(some) > 0 {
		full, err := c.Shop.Again(r.Context(), some, c.Profile, match.Options{Changes: true})
		if err != nil {
			return nil, shown{}, err
		}
		listed := s.listed()
		copy(listed, full)
		s.fit, s.unfit = listed[:len(s.fit)], listed[len(s.fit):]
	}
	return ranked, s, nil
}
