package catalog_test

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/catalog"
	"kinwain/internal/problem"
	"kinwain/internal/schematest"
	"kinwain/testdata"
)

// TestSchemaOfEveryCatalogue holds the schema against what is written.
func TestSchemaOfEveryCatalogue(t *testing.T) {
	t.Parallel()
	s := schematest.Compile(t, catalog.Schemas(), "Catalogue")
	if err := s.Takes(testdata.Demo); err != nil {
		t.Error(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		document, err := drawCatalogue(t).Document()
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Takes(document); err != nil {
			t.Fatal(err)
		}
	})
}

// dependsOnOthers is what is needed because of another fact: of a harnessed
// place its limits, of what carries something its zone, of a weight its day.
func dependsOnOthers(p problem.Problem) bool {
	return slices.ContainsFunc([]string{".min_months", ".min_kg", ".max_kg", ".zone", ".weighed_on"}, func(end string) bool { return strings.HasSuffix(p.Path, end) }) &&
		(p.Code == problem.Missing || p.Code == problem.OutOfRange)
}

// withEveryKey returns documents of one thing each, so that every key of the
// demo shop is in one of them.
func withEveryKey(t *testing.T) [][]byte {
	t.Helper()
	demo, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	var all [][]byte
	seen := map[string]bool{}
	for _, list := range catalog.Lists[1:] {
		for _, thing := range demo.Things(list) {
			one := &catalog.Catalogue{Version: 1, Shop: demo.Shop}
			one.Put(list, []catalog.Thing{thing})
			document, err := one.Document()
			if err != nil {
				t.Fatal(err)
			}
			before := len(seen)
			for _, key := range keyForm.FindAllString(string(document), -1) {
				seen[list+key] = true
			}
			if len(seen) > before {
				all = append(all, document)
			}
		}
	}
	return all
}

var keyForm = regexp.MustCompile(`"[a-z_]+":`)

// structural returns the first fault of a document that a schema has to find as
// well, or nothing.
func structural(document []byte) *problem.Problem {
	_, err := catalog.Parse(document)
	var faults problem.List
	errors.As(err, &faults)
	i := slices.IndexFunc(faults, func(p problem.Problem) bool {
		return slices.Contains(schematest.Structural, p.Code) && !dependsOnOthers(p)
	})
	if i < 0 {
		return nil
	}
	return &faults[i]
}

// TestSchemaRefusesWhatIsNotRead changes the demo shop in every place.
func TestSchemaRefusesWhatIsNotRead(t *testing.T) {
	t.Parallel()
	s := schematest.Compile(t, catalog.Schemas(), "Catalogue")
	refused := 0
	for _, document := range withEveryKey(t) {
		for _, m := range schematest.Mutants(t, document) {
			fault := structural(m.Document)
			if fault == nil {
				continue
			}
			refused++
			if s.Takes(m.Document) == nil {
				t.Errorf("%s: not refused, though %s", m.What, fault)
			}
		}
	}
	if refused < 500 {
		t.Errorf("%d of the documents are refused", refused)
	}
}

// TestWhatTheSchemaTakesIsRead draws documents from the schema alone. What
// facts have to do with each other may be wrong with them, and nothing else.
func TestWhatTheSchemaTakesIsRead(t *testing.T) {
	t.Parallel()
	s := schematest.Compile(t, catalog.Schemas(), "Catalogue")
	rapid.Check(t, func(t *rapid.T) {
		document := s.Draw(t)
		if err := s.Takes(document); err != nil {
			t.Fatalf("drawn and not taken: %v", err)
		}
		if fault := structural(document); fault != nil {
			t.Fatal(fault)
		}
	})
}
