package desk_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/web/webtest"
)

var climbed = regexp.MustCompile(`^(.+) goes up from (\d+) to (\d+), past (.+), most (by|because) `)

// orderOf are the names of frames as they stand in the short ranking.
func orderOf(a *webtest.Answer) []string {
	return a.Page.Find(".short > li[data-frame] strong").Map(func(_ int, e *goquery.Selection) string { return webtest.Words(e) })
}

// holdsClimb holds what is said of a frame that went up against the lists: it
// was at the one place and is at the other, and stood behind whom it has passed.
func holdsClimb(t *testing.T, said, before, after []string) {
	t.Helper()
	from, to := slices.Index(before, said[1]), slices.Index(after, said[1])
	if fmt.Sprint(from+1) != said[2] || fmt.Sprint(to+1) != said[3] || to >= from {
		t.Errorf("%q, from %d to %d", said[0], from+1, to+1)
	}
	for name := range strings.SplitSeq(strings.NewReplacer(" and ", ", ").Replace(said[4]), ", ") {
		if strings.HasSuffix(name, " more") {
			continue
		}
		if was, now := slices.Index(before, name), slices.Index(after, name); was < 0 || was > from || now < to {
			t.Errorf("%q, but %s was at %d and is at %d", said[0], name, was+1, now+1)
		}
	}
}

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
		before, order := toldByLive(a), orderOf(a)
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
		for kind, is := range map[string]bool{` (is|are) out\. \S.*\.`: lost, ` (is|are) in again\.` + map[bool]string{false: " Before.*: \\S.*\\.$"}[lost]: back} {
			if regexp.MustCompile(kind).MatchString(said) != is {
				t.Errorf("%s is %s: %v are out, then %v, and it says %q", c.name, c.typed, was, now, said)
			}
			if is {
				kinds[kind] = true
			}
		}
		if up := climbed.FindStringSubmatch(said); up != nil {
			kinds["up"] = true
			holdsClimb(t, up, order, orderOf(a))
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

// TestMovesSinceSomebodyRead answers fast: until somebody may have read what has
// moved, the line tells what all of the answers have moved, not the last alone.
func TestMovesSinceSomebodyRead(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	f := v.Get(address).Form()
	since := f.Values.Get("version")
	answer := func(name, typed, since string) string {
		t.Helper()
		f.Set(name, typed)
		f.Values.Set("version", v.Get(address).Form().Values.Get("version"))
		f.Values.Set("since", since)
		return v.Post(address+"/live", f.Values).Text(".moves")
	}
	moved := answer("cargo_kg", "45", since)
	if moved == "" || moved == "No frame moved." {
		t.Fatalf("45 kg: %q", moved)
	}
	if got := answer("riders[0].label", "Z", since); got != moved {
		t.Errorf("with a name behind it %q is %q", moved, got)
	}
	if got := answer("riders[0].label", "Y", v.Get(address).Form().Values.Get("version")); got != "No frame moved." {
		t.Errorf("once that is read: %q", got)
	}
	if got := answer("cargo_kg", "12", since); got != "No frame moved." {
		t.Errorf("as it was: %q", got)
	}
	if got := answer("cargo_kg", "45", "999"); got != moved {
		t.Errorf("since a version that is not there: %q", got)
	}
}
