package takehome

import (
	"bytes"
	"net/url"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
	"kinwain/internal/summary"
	"kinwain/testdata"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// hiddenAt keeps a summary without the riders' weights, of which rider A weighs
// as much more, with the same add-ons and with what was told of rider A as they
// are: what is asked of it later can tell the weight alone.
func hiddenAt(t *testing.T, more measure.Mass) *livesViewer {
	t.Helper()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	shop := &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}
	document, err := testdata.Profiles.ReadFile("profiles/twins.json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Parse(document)
	if err != nil {
		t.Fatal(err)
	}
	m, err := shop.Best(t.Context(), c.Frame("osier-m"), p, match.Options{Stages: true})
	if err != nil {
		t.Fatal(err)
	}
	s, err := summary.Of(shop, p, m, false)
	if err != nil {
		t.Fatal(err)
	}
	s.Hide = true
	if document, err = s.Document(); err != nil {
		t.Fatal(err)
	}
	k, err := summary.Read(document)
	if err != nil {
		t.Fatal(err)
	}
	told, err := k.Answer(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	k.Customer.Riders = slices.Clone(k.Customer.Riders)
	k.Customer.Riders[0].Weight = profile.Given(k.Customer.Riders[0].Weight.Or(0) + more)
	consultation := &talk.Consultation{Profile: k.Customer, Shop: k.Shop, Speaker: say.New(say.English, measure.Metric)}
	return &livesViewer{fitViewer{talk.Told(consultation, told), k, told.Least}, k.Customer.AsOf, k.Customer.AsOf}
}

// says draws what the page says to what was typed.
func (v *livesViewer) says(t *testing.T, posted url.Values) string {
	t.Helper()
	l := v.form("/fit/x")
	if err := v.answer(t.Context(), &l, posted); err != nil {
		t.Fatal(err)
	}
	var drawn bytes.Buffer
	if err := livesOf(v.Say, l).Render(t.Context(), &drawn); err != nil {
		t.Fatal(err)
	}
	return drawn.String()
}

// TestNobodyWorksOutAWeightByTrying types child after child, and another rider,
// under a rider whose weight is left out: whatever that rider weighs, up to
// twice as much, the page says the same, so that nothing is learnt of it. Where
// the weight is not left out it does say another thing.
func TestNobodyWorksOutAWeightByTrying(t *testing.T) {
	t.Parallel()
	light, heavy := hiddenAt(t, 0), hiddenAt(t, 80*measure.Kilogram)
	open, other := hiddenAt(t, 0), hiddenAt(t, 80*measure.Kilogram)
	open.kept.Hide, other.kept.Hide = false, false
	told := 0
	for _, posted := range []url.Values{
		{"passengers[0].weight_kg": {"9.5"}}, {"passengers[0].weight_kg": {"12"}}, {"passengers[0].weight_kg": {"21"}}, {"passengers[0].weight_kg": {"60"}},
		{"riders[1].weight_kg": {"58"}, "riders[1].weighed": {"dressed"}}, {"riders[1].weight_kg": {"190"}}, {"passengers[0].weight_kg": {"12"}, "passengers[1].stature_cm": {"96"}, "riders[1].weight_kg": {"70"}},
		{"riders[0].weight_kg": {"75"}, "riders[1].weight_kg": {"70"}}, {"riders[0].weight_kg": {"x"}}, {},
	} {
		one, two := light.says(t, posted), heavy.says(t, posted)
		if one != two {
			t.Errorf("%v: the page tells what the rider weighs:\n%s\n%s", posted, one, two)
		}
		if all := posted.Has("riders[0].weight_kg") && posted.Has("riders[1].weight_kg"); strings.Contains(one, "to spare") != all && strings.Contains(strings.SplitN(one, `id="moved"`, 2)[1], "kg to spare") != all {
			t.Errorf("%v: what is to spare is said: %v", posted, !all)
		}
		if open.says(t, posted) != other.says(t, posted) {
			told++
		}
	}
	if told < 5 {
		t.Errorf("the weight makes a difference to %d answers only, so that was hardly tried", told)
	}
}
