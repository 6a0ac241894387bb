package takehome

import (
	"bytes"
	"path"
	"slices"
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

// withoutWeights draws the page of a frame without the riders' weights, and
// returns what it says is to spare.
func withoutWeights(t *testing.T, shop *advice.Shop, frame *catalog.Frame, p *profile.Profile) (page []byte, least *measure.Mass) {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	ctx := t.Context()
	m, err := shop.Best(ctx, frame, p, match.Options{Changes: true})
	must(err)
	s, err := summary.Of(shop, p, m, false)
	must(err)
	s.Hide = true
	document, err := s.Document()
	must(err)
	k, err := summary.Read(document)
	must(err)
	told, err := k.Answer(ctx)
	must(err)
	written, err := told.Document()
	must(err)
	told, err = k.ReadAnswer(written)
	must(err)
	c := &talk.Consultation{Profile: k.Customer, Shop: k.Shop, Speaker: say.New(say.English, measure.Metric)}
	view, err := fitView(ctx, c, k, told, k.Shop)
	must(err)
	view.FitShell = fitShell(c.Speaker)
	var drawn bytes.Buffer
	must(FitPage(view).Render(ctx, &drawn))
	return drawn.Bytes(), told.Least
}

// weighing returns a profile with one rider heavier.
func weighing(p *profile.Profile, rider int, more measure.Mass) *profile.Profile {
	other := *p
	other.Riders = slices.Clone(p.Riders)
	other.Riders[rider].Weight = profile.Given(p.Riders[rider].Weight.Or(0) + more)
	return &other
}

// fine is how finely the end of an interval is looked for.
const fine measure.Mass = 16

// within returns how wide the interval of weights of a rider is that leave the
// page as it is, as far as width and to within the fineness of the look.
func within(same func(more measure.Mass) bool, width measure.Mass) measure.Mass {
	const stride = 1000
	edge := func(way, most measure.Mass) measure.Mass { // the last that is the same
		for at := measure.Mass(0); at < most; at += stride {
			if same(way * (at + stride)) {
				continue
			}
			low, high := at, at+stride
			for high-low > fine {
				if middle := (low + high) / 2; same(way * middle) {
					low = middle
				} else {
					high = middle
				}
			}
			return low
		}
		return most
	}
	lighter := edge(-1, width)
	if lighter >= width {
		return lighter
	}
	return lighter + edge(1, width) + 2*fine
}

// TestNobodyWorksOutAWeight holds that whatever a page without the riders'
// weights shows is the same for everybody within 5 kg of a rider: the page is
// drawn for other weights until it is another page. So no one who knows the
// frame, the add-ons, everyone else and the shop's settings comes closer,
// however the figures of the page are put together.
func TestNobodyWorksOutAWeight(t *testing.T) {
	t.Parallel()
	c, err := catalog.Parse(testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	shop := &advice.Shop{Catalogue: c, Settings: match.DefaultSettings()}
	files, err := testdata.Profiles.ReadDir("profiles")
	if err != nil || len(files) < 8 {
		t.Fatal(len(files), err)
	}
	for _, file := range files {
		t.Run(file.Name(), func(t *testing.T) {
			t.Parallel()
			document, err := testdata.Profiles.ReadFile(path.Join("profiles", file.Name()))
			if err != nil {
				t.Fatal(err)
			}
			p, err := profile.Parse(document)
			if err != nil {
				t.Fatal(err)
			}
			ranked, err := shop.Rank(t.Context(), p, match.Options{})
			if err != nil {
				t.Fatal(err)
			}
			said, unfit := 0, 0
			for _, m := range ranked {
				frame := m.Frame
				if !m.Fits() {
					if unfit++; unfit > 2 {
						break
					}
				}
				page, least := withoutWeights(t, shop, frame, p)
				if least != nil {
					said++
				}
				for rider := range p.Riders {
					if !p.Riders[rider].Weight.IsGiven() {
						continue
					}
					width := within(func(more measure.Mass) bool {
						other, _ := withoutWeights(t, shop, frame, weighing(p, rider, more))
						return bytes.Equal(page, other)
					}, 5000)
					if width < 5000 {
						t.Errorf("%s: rider %s is known within %v (%v is said to be spare)", frame.Code, p.Riders[rider].Label, width, least)
					}
				}
			}
			if said == 0 && ranked[0].Fits() {
				t.Error("no page says a figure, so that was not tried")
			}
		})
	}
}
