package web

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"net/http"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"
	"golang.org/x/sync/errgroup"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/page"
)

const (
	// openDays is how long after it was last saved a consultation is open.
	openDays = 60
	// mostOpen bounds how many consultations, and how many summaries, are
	// judged again.
	mostOpen = 500
	// shownConcerned is how many of those concerned are listed.
	shownConcerned = 40
)

// consequences is what a change of the catalogue brings, to look at and to
// mark.
type consequences struct {
	view  page.Consequences
	marks []store.Mark
}

// concern is one customer and one frame that a change touches: the best build
// for an open consultation, or the very add-ons of a fit summary.
type concern struct {
	consultation string
	whom         string
	frame        string
	sent         bool
	on           []string // of a fit summary, the codes of all that is on the bike
	judge        func(ctx context.Context, c *catalog.Catalogue) (*match.Match, error)

	judged bool
	parts  []string
	worse  bool
}

// consequences says for which open consultations and live fit summaries a
// change of the catalogue changes a verdict, a horizon or a total. Only the
// frames that it touches are judged, on all processors, and no longer than
// judgingTime: what there was no time for is counted.
func (s *server) consequences(ctx context.Context, before, after *catalog.Catalogue) (*consequences, error) {
	touched, err := match.Touched(before, after)
	if err != nil {
		return nil, err
	}
	list, err := s.concerns(ctx, before, touched)
	if err != nil {
		return nil, err
	}
	bounded, cancel := context.WithTimeout(ctx, judgingTime)
	defer cancel()
	group, bounded := errgroup.WithContext(bounded)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for _, c := range list {
		group.Go(func() error { return c.hold(bounded, before, after) })
	}
	if err := group.Wait(); err != nil && (ctx.Err() != nil || !errors.Is(err, context.DeadlineExceeded)) {
		return nil, err
	}
	return s.concerned(list, before), nil
}

// concerns lists who has been told something of the frames.
func (s *server) concerns(ctx context.Context, before *catalog.Catalogue, frames []string) ([]*concern, error) {
	if len(frames) == 0 {
		return nil, nil
	}
	open, err := s.Store.ConsultationsSince(ctx, s.Now().AddDate(0, 0, -openDays), mostOpen)
	if err != nil {
		return nil, err
	}
	figures, err := s.Store.Settings(ctx)
	if err != nil {
		return nil, err
	}
	settings, names := match.SettingsOf(figures), map[string]string{}
	var list []*concern
	for _, saved := range open {
		names[saved.ID] = whomOf(saved)
		p, err := s.profileOf(saved)
		if err != nil {
			return nil, err
		}
		for _, code := range frames {
			if p != nil && before.Frame(code) != nil {
				list = append(list, &concern{consultation: saved.ID, whom: names[saved.ID], frame: code, judge: func(ctx context.Context, c *catalog.Catalogue) (*match.Match, error) {
					return match.One(ctx, c, c.Frame(code), p, settings, match.Options{})
				}})
			}
		}
	}
	sent, err := s.sentConcerns(ctx, frames, settings, names)
	return append(list, sent...), err
}

// sentConcerns lists the fit summaries of frames that can be opened.
func (s *server) sentConcerns(ctx context.Context, frames []string, settings match.Settings, names map[string]string) ([]*concern, error) {
	live, err := s.Store.LiveFitSummaries(ctx, s.Now(), mostOpen)
	if err != nil {
		return nil, err
	}
	var list []*concern
	for _, f := range live {
		if !slices.Contains(frames, f.Frame) {
			continue
		}
		k, err := readSnapshot(f.Document)
		if err != nil {
			return nil, err
		}
		if names[f.Consultation] == "" {
			saved, err := s.Store.Consultation(ctx, f.Consultation)
			if err != nil {
				return nil, err
			}
			names[f.Consultation] = whomOf(saved)
		}
		list = append(list, &concern{consultation: f.Consultation, whom: names[f.Consultation], frame: f.Frame, sent: true, on: k.On, judge: func(ctx context.Context, c *catalog.Catalogue) (*match.Match, error) {
			return k.byHand(ctx, c, settings)
		}})
	}
	return list, nil
}

func whomOf(c store.Consultation) string {
	if c.Customer == "" {
		return "a customer without a name"
	}
	return "“" + c.Customer + "”"
}

// hold judges a frame by both catalogues and says what differs.
func (c *concern) hold(ctx context.Context, before, after *catalog.Catalogue) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if c.gone(before) != "" { // there is no answer that could change
		c.judged = true
		return nil
	}
	old, err := c.judge(ctx, before)
	if err != nil {
		return err
	}
	if gone := c.gone(after); gone != "" {
		c.judged = true
		if c.sent || old.Fits() {
			c.parts, c.worse = []string{gone}, true
		}
		return nil
	}
	new, err := c.judge(ctx, after)
	if err != nil {
		return err
	}
	c.judged = true
	c.parts, c.worse = differences(old, new, before.Shop.Currency, after.Shop.Currency)
	return nil
}

// gone says that the frame, or an add-on of the set that was sent home, can no
// longer be had.
func (c *concern) gone(after *catalog.Catalogue) string {
	f := after.Frame(c.frame)
	if f == nil {
		return "no longer in the catalogue"
	}
	for _, code := range c.on {
		if a := after.AddOn(code); a == nil || !slices.Contains(a.Fits, f.Code) && !slices.Contains(f.ComesWith, code) {
			return "the shop no longer has an add-on of it"
		}
	}
	return ""
}

// differences says in words which verdict, horizon or total is another one.
// Where a frame does not fit before and after there is nothing to tell.
func differences(old, new *match.Match, oldCurrency, newCurrency string) (parts []string, worse bool) {
	if !old.Fits() && !new.Fits() {
		return nil, false
	}
	if old.Verdict != new.Verdict {
		parts = append(parts, strings.ToLower(verdictWords[old.Verdict])+" → "+strings.ToLower(verdictWords[new.Verdict]))
		worse = !new.Fits() || old.Verdict == match.Fits
	}
	if old.Horizon != nil && new.Horizon != nil && horizonWords(old) != horizonWords(new) {
		parts = append(parts, horizonWords(old)+" → "+strings.TrimPrefix(horizonWords(new), "until "))
		worse = worse || new.Horizon.Months < old.Horizon.Months
	}
	if was, is := old.Total.Show(oldCurrency), new.Total.Show(newCurrency); was != is {
		parts = append(parts, was+" → "+is)
	}
	return parts, worse
}

func horizonWords(m *match.Match) string {
	if !m.Horizon.Ends {
		return "for ten years"
	}
	return "until " + m.Horizon.Month.String()
}

// concerned draws what was found, the worst first, and makes the marks of it.
func (s *server) concerned(list []*concern, before *catalog.Catalogue) *consequences {
	found := &consequences{}
	unjudged, whom := 0, map[string]bool{}
	slices.SortStableFunc(list, func(a, b *concern) int { return rankWorse(a) - rankWorse(b) })
	for _, c := range list {
		if !c.judged {
			unjudged++
		}
		if len(c.parts) == 0 {
			continue
		}
		whom[c.consultation] = true
		name := frameName(before.Frame(c.frame))
		row := page.Consequence{Href: "/consultations/" + c.consultation + "/frames", Whom: c.whom, Frame: name, Sent: c.sent, Parts: c.parts, Worse: c.worse}
		if len(found.view.Rows) < shownConcerned {
			found.view.Rows = append(found.view.Rows, row)
		}
		text := "the " + name
		if c.sent {
			text += ", as sent home"
		}
		found.marks = append(found.marks, store.Mark{Consultation: c.consultation, Frame: c.frame, Text: text + ": " + strings.Join(c.parts, "; "), Created: s.Now()})
	}
	found.view.Summary = fmt.Sprintf("Nothing changes for the consultations of the last %d days, nor for fit summaries sent home.", openDays)
	if len(found.marks) > 0 {
		found.view.Summary = fmt.Sprintf("%s of the last %d days, or with a fit summary: their answer changes. They are marked until somebody has seen it.", capital(counted(len(whom), "consultation", "consultations")), openDays)
	}
	if unjudged > 0 {
		found.view.Unsure = fmt.Sprintf("There was no time to judge %d of %d answers again; more may change.", unjudged, len(list))
	}
	if more := len(found.marks) - len(found.view.Rows); more > 0 {
		found.view.More = fmt.Sprintf("And %d more answers, which are not shown here.", more)
	}
	return found
}

func rankWorse(c *concern) int {
	if c.worse {
		return 0
	}
	return 1
}

// replaceCatalogue changes the catalogue as long as it is still at a revision,
// and marks the consultations that the change concerns.
func (s *server) replaceCatalogue(ctx context.Context, at int64, before, after *catalog.Catalogue, by store.Author) error {
	found, err := s.consequences(ctx, before, after)
	if err != nil {
		return err
	}
	if err := s.Store.ReplaceCatalogueAt(ctx, at, after, by); err != nil {
		return err
	}
	// The catalogue is changed: nothing after this may say that it is not.
	if err := s.Store.AddMarks(ctx, found.marks); err != nil {
		s.Log.Error("consultations not marked", "error", err)
	}
	return nil
}

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

// seenField carries which consequences were on the page that is sent.
const seenField = "seen"

// unseen returns the consequences of a change that have to be looked at before
// it is saved: where somebody is concerned and the page that was sent did not
// show just that, or where the manager asks for them. It returns nil where
// there is nothing to look at.
func (s *server) unseen(r *http.Request, before, after *catalog.Catalogue) (*page.Consequences, error) {
	if after.Check() != nil {
		return nil, nil // it is not saved anyway
	}
	found, err := s.consequences(r.Context(), before, after)
	if err != nil {
		return nil, err
	}
	view := &found.view
	view.Seen = fmt.Sprintf("%x", sha256.Sum256(fmt.Append(nil, view.Rows, view.More)))
	asked := r.PostForm.Get("do") == "consequences"
	if asked || len(view.Rows) > 0 && r.PostForm.Get(seenField) != view.Seen {
		return view, nil
	}
	return nil, nil
}
