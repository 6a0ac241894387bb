package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// How many frames stand side by side.
const (
	fewestCompared = 2
	mostCompared   = 4
)

// compare puts frames side by side for one customer, each with its best set
// of add-ons or with the one that the address names, in its order.
func (room *Room) compare(w http.ResponseWriter, r *http.Request) error {
	c, err := room.Whole(r)
	if err != nil {
		return err
	}
	names := asked(r)
	if refused, status := refuse(c, names); refused != nil {
		refused.Shell = room.Steps(r, c, refused.Heading, "frames")
		return kit.Render(r.Context(), w, status, kit.MessagePage(*refused))
	}
	var choices []*talk.Choice
	for _, name := range names {
		chosen, err := c.Choice(r.Context(), name)
		if err != nil {
			return err
		}
		choices = append(choices, chosen)
	}
	c = c.In(talk.PaperLanguage(r, c.Form))
	view := compareView(c, choices)
	view.Lang, view.Say, view.Tongues = string(c.Speaker.Language), c.Say, talk.Tongues(r, c.Speaker.Language)
	view.Shell = room.Steps(r, c, "Side by side", "compare")
	return kit.Render(r.Context(), w, http.StatusOK, ComparePage(view))
}

// compared is the address of a comparison.
func compared(c *talk.Consultation, names []string) string {
	return c.Address("/compare?" + url.Values{"frame": names}.Encode())
}

// frameOf is the frame that a choice names in an address, nil where the shop
// has none.
func frameOf(c *talk.Consultation, name string) *catalog.Frame {
	code, _, _ := talk.ReadName(name)
	return c.Catalogue.Frame(code)
}

// refuse says why frames cannot be compared, what to do, and where: in the
// ranking, with what was ticked still ticked. It returns nil where they can.
func refuse(c *talk.Consultation, names []string) (*kit.Message, int) {
	known := slices.DeleteFunc(slices.Clone(names), func(name string) bool { return frameOf(c, name) == nil })
	say := kit.Message{Back: c.Ticked(known), BackTo: "Choose frames"}
	switch n := len(names); {
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
