package desk

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/profile"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// ask says what to ask next on a page of a consultation. It is worked out
// where the address asks for it alone, so that no page waits for it.
func (room *Room) ask(r *http.Request, c *talk.Consultation, page string) (Ask, error) {
	if c.Profile == nil {
		return Ask{}, nil
	}
	q := r.URL.Query()
	q.Del(kit.PartField) // the link leads to the whole page
	if q.Get("ask") == "" {
		q.Set("ask", "1")
		return Ask{Href: c.Address(page + "?" + q.Encode()), Measure: c.Address("/measure"), Save: c.Address("/answers"), Page: url.QueryEscape(page)}, nil
	}
	questions, err := c.Questions(r.Context(), c.Profile)
	if err != nil {
		return Ask{}, err
	}
	a := Ask{Href: c.Address(page + "?" + q.Encode()), Measure: c.Address("/measure"), Save: c.Address("/answers"), Page: url.QueryEscape(page), Worked: true}
	a.Nothing = "Nothing that is open can change this."
	for i := range questions {
		a.Questions = append(a.Questions, askedView(c, &questions[i], q))
	}
	return a, nil
}

// answer saves the answers to what was asked next, each as the form would, and
// leads back to the page. One that cannot be right is said at its field, and
// not saved.
func (room *Room) answer(w http.ResponseWriter, r *http.Request) error {
	saved, err := room.store.Consultation(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return err
	}
	f, err := form.Decode(saved.Answers)
	if err != nil {
		return err
	}
	posted, err := kit.Posted(r)
	if err != nil {
		return err
	}
	f, wrong := room.answered(f, posted)
	if _, err := room.save(r, f, saved); err != nil {
		return err
	}
	address := kit.ConsultationAt(saved.ID, pageOf(r.URL.Query().Get("page")))
	if len(wrong) > 0 {
		wrong.Set("ask", "1")
		address += "?" + wrong.Encode() + "#ask"
	}
	http.Redirect(w, r, address, http.StatusSeeOther)
	return nil
}

// answered types answers into a form, and returns those apart that cannot be
// right.
func (room *Room) answered(f form.Form, posted url.Values) (form.Form, url.Values) {
	wrong := url.Values{}
	for _, name := range slices.Sorted(maps.Keys(posted)) {
		value := strings.TrimSpace(posted.Get(name))
		tried := f.Clone()
		if _, asked := profile.Of(name); !asked || value == "" || !tried.Answer(name, value) {
			continue
		}
		tried.Settle(room.Today())
		if tried.Fault(name, room.Today()) != "" {
			wrong.Set(name, value)
			continue
		}
		f = tried
	}
	return f, wrong
}

// pageOf is a page that asks, of a consultation: the ranking, a frame, or the
// profile.
func pageOf(page string) string {
	code, frame := strings.CutPrefix(page, "/frames/")
	switch {
	case page == "/frames":
		return page
	case frame && code != "" && !strings.ContainsAny(code, "/?#"):
		return "/frames/" + url.PathEscape(code)
	}
	return ""
}
