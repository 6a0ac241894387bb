package web

import (
	"crypto/sha256"
	"fmt"
	"net/http"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/internal/concern"
	"kinwain/web/page"
)

// shownConcerned is how many of those concerned are listed.
const shownConcerned = 40

// consequencesView draws whom a change concerns.
func consequencesView(found *concern.Found) page.Consequences {
	view := page.Consequences{Summary: fmt.Sprintf("Nothing changes for the consultations of the last %d days, nor for fit summaries sent home.", concern.OpenDays)}
	for _, r := range found.Rows[:min(len(found.Rows), shownConcerned)] {
		view.Rows = append(view.Rows, page.Consequence{Href: "/consultations/" + r.Consultation + "/frames", Whom: r.Whom, Frame: r.Name, Sent: r.Sent, Parts: r.Parts, Worse: r.Worse})
	}
	if n := found.Consultations(); n > 0 {
		view.Summary = fmt.Sprintf("%s of the last %d days, or with a fit summary: their answer changes. They are marked until somebody has seen it.", capital(counted(n, "consultation", "consultations")), concern.OpenDays)
	}
	if found.Unjudged > 0 {
		view.Unsure = fmt.Sprintf("There was no time to judge %d of %d answers again; more may change.", found.Unjudged, found.Judged)
	}
	if found.Unread > 0 {
		view.Unsure = strings.TrimSpace(view.Unsure + " " + capital(counted(found.Unread, "fit summary is", "fit summaries are")) + " left out: written by an earlier program, and no longer to be read.")
	}
	if more := len(found.Rows) - len(view.Rows); more > 0 {
		view.More = fmt.Sprintf("And %d more answers, which are not shown here.", more)
	}
	return view
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
	found, err := s.watch.Of(r.Context(), before, after)
	if err != nil {
		return nil, err
	}
	view := consequencesView(found)
	view.Seen = fmt.Sprintf("%x", sha256.Sum256(fmt.Append(nil, view.Rows, view.More)))
	asked := r.PostForm.Get("do") == "consequences"
	if asked || len(view.Rows) > 0 && r.PostForm.Get(seenField) != view.Seen {
		return &view, nil
	}
	return nil, nil
}
