package web

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/advice"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/page"
	"kinwain/web/say"
)

// consultation is one customer's form and what follows from it.
type consultation struct {
	id      string
	version int // how often it was saved
	form    form.Form
	profile *profile.Profile // nil while there are faults
	faults  problem.List
	*advice.Shop
	speaker *say.Speaker
}

func (c *consultation) address(rest string) string { return "/consultations/" + c.id + rest }

func (c *consultation) system() measure.System { return c.speaker.Units }

// say says a sentence in the language and the units of whom the page is for.
func (c *consultation) say(key string, args ...any) string { return c.speaker.Say(key, args...) }

// recent is how many consultations the start page offers.
const recent = 12

func (s *server) start(w http.ResponseWriter, r *http.Request) error {
	view := page.Start{Shell: s.shell(r, "Start")}
	if who(r).byLink() {
		has, err := s.Store.HasManager(r.Context())
		if err != nil {
			return err
		}
		view.Invite = !has
	}
	var err error
	if view.Recent, err = s.resumable(r.Context()); err != nil {
		return err
	}
	rides, err := s.Store.ComingRides(r.Context(), "", s.Now(), mostRides)
	if err != nil {
		return err
	}
	view.Rides = comingView(rides, s.Now().Location())
	return render(r.Context(), w, http.StatusOK, page.StartPage(view))
}

func (s *server) createConsultation(w http.ResponseWriter, r *http.Request) error {
	answers, err := form.New().Encode()
	if err != nil {
		return err
	}
	c, err := s.Store.CreateConsultation(r.Context(), "", answers, s.Now())
	if err != nil {
		return err
	}
	http.Redirect(w, r, "/consultations/"+c.ID, http.StatusSeeOther)
	return nil
}

// open reads the consultation of a request as it was saved.
func (s *server) open(r *http.Request) (*consultation, error) {
	saved, err := s.Store.Consultation(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return nil, err
	}
	f, err := form.Decode(saved.Answers)
	if err != nil {
		return nil, err
	}
	return s.consult(r, saved, f)
}

// whole opens a consultation whose profile is whole. Where it is not, the
// error leads to where that is said.
func (s *server) whole(r *http.Request) (*consultation, error) {
	c, err := s.open(r)
	if err != nil {
		return nil, err
	}
	if c.profile == nil {
		return nil, elsewhere(c.address("/frames"))
	}
	return c, nil
}

// consult reads the profile out of a form.
func (s *server) consult(r *http.Request, saved store.Consultation, f form.Form) (*consultation, error) {
	c := &consultation{id: saved.ID, version: saved.Version, form: f, speaker: say.New(say.English, f.System())}
	var err error
	if c.Shop, err = advice.On(r.Context(), s.Store, s.today()); err != nil {
		return nil, err
	}
	c.profile, err = f.Profile(s.today())
	if err != nil && !errors.As(err, &c.faults) {
		return nil, err
	}
	return c, nil
}

// posted reads the form that was sent, does with it what else was asked for
// and saves it as it is, faults and all: nothing typed is lost.
func (s *server) posted(r *http.Request, do func(f, before form.Form)) (*consultation, error) {
	saved, err := s.Store.Consultation(r.Context(), chi.URLParam(r, "id"))
	if err != nil {
		return nil, err
	}
	before, err := form.Decode(saved.Answers)
	if err != nil {
		return nil, err
	}
	posted, err := postedValues(r)
	if err != nil {
		return nil, err
	}
	f := form.FromValues(posted)
	do(f, before)
	if saved, err = s.save(r, f, saved); err != nil {
		return nil, err
	}
	return s.consult(r, saved, f)
}

// postedValues reads the fields of a posted form. What comes without any field
// is not the form, and would blot out the answers.
func postedValues(r *http.Request) (url.Values, error) {
	err := r.ParseForm()
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return nil, errTooLarge
	case err != nil || len(r.PostForm) == 0:
		return nil, errForm
	}
	return r.PostForm, nil
}

func (s *server) save(r *http.Request, f form.Form, saved store.Consultation) (store.Consultation, error) {
	answers, err := f.Encode()
	if err != nil {
		return saved, err
	}
	customer := strings.TrimSpace(f.Get(form.Customer))
	if string(answers) == string(saved.Answers) && customer == saved.Customer {
		return saved, nil
	}
	return s.Store.SaveConsultation(r.Context(), saved.ID, customer, answers, s.Now())
}

// act does what a button of the form asks for: "add riders" appends a row,
// "remove riders 1" takes one out.
func act(f form.Form, do string) {
	words := strings.Fields(do)
	switch {
	case len(words) == 2 && words[0] == "add":
		f.Add(words[1])
	case len(words) == 3 && words[0] == "remove":
		if row, err := strconv.Atoi(words[2]); err == nil {
			f.Remove(words[1], row)
		}
	}
}

func (s *server) profileForm(w http.ResponseWriter, r *http.Request) error {
	c, err := s.open(r)
	if err != nil {
		return err
	}
	return s.showForm(w, r, c, http.StatusOK, false)
}

// saveProfile saves the form and goes on to the frames, or shows the form
// again where something is wrong or a row was added.
func (s *server) saveProfile(w http.ResponseWriter, r *http.Request) error {
	c, err := s.posted(r, func(f, before form.Form) {
		f.SwitchUnits(before.System())
		act(f, r.PostForm.Get("do"))
	})
	if err != nil {
		return err
	}
	switch do := r.PostForm.Get("do"); {
	case do == "frames" && c.profile != nil:
		http.Redirect(w, r, c.address("/frames"), http.StatusSeeOther)
	case do == "frames":
		return s.showForm(w, r, c, http.StatusUnprocessableEntity, true)
	default:
		http.Redirect(w, r, c.address(anchor(c.form, do)), http.StatusSeeOther)
	}
	return nil
}

// anchor leads back to the row that was added, or to the list that lost one.
func anchor(f form.Form, do string) string {
	words := strings.Fields(do)
	if len(words) < 2 || firstFields[words[1]] == "" {
		return ""
	}
	if row := f.Rows(words[1]) - 1; words[0] == "add" && row >= 0 {
		return "#" + form.At(words[1], row, firstFields[words[1]])
	}
	return "#" + sectionOf(words[1])
}

func (s *server) showForm(w http.ResponseWriter, r *http.Request, c *consultation, status int, insist bool) error {
	ranking, err := s.ranking(r, c, match.Options{})
	if err != nil {
		return err
	}
	view := formView(c, insist)
	view.Shell, view.Ranking = s.steps(r, c, "Profile", "profile"), ranking
	return render(r.Context(), w, status, page.ProfilePage(view))
}

// live saves the form and answers with the short ranking alone. The fields on
// the screen stay as they are, so their units do too.
func (s *server) live(w http.ResponseWriter, r *http.Request) error {
	c, err := s.posted(r, func(f, before form.Form) { f.Set(form.Units, before.Get(form.Units)) })
	if err != nil {
		return err
	}
	ranking, err := s.ranking(r, c, match.Options{})
	if err != nil {
		return err
	}
	return render(r.Context(), w, http.StatusOK, page.Live(ranking))
}

func (s *server) frames(w http.ResponseWriter, r *http.Request) error {
	c, err := s.open(r)
	if err != nil {
		return err
	}
	ranking, err := s.ranking(r, c, match.Options{Changes: true})
	if err != nil {
		return err
	}
	ranking.Compare = c.address("/compare")
	tick(&ranking, asked(r))
	marks, err := s.marksView(r.Context(), c)
	if err != nil {
		return err
	}
	return render(r.Context(), w, http.StatusOK, page.FramesPage(page.Frames{Shell: s.steps(r, c, "Frames", "frames"), Ranking: ranking, Marks: marks}))
}

func (s *server) frame(w http.ResponseWriter, r *http.Request) error {
	c, err := s.whole(r)
	if err != nil {
		return err
	}
	chosen, err := s.chosen(r, c, match.Options{Changes: true})
	if err != nil {
		return err
	}
	m := chosen.match
	list, err := c.Alternatives(r.Context(), m.Frame, c.profile)
	if err != nil {
		return err
	}
	view := frameView(c, m)
	view.Alternatives, view.ByHand = alternativesView(c, m, list), c.address("/frames/"+m.Frame.Code+"/by-hand")
	view.Shell, view.Next = s.steps(r, c, m.Frame.Name, "frame"), chosen.next(c)
	return render(r.Context(), w, http.StatusOK, page.FramePage(view))
}

// ranking ranks the frames for a consultation, or says why it cannot yet.
func (s *server) ranking(r *http.Request, c *consultation, o match.Options) (page.Ranking, error) {
	view := waitingView(c)
	if c.profile != nil {
		ranked, err := s.rank(r.Context(), c.Shop, c.profile, o)
		if err != nil {
			return page.Ranking{}, err
		}
		view = rankingView(c, ranked)
	}
	view.Profile, view.Version = c.address(""), c.version
	return view, nil
}

// rank ranks all frames for a customer, and times it.
func (s *server) rank(ctx context.Context, shop *advice.Shop, p *profile.Profile, o match.Options) ([]*match.Match, error) {
	defer s.timed()()
	return shop.Rank(ctx, p, o)
}

// steps is the shell of a page of a consultation.
func (s *server) steps(r *http.Request, c *consultation, title, current string) page.Shell {
	shell := s.shell(r, title)
	shell.Steps = []page.Step{
		{Label: "Profile", Href: c.address(""), Current: current == "profile"},
		{Label: "Frames", Href: c.address("/frames"), Current: current == "frames"},
	}
	return shell
}
