package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
)

// TestBeforeUnitsWereOrdered goes back to the schema of before a unit could be
// ordered: what nobody can ride or take home stays so, in words that a program
// of before knows, and everything else is as it was.
func TestBeforeUnitsWereOrdered(t *testing.T) {
	t.Parallel()
	openClose(t, t.TempDir(), func(s *Store) {
		c := rich(t)
		if err := s.ReplaceCatalogue(t.Context(), c); err != nil {
			t.Fatal(err)
		}
		p, err := migrator(s.writer)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.DownTo(t.Context(), 23); err != nil {
			t.Fatal(err)
		}
		for i := range c.Units {
			u := &c.Units[i]
			if u.Status == catalog.Ordered || u.Status == catalog.InRepair {
				u.Status = "reserved"
			}
			*u = catalog.Unit{Tag: u.Tag, Frame: u.Frame, Kind: u.Kind, Colour: u.Colour, Fitted: u.Fitted, Status: u.Status, Weighed: u.Weighed, WeighedOn: u.WeighedOn, Odometer: u.Odometer, Evidence: u.Evidence}
		}
		for i := range c.AddOns {
			c.AddOns[i].Supplier, c.AddOns[i].Article, c.AddOns[i].Stock = "", "", nil
		}
		for _, list := range catalog.Lists { // photos of sources came later still
			for _, thing := range c.Things(list) {
				if of := catalog.EvidenceOf(thing.Of); of != nil {
					for i := range *of {
						(*of)[i].Photo = ""
					}
				}
			}
		}
		if diff := cmp.Diff(string(document(t, c)), string(document(t, catalogueOf(t, s)))); diff != "" {
			t.Errorf("one schema before: %s", diff)
		}
		if _, err := s.writer.ExecContext(t.Context(), setStatus, catalog.Ordered, c.Units[0].Tag); err == nil {
			t.Error("a unit is ordered in a schema that does not know it")
		}
		if _, err := p.Up(t.Context()); err != nil {
			t.Fatal(err)
		}
		if _, err := s.writer.ExecContext(t.Context(), setStatus, catalog.Ordered, c.Units[0].Tag); err != nil {
			t.Errorf("up again: %v", err)
		}
	})
}

func catalogueOf(t *testing.T, s *Store) *catalog.Catalogue {
	t.Helper()
	tx, err := s.writer.BeginTx(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := tx.Rollback(); err != nil {
			t.Error(err)
		}
	}()
	read, err := readCatalogue(t.Context(), tx, nil)
	if err != nil {
		t.Fatal(err)
	}
	return read.catalogue
}
