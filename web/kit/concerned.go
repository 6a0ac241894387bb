package kit

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"time"

	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/say"
)

const (
	// SeenField carries which change was on the page that is sent.
	SeenField = "seen"
	// ToCheckWords says that a change was not held against an answer yet.
	ToCheckWords = "To be checked: figures have changed since, and whether an answer here is another one now is not judged yet."
	// ConcernedAddress is where managers see whom changes concern.
	ConcernedAddress = InventoryAddress + "/concerned"
	// mostAsked bounds the fields of a change that is asked about.
	mostAsked = 40
)

var english = say.New(say.English, measure.Metric)

// AskingView draws a change and whom it may concern. digest tells the change
// from others.
func AskingView(changes []FieldChange, r store.Reach, digest string) *Asking {
	a := &Asking{Changes: changes[:min(len(changes), mostAsked)], Whom: ReachWords(r), Digest: digest}
	if more := len(changes) - mostAsked; more > 0 {
		a.More = fmt.Sprintf("And %d more differences, which are not shown here.", more)
	}
	return a
}

// ToAsk returns what is asked before a change is saved: where it may concern
// somebody and the page that was sent did not show this very change, or where
// whoever sends it wants to see. Else it returns nil. The form was read already.
func ToAsk(r *http.Request, a *Asking, reach store.Reach) *Asking {
	if r.PostForm.Get("do") == "consequences" || !reach.Nobody() && r.PostForm.Get(SeenField) != a.Digest {
		return a
	}
	return nil
}

// Digest tells one change from another.
func Digest(change ...any) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q", change))
	return hex.EncodeToString(sum[:16])
}

// ReachWords says whom a change may concern at the most.
func ReachWords(r store.Reach) string {
	var parts []string
	for _, c := range []struct {
		n         int
		one, many string
	}{
		{r.Consultations, fmt.Sprintf("consultation of the last %d days", store.OpenDays), fmt.Sprintf("consultations of the last %d days", store.OpenDays)},
		{r.Summaries, "fit summary sent home", "fit summaries sent home"},
		{r.Quotes, "quote", "quotes"},
		{r.Held, "bike that is held", "bikes that are held"},
		{r.Rides, "test ride to come", "test rides to come"},
	} {
		if c.n > 0 {
			parts = append(parts, say.Counted(c.n, c.one, c.many))
		}
	}
	if len(parts) == 0 {
		return "It concerns nobody who was told anything."
	}
	return "It may concern " + english.List(parts) + " at the most. Each is judged again once it is saved, and whom it concerns is marked until somebody has seen it."
}

// CheckingView says how far judging is.
func CheckingView(p store.Progress) Checking {
	if !p.Pending() {
		return Checking{}
	}
	return Checking{Said: fmt.Sprintf("What was told is being checked against what has changed: %d of %d judged.", p.Judged, p.Of), Pending: true}
}

// MarkWords says a mark in one sentence.
func MarkWords(m store.Mark, zone *time.Location) string {
	return say.Capital(m.Text) + ", since " + m.Created.In(zone).Format("2 January 2006") + "."
}
