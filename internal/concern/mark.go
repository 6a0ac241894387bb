package concern

import (
	"context"
	"strings"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
)

// Replace changes the catalogue as long as it is still at a revision, and
// marks the consultations that the change concerns.
func (w *Watch) Replace(ctx context.Context, at int64, before, after *catalog.Catalogue, by store.Author) error {
	found, err := w.Of(ctx, before, after)
	if err != nil {
		return err
	}
	if err := w.Store.ReplaceCatalogueAt(ctx, at, after, by); err != nil {
		return err
	}
	// The catalogue is changed: nothing after this may say that it is not.
	if err := w.Store.AddMarks(ctx, found.marks(w.Now())); err != nil {
		w.Fault("consultations not marked", err)
	}
	return nil
}

// marks says on every consultation with a row what has changed for it.
func (f *Found) marks(now time.Time) []store.Mark {
	var marks []store.Mark
	for _, r := range f.Rows {
		text := "the " + r.Name
		if r.Sent {
			text += ", as sent home"
		}
		marks = append(marks, store.Mark{Consultation: r.Consultation, Frame: r.Frame, Text: text + ": " + strings.Join(r.Parts, "; "), Created: now})
	}
	return marks
}
