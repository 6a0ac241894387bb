package desk

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/talk"
)

// most is how often a save begins anew because somebody else was quicker.
const most = 10

// kept is what became of a form that was sent.
type kept struct {
	*talk.Consultation           // as it is saved now; as it was typed where it could not be
	before             form.Form // as it was saved before
	read               form.Form // as it was when somebody may have read last what had moved
	shown              form.Form // what the page shows that sent it
	settled            []string  // names of births that were told as an age, and are months now
	clashes            []form.Clash
	saved              map[string]string // when what is saved of them was, where nothing was saved since
	heard              *heard            // what was understood of the line, where it was read
}

// posted reads the form that was sent and saves what was changed in it, faults
// and all, beside what others have changed since: nothing typed is lost. What
// both have changed is not saved, but told. Where it cannot be saved at all,
// the consultation is returned with the error, as it was typed.
func (room *Room) posted(r *http.Request, switches bool) (*kept, error) {
	posted, err := kit.Posted(r)
	if err != nil {
		return nil, err
	}
	for try := 1; ; try++ {
		saved, err := room.store.Consultation(r.Context(), chi.URLParam(r, "id"))
		if err != nil {
			return nil, err
		}
		k, next, err := room.merged(saved, posted, switches)
		if err != nil {
			return nil, err
		}
		now, fault := room.save(r, next, saved)
		if store.CodeOf(fault) == store.Conflict && try < most {
			continue
		}
		if fault != nil {
			now, next = saved, k.shown
		}
		if k.Consultation, err = room.Consult(r, now, next); err != nil {
			return nil, err
		}
		return k, fault
	}
}

// merged works out what a form that was sent changes in what is saved. What is
// asked for by a button is done only where the lists are as the page shows
// them: pressed twice, it is done once.
func (room *Room) merged(saved store.Consultation, posted url.Values, switches bool) (*kept, form.Form, error) {
	now, err := form.DecodeKept(saved.Answers, saved.Version)
	if err != nil {
		return nil, form.Form{}, err
	}
	base, known := now.Form, true
	if version := form.VersionOf(posted.Get(form.Version)); version > 0 {
		base, known = now.At(version)
	}
	k := &kept{before: now.Form, read: now.Form, shown: base.With(posted)}
	if since := form.VersionOf(posted.Get(sinceField)); since > 0 {
		if read, known := now.At(since); known {
			k.read = read
		}
	}
	if switches {
		k.shown.SwitchUnits(base.System())
	} else { // the fields on the screen stay as they are, so their units do too
		k.shown.Set(form.Units, base.Get(form.Units))
	}
	mine := k.shown.With(nil)
	k.settled = mine.Settle(room.Today())
	first := known && base.SameRows(now.Form)
	if first {
		k.heard = hear(mine, posted.Get("do"), switches, room.Today())
	}
	next, clashes := form.Merge(base, mine, now.Form, known)
	k.clashes, k.saved = clashes, map[string]string{}
	for _, c := range clashes {
		if now.Newest(c.Name) {
			k.saved[c.Name] = room.clock(saved.Updated)
		}
	}
	if k.heard != nil {
		next.Set(form.Line, mine.Get(form.Line))
	}
	if first {
		act(next, posted.Get("do"), room.Today())
	}
	return k, next, nil
}

// clock says when something was, of today by the hour alone.
func (room *Room) clock(t time.Time) string {
	now := room.Now()
	if at := t.In(now.Location()); at.Format(time.DateOnly) != now.Format(time.DateOnly) {
		return at.Format("15:04 on 2 January")
	}
	return t.In(now.Location()).Format("15:04")
}

func (room *Room) save(r *http.Request, f form.Form, saved store.Consultation) (store.Consultation, error) {
	before, err := form.DecodeKept(saved.Answers, saved.Version)
	if err != nil || before.Equal(f) {
		return saved, err
	}
	answers, err := before.Next(f)
	if err != nil {
		return saved, err
	}
	return room.store.SaveConsultation(r.Context(), saved.ID, saved.Version, strings.TrimSpace(f.Get(form.Customer)), answers, room.Now())
}

// act does what a button of the form asks for: "add riders" appends a row,
// "remove riders 1" takes one out, "again passengers 0" appends one that is like
// it, "bring groceries" adds what is usual.
func act(f form.Form, do string, today measure.Date) {
	words := strings.Fields(do)
	switch {
	case len(words) == 2 && words[0] == "add":
		f.Add(words[1])
	case len(words) == 2 && words[0] == "bring":
		f.Bring(words[1], today)
	case len(words) == 3:
		row, err := strconv.Atoi(words[2])
		switch {
		case err != nil:
		case words[0] == "remove":
			f.Remove(words[1], row)
		case words[0] == "again":
			f.Again(words[1], row)
		}
	}
}

// news is what a page has to show that sent a form: what others have changed,
// and what is asked where both have.
func (k *kept) news() News {
	n := News{Version: k.Version, Action: k.Address(""), Rows: !k.shown.SameRows(k.Form)}
	for _, c := range k.clashes {
		n.Clashes = append(n.Clashes, Clash{Name: c.Name, Label: questionName(k.Consultation, c.Name), Theirs: c.Theirs, Mine: c.Mine,
			Hidden: k.Form.Hides(c.Name), At: k.saved[c.Name]})
	}
	for _, name := range k.Form.Differing(k.shown) {
		if !k.clashed(name) && name != form.Units {
			n.Others = append(n.Others, kit.Hidden{Name: name, Value: k.Form.Get(name)})
		}
	}
	return n
}

func (k *kept) clashed(name string) bool {
	for _, c := range k.clashes {
		if c.Name == name {
			return true
		}
	}
	return false
}
