package desk

import (
	"fmt"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// weighForm is the page for a screen that is turned to whom is weighed: one
// field, and nothing of the figure once it is entered.
func (room *Room) weighForm(w http.ResponseWriter, r *http.Request) error {
	c, row, err := room.weighed(r)
	if err != nil {
		return err
	}
	return room.showWeigh(w, r, c, row, http.StatusOK, "")
}

// weighed opens the consultation of a request, and reads which rider it is
// about.
func (room *Room) weighed(r *http.Request) (*talk.Consultation, int, error) {
	c, err := room.Open(r)
	if err != nil {
		return nil, 0, err
	}
	row, err := strconv.Atoi(chi.URLParam(r, "row"))
	if err != nil || row < 0 || row >= c.Form.Rows(form.Riders) {
		return nil, 0, kit.ErrNotFound
	}
	return c, row, nil
}

// weigh saves what the scale reads, and that nobody is to see it. What cannot
// be right is not saved, and not said again.
func (room *Room) weigh(w http.ResponseWriter, r *http.Request) error {
	c, row, err := room.weighed(r)
	if err != nil {
		return err
	}
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	name := form.At(form.Riders, row, "weight_kg")
	tried := c.Form.Clone()
	if !tried.Answer(name, posted.Get(name)) || posted.Get(name) == "" || tried.Fault(name, room.Today()) != "" {
		return room.showWeigh(w, r, c, row, http.StatusUnprocessableEntity, "This cannot be what a scale reads. Enter it once more.")
	}
	for field, value := range map[string]string{form.At(form.Riders, row, "weighed"): "dressed", form.Hide: "yes"} {
		r.PostForm.Set(field, value)
	}
	k, err := room.posted(r, false)
	if err != nil {
		return err
	}
	if len(k.clashes) > 0 {
		return room.showWeigh(w, r, k.Consultation, row, http.StatusConflict, "Somebody else has entered a weight meanwhile. Enter it once more.")
	}
	http.Redirect(w, r, weighAt(k.Consultation, row)+"?done=yes", http.StatusSeeOther)
	return nil
}

func weighAt(c *talk.Consultation, row int) string { return c.Address(fmt.Sprintf("/weigh/%d", row)) }

func (room *Room) showWeigh(w http.ResponseWriter, r *http.Request, c *talk.Consultation, row int, status int, fault string) error {
	name := form.At(form.Riders, row, "weight_kg")
	view := Weigh{Shell: room.Shell(r, c.Titled("On the scale")), Action: weighAt(c, row), Back: c.Address("#" + form.Riders), Version: kit.Count(c.Version),
		Rider: "Rider " + c.Form.Get(form.At(form.Riders, row, "label")), Done: fault == "" && r.URL.Query().Get("done") != "" && c.Form.Get(name) != "",
		Field: kit.Field{Name: name, Label: "What does the scale read?", Hint: "With shoes, clothes, helmet, lock and bag.", Mode: "text", Unit: c.System().MassUnit(), Error: fault}}
	if view.Done {
		for next := range c.Form.Rows(form.Riders) {
			if c.Form.Get(form.At(form.Riders, next, "weight_kg")) == "" {
				view.Next, view.NextTo = weighAt(c, next), "Rider "+c.Form.Get(form.At(form.Riders, next, "label"))
				break
			}
		}
		var err error
		if view.Room, err = room.roomFor(r, c, c.Form.Get(form.At(form.Riders, row, "label"))); err != nil {
			return err
		}
	}
	return kit.Render(r.Context(), w, status, WeighPage(view))
}

// roomFor says how many frames have room for a rider with all that comes along,
// and how much: nothing that was entered can be read off it alone.
func (room *Room) roomFor(r *http.Request, c *talk.Consultation, rider string) (string, error) {
	if c.Profile == nil {
		return "", nil
	}
	ranked, err := c.Shop.Rank(r.Context(), c.Profile, match.Options{})
	if err != nil {
		return "", err
	}
	most, frames := measure.Mass(-1), 0
	for _, m := range ranked {
		if m.Verdict != match.Fits && m.Verdict != match.FitsWithCare {
			continue
		}
		for i := range m.Sheets {
			if m.Sheets[i].Rider.Label == rider {
				most, frames = max(most, m.Sheets[i].Spare()), frames+1
			}
		}
	}
	if frames == 0 {
		return "No frame carries all of it as asked yet. The list says what would help.", nil
	}
	return fmt.Sprintf("Enough room: %d of %d frames carry all of it, the roomiest with %s to spare.", frames, len(ranked), most.Show(c.System(), measure.Down)), nil
}
