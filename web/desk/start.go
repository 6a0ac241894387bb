package desk

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// recent is how many consultations the start page offers.
const recent = 12

func (room *Room) start(w http.ResponseWriter, r *http.Request) error {
	view := Start{Shell: room.Shell(r, "Start"), Once: kit.NewOnce(), Said: room.Sessions.PopString(r.Context(), kit.SaidKey)}
	if kit.Who(r).ByLink() {
		has, err := room.store.HasManager(r.Context())
		if err != nil {
			return err
		}
		view.Invite = !has
	}
	if err := room.fill(r, &view); err != nil {
		return err
	}
	rides, err := room.store.ComingRides(r.Context(), "", room.Now(), talk.MostRides)
	if err != nil {
		return err
	}
	view.Rides = talk.ComingView(rides, room.Now().Location())
	if view.Manager {
		proven, err := room.store.ProvenBackup(r.Context())
		if err != nil {
			return err
		}
		view.Backup = backupView(proven, room.Now())
		progress, err := room.store.Progress(r.Context())
		if err != nil {
			return err
		}
		view.Checking = kit.CheckingView(progress)
	}
	return kit.Render(r.Context(), w, http.StatusOK, StartPage(view))
}

// fill lists the consultations to go on with, or those that are looked for, and
// offers the sample customers where there is nobody else.
func (room *Room) fill(r *http.Request, view *Start) error {
	list, err := room.store.RecentConsultations(r.Context(), recent)
	if err != nil {
		return err
	}
	view.Sought = strings.TrimSpace(r.URL.Query().Get("find"))
	view.Invented = slices.ContainsFunc(list, isInvented)
	if !slices.ContainsFunc(list, func(c store.Consultation) bool { return !isInvented(c) }) {
		if view.Samples, err = samples(); err != nil {
			return err
		}
	}
	if view.Sought == "" {
		view.Recent, err = room.resumable(r.Context(), list)
		return err
	}
	shop, err := room.Advice.On(r.Context(), room.Today())
	if err != nil {
		return err
	}
	if list, err = room.store.FindConsultations(r.Context(), soughtBy(view.Sought, shop.Catalogue, room.Now()), 2*recent); err != nil {
		return err
	}
	view.Recent, err = room.recentViews(r.Context(), list, func(string) string { return "" })
	return err
}

// days are how a day may be written that is looked for; without a year it is
// the last one.
var days = []string{time.DateOnly, "2 January 2006", "2.1.2006", "2 January", "2 Jan", "2.1.", "2.1"}

// soughtBy reads what is looked for: a name, and where it is one also a day or
// frames.
func soughtBy(typed string, c *catalog.Catalogue, now time.Time) store.Sought {
	of := store.Sought{Name: typed}
	for i := range c.Frames {
		if f := &c.Frames[i]; strings.Contains(strings.ToLower(f.Called()), strings.ToLower(typed)) {
			of.Frames = append(of.Frames, f.Code)
		}
	}
	year, month, date := now.Date()
	day, known := time.Date(year, month, date, 0, 0, 0, 0, now.Location()), true
	switch strings.ToLower(typed) {
	case "today":
	case "yesterday":
		day = day.AddDate(0, 0, -1)
	default:
		day, known = readDay(typed, now)
	}
	if known {
		of.From, of.Until = day, day.AddDate(0, 0, 1)
	}
	return of
}

func readDay(typed string, now time.Time) (time.Time, bool) {
	for _, layout := range days {
		day, err := time.ParseInLocation(layout, typed, now.Location())
		if err != nil {
			continue
		}
		if day.Year() == 0 {
			if day = day.AddDate(now.Year(), 0, 0); day.After(now) {
				day = day.AddDate(-1, 0, 0)
			}
		}
		return day, true
	}
	return time.Time{}, false
}

func (room *Room) createConsultation(w http.ResponseWriter, r *http.Request) error {
	answers, err := form.New().Encode()
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return kit.ErrForm
	}
	c, err := room.store.CreateConsultation(r.Context(), kit.Once(r), "", answers, room.Now())
	if err != nil {
		return err
	}
	http.Redirect(w, r, kit.ConsultationAt(c.ID, ""), http.StatusSeeOther)
	return nil
}

// resumable draws the consultations that were saved last, and after them those
// that are not among them and that a change concerns.
func (room *Room) resumable(ctx context.Context, list []store.Consultation) ([]Consultation, error) {
	marks, err := room.store.Marks(ctx, "")
	if err != nil {
		return nil, err
	}
	toCheck, err := room.toCheck(ctx)
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
		c, err := room.store.Consultation(ctx, m.Consultation)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return room.recentViews(ctx, list, func(id string) string { return markWords(counts[id], toCheck[id]) })
}

// recentViews draws consultations, with what is marked of them.
func (room *Room) recentViews(ctx context.Context, list []store.Consultation, mark func(id string) string) ([]Consultation, error) {
	var ids []string
	for _, c := range list {
		ids = append(ids, c.ID)
	}
	sent, err := room.store.Sent(ctx, ids, room.Now())
	if err != nil {
		return nil, err
	}
	speaker := say.New(say.English, measure.Metric)
	var views []Consultation
	for _, c := range list {
		f, err := form.Decode(c.Answers)
		if err != nil {
			return nil, err
		}
		view := recentView(c, f, room.Now())
		view.Sent, view.Mark = sentWords(speaker, sent[c.ID]), mark(c.ID)
		views = append(views, view)
	}
	return views, nil
}

// sentWords says what of a consultation a link opens, and how often that was
// opened, all together.
func sentWords(s *say.Speaker, of store.Sent) string {
	switch of.Links {
	case 0:
		return ""
	case 1:
		return "sent, " + talk.Opened(s, of.Opened)
	}
	return fmt.Sprintf("%d sent, %s", of.Links, talk.Opened(s, of.Opened))
}

// toCheck says of which consultations something is not judged again yet.
func (room *Room) toCheck(ctx context.Context) (map[string]bool, error) {
	pending, err := room.store.PendingJudgings(ctx, "")
	is := map[string]bool{}
	for _, j := range pending {
		is[j.Consultation] = true
	}
	return is, err
}

// markWords says what the shop has changed for a consultation.
func markWords(changed int, toCheck bool) string {
	switch {
	case changed > 0 && toCheck:
		return "The shop has since changed " + say.Counted(changed, "answer", "answers") + "; more is to be checked"
	case changed > 0:
		return "The shop has since changed " + say.Counted(changed, "answer", "answers")
	case toCheck:
		return "To be checked: the shop has changed figures since"
	}
	return ""
}

// backupLasts is how old the last proven backup may be: one a day, and a day
// on which the app was not running.
const backupLasts = 48 * time.Hour

func backupView(b store.ProvenBackup, now time.Time) Backup {
	if b.At.IsZero() {
		return Backup{"No backup of this shop was ever made and found whole. If this stands here tomorrow, the log says why.", true}
	}
	at := b.At.In(now.Location()).Format("2 January 2006, 15:04")
	if now.Sub(b.At) > backupLasts {
		return Backup{"The last backup that was found whole is of " + at + ". The log says why there is no newer one.", true}
	}
	return Backup{"Backup found whole on " + at + ": " + b.File, false}
}

// recentView is one line of the start page.
func recentView(c store.Consultation, f form.Form, now time.Time) Consultation {
	name := c.Customer
	if name == "" {
		name = "Without a name"
	}
	who := say.Counted(f.Rows(form.Riders), "rider", "riders")
	if n := f.Rows(form.Passengers); n > 0 {
		who += ", " + say.Counted(n, "passenger", "passengers")
	}
	at := c.Updated.In(now.Location())
	when := at.Format("2 January 2006, 15:04")
	if at.Format(time.DateOnly) == now.Format(time.DateOnly) {
		when = "today, " + at.Format("15:04")
	}
	return Consultation{Href: kit.ConsultationAt(c.ID, ""), Name: name, Who: who, When: when, At: at.Format(time.RFC3339)}
}
