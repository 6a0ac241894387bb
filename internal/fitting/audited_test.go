// The auditor that stands in production between the search and the shop: it
// passes what the search gives, and the checker of the tests agrees.
package fitting_test

import (
	"testing"

	"kinwain/internal/fitting"
	"kinwain/internal/fitting/audit"
	"kinwain/internal/profile"
)

// audited solves an instance by every objective and has each build checked.
func audited(t tester, in *instance) (builds int) {
	t.Helper()
	auditor := audit.New(in.catalogue)
	for _, objective := range profile.Objectives {
		b := solve(t, in, objective, fitting.AllRules)
		if b == nil {
			break
		}
		builds++
		if err := auditor.Check(in.frame, in.demand(), b); err != nil {
			t.Errorf("%s: %s: %v; the other checker says %v", objective, said(b), err, broken(in, in.profile.AsOf, b))
		}
	}
	in.show(t)
	return builds
}

func TestTheAuditorPassesEveryBuild(t *testing.T) {
	t.Parallel()
	builds := 0
	for _, s := range []shape{anything, families, couriers, outings, choosers} {
		for seed := range 400 {
			builds += audited(t, sample(s, seed))
			if t.Failed() {
				return
			}
		}
	}
	for seed := range 40 {
		builds += audited(t, bagged(8, seed))
	}
	if builds < 2000 {
		t.Errorf("%d builds only", builds)
	}
}
