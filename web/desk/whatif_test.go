package desk_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"kinwain/web/webtest"
)

// longer is what lasting longer costs, which is worked out for the page alone.
var longer = regexp.MustCompile(` \([^)]* more: [^)]*\)`)

// TestWhatIfIsTheAnswerToThat holds what is supposed of a frame to what the
// frame's page says once the profile says it, and that nothing of it is kept.
func TestWhatIfIsTheAnswerToThat(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	document := strings.Replace(webtest.Family, `"sits_unaided": null`, `"sits_unaided": true`, 1)
	address := v.Interview([]byte(document))
	path := address + "/frames/osier-m"
	before := v.Get(path)
	for name, c := range map[string]struct {
		query         url.Values
		with, as, say string
	}{
		"more cargo":     {url.Values{"more": {"20"}}, "With 20 kg more cargo", strings.Replace(document, `"cargo_kg": 12`, `"cargo_kg": 32`, 1), "without it"},
		"less cargo":     {url.Values{"more": {"-10"}}, "With 10 kg less cargo", strings.Replace(document, `"cargo_kg": 12`, `"cargo_kg": 2`, 1), "without it"},
		"another child":  {url.Values{"child": {"4"}}, "With another child of 4 years", strings.Replace(document, `"passengers": [`, `"passengers": [{"label": "another child", "born": "2022-11", "sits_unaided": true}, `, 1), "without it"},
		"another rider":  {url.Values{"tall": {"5'11"}, "heavy": {"95 kg"}}, "With another rider X, 180.3 cm and 95 kg dressed", strings.Replace(document, `"riders": [`, `"riders": [{"label": "X", "height_cm": 180.3, "weight_kg": 95, "weighed": "dressed"}, `, 1), "all in"},
		"both, and more": {url.Values{"more": {"5"}, "child": {"2"}}, "With 5 kg more cargo and another child of 2 years", "", "of 200 kg"},
	} {
		a := v.Get(path + "?" + c.query.Encode())
		if got := a.Text("#supposed h3"); got != c.with || a.Text("#what-if") != "What if: w"+c.with[1:] {
			t.Errorf("%s: supposed is %q under %q", name, got, a.Text("#what-if"))
		}
		a.One("details.what-if[open]")
		if got := a.Text("#supposed"); !strings.Contains(got, c.say) || !strings.Contains(got, "the consultation stays as it is") {
			t.Errorf("%s: %s", name, got)
		}
		if got := a.Text(".frame > header"); got != before.Text(".frame > header") {
			t.Errorf("%s: the page itself says %q", name, got)
		}
		if c.as == "" {
			continue
		}
		then := v.Get(v.Interview([]byte(c.as)) + "/frames/osier-m")
		if got, want := a.Text("#supposed > .line"), longer.ReplaceAllString(then.Text(".frame > header .line"), ""); got != want {
			t.Errorf("%s: supposed %q, and it is %q", name, got, want)
		}
		if got, want := webtest.VerdictOf(a.Page.Find("#supposed .verdict")), webtest.VerdictOf(then.One(".frame > header .verdict")); got != want {
			t.Errorf("%s: supposed %s, and it is %s", name, got, want)
		}
	}
	if after := v.Get(path); after.Text(".frame") != before.Text(".frame") {
		t.Error("the consultation is another")
	}
}

// TestWhatIfTakesAnything types what cannot be supposed.
func TestWhatIfTakesAnything(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	path := v.Interview([]byte(webtest.Family)) + "/frames/osier-m"
	for query, want := range map[string]string{"more=7&child=99": "", "tall=178": "and weight, dressed: write it like", "tall=tall&heavy=80": "Another rider’s height: write it like", "tall=178&heavy=900": "weight, dressed: "} {
		a := v.Get(path+"?"+query).Is(http.StatusOK, path+"?"+query)
		a.Count("#supposed .verdict", 0)
		if got := a.Text("#supposed > .line"); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%s: %q", query, got)
		}
	}
}
