package takehome_test

import (
	"strings"
	"testing"

	"kinwain/testdata"
	"kinwain/web/webtest"
)

// TestStagesMoveAtHome types what a child weighs who is to change its seat in a
// year: the months of both stages move with it, beside those that were told.
func TestStagesMoveAtHome(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	document, err := testdata.Profiles.ReadFile("profiles/short-rider.json")
	if err != nil {
		t.Fatal(err)
	}
	link := v.SendHome(v.Interview(document), "sedge", nil)
	stages := func(weight string) string {
		a := typing(s.Stranger(), link, "", map[string]string{"passengers[0].weight_kg": weight})
		return strings.Join(row(a, "Stage 1 of the plan"), " | ") + "; " + strings.Join(row(a, "Stage 2 of the plan"), " | ") + "; " + a.Text("#moved .alert")
	}
	for weight, want := range map[string]string{
		"23.8": "November 2026 to October 2027 | November 2026 to August 2029; November 2027 to October 2029 | September 2029 to October 2029; ",
		"29":   "November 2026 to October 2027 | November 2026 to December 2027; November 2027 to October 2029 | January 2028 to October 2029; ",
		"32":   "November 2026 to October 2027 | November 2026 to April 2027; November 2027 to October 2029 | no longer serves; From the beginning of May 2027 on no stage of the plan carries everyone. Ask the shop in good time.",
		"35":   "November 2026 to October 2027 | no longer serves; November 2027 to October 2029 | no longer serves; Ask the shop before anybody rides like this. No rating and no limit of a place may be passed.",
	} {
		if got := strings.ReplaceAll(stages(weight), "\u00a0", " "); got != want {
			t.Errorf("%s kg: %s", weight, got)
		}
	}
}
