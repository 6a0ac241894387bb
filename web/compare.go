package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"kinwain/internal/match"
	"kinwain/web/page"
)

// How many frames stand side by side.
const (
	fewestCompared = 2
	mostCompared   = 4
)

// compare puts frames side by side for one customer, each with its best set
// of add-ons, in the order of the address.
func (s *server) compare(w http.ResponseWriter, r *http.Request) error {
	c, err := s.whole(r)
	if err != nil {
		return err
	}
	codes := asked(r)
	if refused, status := c.refuse(codes); refused != nil {
		refused.Shell = s.steps(r, c, refused.Heading, "frames")
		return render(r.Context(), w, status, page.Say(*refused))
	}
	var matches []*match.Match
	for _, code := range codes {
		m, err := c.Best(r.Context(), c.Catalogue.Frame(code), c.profile, match.Options{})
		if err != nil {
			return err
		}
		matches = append(matches, m)
	}
	view := compareView(c, matches)
	view.Shell = s.steps(r, c, "Side by side", "compare")
	return render(r.Context(), w, http.StatusOK, page.ComparePage(view))
}

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
func tick(r *page.Ranking, codes []string) {
	r.Unfolded = len(r.Fit) == 0
	for i := range r.Fit {
		r.Fit[i].Ticked = slices.Contains(codes, r.Fit[i].Code)
	}
	for i := range r.Unfit {
		r.Unfit[i].Ticked = slices.Contains(codes, r.Unfit[i].Code)
		r.Unfolded = r.Unfolded || r.Unfit[i].Ticked
	}
}

// ticked is the address of the ranking with frames ticked.
func (c *consultation) ticked(codes []string) string {
	if len(codes) == 0 {
		return c.address("/frames")
	}
	return c.address("/frames?" + url.Values{"frame": codes}.Encode())
}

// compared is the address of a comparison.
func (c *consultation) compared(codes []string) string {
	return c.address("/compare?" + url.Values{"frame": codes}.Encode())
}

// refuse says why frames cannot be compared, what to do, and where: in the
// ranking, with what was ticked still ticked. It returns nil where they can.
func (c *consultation) refuse(codes []string) (*page.Message, int) {
	known := slices.DeleteFunc(slices.Clone(codes), func(code string) bool { return c.Catalogue.Frame(code) == nil })
	say := page.Message{Back: c.ticked(known), BackTo: "Choose frames"}
	switch n := len(codes); {
	case len(known) < n:
		say.Heading = "A frame is gone"
		say.Text = "The shop has one of these frames no longer. What is left is still ticked: go back, choose again, then press Compare."
		return &say, http.StatusNotFound
	case n < fewestCompared:
		say.Heading = "One frame is no comparison"
		say.Text = "Tick two, three or four frames in the ranking, then press Compare."
		if n == 0 {
			say.Heading = "No frame is ticked"
		}
	case n > mostCompared:
		say.Heading = "Too many to see at once"
		say.Text = fmt.Sprintf("%d frames are ticked; four at most stand side by side. Take some ticks away, then press Compare.", n)
	default:
		return nil, 0
	}
	return &say, http.StatusUnprocessableEntity
}
