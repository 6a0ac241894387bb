// Riding weights: what a rider counts with, worked out by hand.
package load_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

const (
	g  = measure.Gram
	kg = measure.Kilogram
	mm = measure.Millimetre
)

// allowances are what a shop starts with: 4 kg where the scale read the
// undressed rider, 6 kg where nobody weighed at all (common practice, no
// published source).
var allowances = load.Allowances{Undressed: 4 * kg, Stated: 6 * kg}

func rider(label string, weight profile.Answer[measure.Mass], weighed profile.Answer[profile.Weighed]) profile.Rider {
	return profile.Rider{Label: label, Height: profile.Given(measure.Length(1780)), Weight: weight, Weighed: weighed}
}

func TestRidersCountDressedToRide(t *testing.T) {
	t.Parallel()
	weighed := profile.Given[profile.Weighed]
	for _, c := range []struct {
		name      string
		rider     profile.Rider
		riding    measure.Mass
		estimated bool
	}{
		{"the dressed reading is the riding weight", rider("A", profile.Given(82*kg), weighed(profile.Dressed)), 82 * kg, false},
		{"undressed adds 4 kg", rider("A", profile.Given(82*kg), weighed(profile.Undressed)), 86 * kg, true},
		{"stated adds 6 kg", rider("A", profile.Given(82*kg), weighed(profile.Stated)), 88 * kg, true},
		{"an absent answer counts as stated", rider("A", profile.Given(82*kg), profile.Answer[profile.Weighed]{}), 88 * kg, true},
		{"an unknown answer counts as stated", rider("A", profile.Given(82*kg), profile.Unknown[profile.Weighed]()), 88 * kg, true},
		{"to the gram", rider("A", profile.Given(63*kg+1*g), weighed(profile.Undressed)), 67*kg + 1*g, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			own, _ := c.rider.Weight.Get()
			want := []load.Rider{{Label: "A", Own: own, Riding: c.riding, Estimated: c.estimated}}
			if diff := cmp.Diff(want, load.Riders(&profile.Profile{Riders: []profile.Rider{c.rider}}, allowances)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestRidersFollowTheShopsAllowances(t *testing.T) {
	t.Parallel()
	p := &profile.Profile{Riders: []profile.Rider{rider("A", profile.Given(70*kg), profile.Given(profile.Undressed)), rider("B", profile.Given(70*kg), profile.Given(profile.Stated))}}
	riders := load.Riders(p, load.Allowances{Undressed: 3 * kg, Stated: 7500 * g})
	if riders[0].Riding != 73*kg || riders[1].Riding != 77500*g {
		t.Errorf("riding weights %v and %v, want 73 kg and 77.5 kg", riders[0].Riding, riders[1].Riding)
	}
}

func TestRidersWithoutAWeightAreLeftOut(t *testing.T) {
	t.Parallel()
	p := &profile.Profile{Riders: []profile.Rider{
		rider("A", profile.Unknown[measure.Mass](), profile.Given(profile.Dressed)),
		rider("B", profile.Given(58*kg), profile.Given(profile.Dressed)),
		rider("C", profile.Answer[measure.Mass]{}, profile.Given(profile.Dressed)),
	}}
	riders := load.Riders(p, allowances)
	if len(riders) != 1 || riders[0].Label != "B" {
		t.Errorf("riders %v, want B alone", riders)
	}
}

func TestHeaviestCountsAllowances(t *testing.T) {
	t.Parallel()
	riders := []load.Rider{{Label: "A", Own: 84 * kg, Riding: 84 * kg}, {Label: "B", Own: 79 * kg, Riding: 85 * kg}}
	if got := load.Heaviest(riders); got != 85*kg {
		t.Errorf("heaviest %v, want 85 kg: the lighter on the scale is the heavier to ride", got)
	}
	if got := load.Heaviest(nil); got != 0 {
		t.Errorf("heaviest of nobody %v", got)
	}
}
