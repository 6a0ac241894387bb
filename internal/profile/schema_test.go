package profile_test

import (
	"errors"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kinwain/internal/problem"
	"kinwain/internal/profile"
	"kinwain/internal/schema"
	"kinwain/internal/schematest"
	"kinwain/testdata"
)

func compiled(t *testing.T) *schematest.Schema {
	t.Helper()
	return schematest.Compile(t, schema.Properties{{Name: "Profile", Of: profile.Schema()}}, "Profile")
}

// eachSample visits the documents of the sample customers.
func eachSample(t *testing.T, visit func(name string, document []byte)) {
	t.Helper()
	names, err := fs.Glob(testdata.Profiles, "profiles/*.json")
	if err != nil || len(names) < 10 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		document, err := testdata.Profiles.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		visit(name, document)
	}
}

func TestSchemaOfEveryProfile(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	eachSample(t, func(name string, document []byte) {
		if err := s.Takes(document); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		document, err := drawProfile(t).Document()
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Takes(document); err != nil {
			t.Fatal(err)
		}
	})
}

// dependsOnAge is what a birth and the other answers have to do with each
// other, which a schema cannot know.
func dependsOnAge(p problem.Problem) bool {
	return strings.HasPrefix(p.Path, "passengers[") && (strings.HasSuffix(p.Path, ".born") || strings.HasSuffix(p.Path, ".joins") || strings.HasSuffix(p.Path, ".weight_kg") && p.Code == problem.Missing)
}

// oneRiderIsKnown is asked of all riders together.
func oneRiderIsKnown(p problem.Problem) bool {
	return strings.HasPrefix(p.Path, "riders[0].") && p.Code == problem.Missing
}

func structural(document []byte) *problem.Problem {
	_, err := profile.Parse(document)
	var faults problem.List
	errors.As(err, &faults)
	i := slices.IndexFunc(faults, func(p problem.Problem) bool {
		return slices.Contains(schematest.Structural, p.Code) && !dependsOnAge(p) && !oneRiderIsKnown(p)
	})
	if i < 0 {
		return nil
	}
	return &faults[i]
}

func TestSchemaRefusesWhatIsNotRead(t *testing.T) {
	t.Parallel()
	s := compiled(t)
	refused := 0
	eachSample(t, func(name string, document []byte) {
		for _, m := range schematest.Mutants(t, document) {
			fault := structural(m.Document)
			if fault == nil {
				continue
			}
			refused++
			if s.Takes(m.Document) == nil {
				t.Errorf("%s, %s: not refused, though %s", name, m.What, fault)
			}
		}
	})
	if refused < 500 {
		t.Errorf("%d of the documents are refused", refused)
	}
}

func TestWhatTheSchemaTakesIsRead(t *testing.T) {
	t.Parallel()
	s := compiled(t)
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
