package web

import (
	"context"
	"net/http"
	"strconv"

	"github.com/go-chi/chi/v5"

	"kinwain/web/form"
	"kinwain/web/page"
)

// marksView says what has changed for a consultation since it was last seen.
func (s *server) marksView(ctx context.Context, c *consultation) (page.Marks, error) {
	list, err := s.Store.Marks(ctx, c.id)
	if err != nil || len(list) == 0 {
		return page.Marks{}, err
	}
	view := page.Marks{Dismiss: c.address("/marks"), UpTo: strconv.FormatInt(list[len(list)-1].ID, 10)}
	for _, m := range list {
		view.List = append(view.List, capital(m.Text)+", since "+m.Created.In(s.Now().Location()).Format("2 January 2006")+".")
	}
	return view, nil
}

// resumable draws the consultations that were saved last, and after them those
// that are not among them and that a change concerns.
func (s *server) resumable(ctx context.Context) ([]page.Consultation, error) {
	list, err := s.Store.RecentConsultations(ctx, recent)
	if err != nil {
		return nil, err
	}
	marks, err := s.Store.Marks(ctx, "")
	if err != nil {
		return nil, err
	}
	counts, shown := map[string]int{}, map[string]bool{}
	for _, c := range list {
		shown[c.ID] = true
	}
	for _, m := range marks {
		counts[m.Consultation]++
		if shown[m.Consultation] || len(list) == 2*recent {
			continue
		}
		shown[m.Consultation] = true
		c, err := s.Store.Consultation(ctx, m.Consultation)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	var views []page.Consultation
	for _, c := range list {
		f, err := form.Decode(c.Answers)
		if err != nil {
			return nil, err
		}
		view := recentView(c, f, s.Now())
		if n := counts[c.ID]; n > 0 {
			view.Mark = "The shop has since changed " + counted(n, "answer", "answers")
		}
		views = append(views, view)
	}
	return views, nil
}

// dismissMarks forgets the marks that were on the page.
func (s *server) dismissMarks(w http.ResponseWriter, r *http.Request) error {
	c, err := s.open(r)
	if err != nil {
		return err
	}
	upTo, err := strconv.ParseInt(r.PostFormValue("up_to"), 10, 64)
	if err != nil {
		return errForm
	}
	if err := s.Store.DismissMarks(r.Context(), c.id, upTo); err != nil {
		return err
	}
	http.Redirect(w, r, c.address("/frames"), http.StatusSeeOther)
	return nil
}

func (s *server) markRoutes(r chi.Router) {
	r.Post("/consultations/{id}/marks", s.page(s.dismissMarks))
}
