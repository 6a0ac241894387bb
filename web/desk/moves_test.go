package desk_test

import (
	"maps"
	"regexp"
	"slices"
	"testing"

	"kinwain/web/webtest"
)

// TestWhatMovedIsSaid answers one question after the other, and holds the line
// that says what moved against the two lists.
func TestWhatMovedIsSaid(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	f := v.Get(address).Form()
	a := v.Post(address+"/live", f.Values)
	if got := a.Text(".moves"); got != "" {
		t.Errorf("nothing was answered, and %q", got)
	}
	kinds := map[string]bool{}
	for _, c := range []struct{ name, typed string }{{"cargo_kg", "45"}, {"cargo_kg", "12"}, {"budget_cents", "2500"}, {"years", "1"}, {"riders[0].label", "Z"}} {
		before := toldByLive(a)
		f.Set(c.name, c.typed)
		f.Values.Set("version", v.Get(address).Form().Values.Get("version"))
		a = v.Post(address+"/live", f.Values)
		after, said := toldByLive(a), a.Text(".moves")
		ruledOut := func(list []webtest.Told) (out []string) {
			for _, one := range list {
				if one.Verdict == "does_not_fit" {
					out = append(out, one.Frame)
				}
			}
			slices.Sort(out)
			return out
		}
		was, now := ruledOut(before), ruledOut(after)
		lost := slices.ContainsFunc(now, func(code string) bool { return !slices.Contains(was, code) })
		back := slices.ContainsFunc(was, func(code string) bool { return !slices.Contains(now, code) })
		for kind, is := range map[string]bool{` (is|are) out\. \S.*\.`: lost, ` (is|are) in again\.`: back} {
			if regexp.MustCompile(kind).MatchString(said) != is {
				t.Errorf("%s is %s: %v are out, then %v, and it says %q", c.name, c.typed, was, now, said)
			}
			if is {
				kinds[kind] = true
			}
		}
		if up := regexp.MustCompile(`goes up from \d+ to \d+, most by `).MatchString(said); up {
			kinds["up"] = true
		}
		if c.typed == "Z" && said != "No frame moved." {
			t.Errorf("a name moved something: %q", said)
		}
	}
	if len(kinds) < 3 {
		t.Errorf("only %v came up", slices.Collect(maps.Keys(kinds)))
	}
	if got := v.Post(address+"/live", v.Get(address).Form().Values).Text(".moves"); got != "" {
		t.Errorf("sent again it says %q", got)
	}
}
