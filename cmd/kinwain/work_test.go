package main

import (
	"log/slog"
	"testing"
	"time"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/testdata"
	"kinwain/web"
)

// TestChangesAreJudgedBesideTheApp queues a change as another program does, and
// has it judged by what runs beside the app, twice: it is ended in between.
func TestChangesAreJudgedBesideTheApp(t *testing.T) {
	t.Parallel()
	s, err := openStore(t.Context(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	if _, err := s.CreateConsultation(t.Context(), "", "family D", nil, time.Now()); err != nil {
		t.Fatal(err)
	}
	app := web.New(web.Options{Store: s, Now: time.Now, Log: slog.New(slog.NewTextHandler(t.Output(), nil))})
	for i := range 2 {
		c, err := catalog.Parse(testdata.Demo)
		if err != nil {
			t.Fatal(err)
		}
		c.Frame("sedge").GrossRating -= measure.Mass(i+1) * measure.Kilogram
		_, revision, err := s.CatalogueAt(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if err := s.ReplaceCatalogueAt(t.Context(), revision, c, store.Author{Who: "kinwain import", How: store.ByImport, At: time.Now()}); err != nil {
			t.Fatal(err)
		}
		if p, err := s.Progress(t.Context()); err != nil || !p.Pending() {
			t.Fatalf("nothing is queued: %+v, %v", p, err)
		}
		stop := work(t.Context(), app.Watch)
		for until := time.Now().Add(time.Minute); ; time.Sleep(20 * time.Millisecond) {
			p, err := s.Progress(t.Context())
			if err != nil || time.Now().After(until) {
				t.Fatalf("%+v, %v", p, err)
			}
			if !p.Pending() {
				break
			}
		}
		stop()
	}
}
