package kit

import (
	"fmt"
	"strings"

	"kinwain/internal/concern"
	"kinwain/web/say"
)

// shownConcerned is how many of those concerned are listed.
const shownConcerned = 40

// ConsequencesView draws whom a change concerns.
func ConsequencesView(found *concern.Found) Consequences {
	view := Consequences{Summary: fmt.Sprintf("Nothing changes for the consultations of the last %d days, nor for fit summaries sent home.", concern.OpenDays)}
	for _, r := range found.Rows[:min(len(found.Rows), shownConcerned)] {
		view.Rows = append(view.Rows, Consequence{Href: ConsultationAt(r.Consultation, "/frames"), Whom: r.Whom, Frame: r.Name, Sent: r.Sent, Parts: r.Parts, Worse: r.Worse})
	}
	if n := found.Consultations(); n > 0 {
		view.Summary = fmt.Sprintf("%s of the last %d days, or with a fit summary: their answer changes. They are marked until somebody has seen it.", say.Capital(say.Counted(n, "consultation", "consultations")), concern.OpenDays)
	}
	if found.Unjudged > 0 {
		view.Unsure = fmt.Sprintf("There was no time to judge %d of %d answers again; more may change.", found.Unjudged, found.Judged)
	}
	if found.Unread > 0 {
		view.Unsure = strings.TrimSpace(view.Unsure + " " + fmt.Sprintf("What %s said cannot be read any more, and is left out.",
			say.Counted(found.Unread, "consultation or fit summary", "consultations and fit summaries")))
	}
	if more := len(found.Rows) - len(view.Rows); more > 0 {
		view.More = fmt.Sprintf("And %d more answers, which are not shown here.", more)
	}
	return view
}
