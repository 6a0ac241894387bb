package match

import (
	"encoding/json"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/fitting/audit"
	"kinwain/internal/profile"
)

// mistaken is a judge of a sample customer whose builds are checked against
// another price list, so that none passes.
func mistaken(t *testing.T, customer string) *judge {
	t.Helper()
	read := func(name string) []byte {
		data, err := os.ReadFile("../../testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	c, err := catalog.Parse(read("demo.json"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse(read("profiles/" + customer + ".json"))
	if err != nil {
		t.Fatal(err)
	}
	other := *c
	other.AddOns = slices.Clone(c.AddOns)
	for i := range other.AddOns {
		other.AddOns[i].Price++
	}
	j := NewReady(c).judge(p, DefaultSettings())
	j.settings.Patience = 0
	j.auditor = audit.New(&other)
	return j
}

// What breaks a rule when it is checked is reported with all that led to it,
// and the frame is not judged. A frame of which nothing is bought passes.
func TestAFaultIsReportedAndNotShown(t *testing.T) {
	j := mistaken(t, "twins")
	var faults []*Fault
	ctx := Reporting(t.Context(), func(f *Fault) { faults = append(faults, f) })
	wrong, refused := 0, 0
	for i := range j.catalogue.Frames {
		f := &j.catalogue.Frames[i]
		faults = nil
		m, err := j.whole(ctx, f, Options{Changes: true})
		if err != nil {
			t.Fatal(err)
		}
		if m.Verdict == DoesNotFit {
			refused++
		}
		if len(faults) == 0 {
			if len(m.Build.AddOns) > 0 {
				t.Errorf("%s: %v passes", f.Code, m.Build.AddOns)
			}
			continue
		}
		wrong++
		if want := m.Count(Stop) > 0; (m.Verdict == DoesNotFit) != want || (m.Verdict == NotJudged) == want || m.Score != nil || len(m.Build.AddOns) > 0 ||
			!slices.ContainsFunc(m.Reasons, func(r Reason) bool { return r.Code == "unverified" && r.Weight == Care }) {
			t.Errorf("%s: %s with %v", f.Code, m.Verdict, m.Reasons)
		}
		leadsTo(t, j, faults)
	}
	if wrong < 3 || wrong == refused {
		t.Errorf("%d frames with a fault, %d refused", wrong, refused)
	}
}

// leadsTo asks for what a fault comes with to lead to the same build again.
func leadsTo(t *testing.T, j *judge, faults []*Fault) {
	t.Helper()
	if len(faults) != 1 {
		t.Fatalf("%d faults of one frame", len(faults))
	}
	data := faults[0].Inputs()
	if strings.Contains(data, "\n") || !errors.Is(faults[0], faults[0].Broken) {
		t.Fatalf("%v: %s", faults[0], data)
	}
	var inputs struct {
		Catalogue, Profile json.RawMessage
		Relaxed            []string
		Build              struct {
			AddOns []string `json:"add_ons"`
		}
	}
	if err := json.Unmarshal([]byte(data), &inputs); err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Parse(inputs.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse(inputs.Profile)
	if err != nil {
		t.Fatal(err)
	}
	m, err := One(t.Context(), c, &c.Frames[0], p, j.settings, Options{})
	if err != nil || len(c.Frames) != 1 || !slices.Equal(m.Build.AddOns, inputs.Build.AddOns) || len(m.Relaxed) != len(inputs.Relaxed) {
		t.Errorf("%v instead of %v, %v", m.Build.AddOns, inputs.Build.AddOns, err)
	}
}

// A set that was chosen by hand and does not go together is known to be one.
func TestMisfitsAreNoFault(t *testing.T) {
	j := mistaken(t, "twins")
	j.auditor = audit.New(j.catalogue)
	ctx := Reporting(t.Context(), func(f *Fault) { t.Error(f) })
	misfits := 0
	for i := range j.catalogue.Frames {
		f := &j.catalogue.Frames[i]
		var all []string
		for k := range j.catalogue.AddOns {
			if a := &j.catalogue.AddOns[k]; slices.Contains(a.Fits, f.Code) {
				all = append(all, a.Code)
			}
		}
		m, err := ByHand(ctx, j.catalogue, f, j.profile, j.settings, all)
		if err != nil {
			t.Fatal(err)
		}
		misfits += len(m.Misfits)
	}
	if misfits == 0 {
		t.Error("everything goes together")
	}
}
