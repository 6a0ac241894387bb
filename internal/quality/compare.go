package quality

import (
	"math"
	"reflect"
	"slices"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// alike finds frames that are the same in all but code, name, price, notes,
// manual and where their figures come from.
func (k *checker) alike() {
	frames := k.catalogue.Frames
	for i := range frames {
		for j := range i {
			if reflect.DeepEqual(bare(frames[i]), bare(frames[j])) {
				k.add(Finding{Alike, Doubt, "frames", frames[i].Code, "price_cents",
					sentence("It is the same as the %s (%s) in all but name, notes and price.", frames[j].Name, frames[j].Code)})
				break
			}
		}
	}
}

func bare(f catalog.Frame) catalog.Frame {
	f.Code, f.Name, f.Price, f.Notes, f.Manual = "", "", 0, "", ""
	f.Names, f.NotesIn, f.Evidence = catalog.Spoken{}, catalog.Spoken{}, nil
	return f
}

const (
	// threshold is how far out a modified z-score calls for a look: 3.5
	// (B. Iglewicz and D. C. Hoaglin, How to Detect and Handle Outliers, ASQC
	// Basic References in Quality Control 16, 1993).
	threshold = 3.5
	// normal makes the median absolute deviation of normal figures count like
	// a standard deviation: the upper quartile of the standard normal (same).
	normal = 0.6745
	// fewest is the size from which a family says what is usual in it.
	fewest = 4
	// slip is how many times the median a figure is, or how small a part of it,
	// that counts as far out where all others are the same and the score has no
	// meaning (common practice, no published source).
	slip = 2
)

// ModifiedZ returns, for every figure, 0.6745·(x − median)/MAD, where MAD is
// the median of the distances from the median (Iglewicz and Hoaglin, 1993).
// None is returned where MAD is 0.
func ModifiedZ(figures []float64) []float64 {
	middle := median(figures)
	spread := deviation(figures, middle)
	if spread == 0 {
		return nil
	}
	scores := make([]float64, len(figures))
	for i, x := range figures {
		scores[i] = normal * (x - middle) / spread
	}
	return scores
}

func deviation(figures []float64, from float64) float64 {
	distances := make([]float64, len(figures))
	for i, x := range figures {
		distances[i] = math.Abs(x - from)
	}
	return median(distances)
}

// median returns the middle of figures, or the mean of the two in the middle;
// 0 of none.
func median(figures []float64) float64 {
	sorted := slices.Sorted(slices.Values(figures))
	n := len(sorted)
	if n == 0 {
		return 0
	}
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// shared is a figure that frames of one family have in common.
type shared struct {
	field string
	name  string
	of    func(*catalog.Frame) int64
	show  func(int64) string
}

func mass(n int64) string   { return measure.Mass(n).String() }
func length(n int64) string { return measure.Length(n).String() }

var comparables = []shared{
	{"gross_rating_kg", "gross rating", func(f *catalog.Frame) int64 { return int64(f.GrossRating) }, mass},
	{"bare_weight_kg", "bare weight", func(f *catalog.Frame) int64 { return int64(f.BareWeight) }, mass},
	{"price_cents", "price", func(f *catalog.Frame) int64 { return int64(f.Price) }, func(n int64) string { return measure.Money(n).String() }},
	{"length_cm", "length", func(f *catalog.Frame) int64 { return int64(f.Length) }, length},
	{"width_cm", "width", func(f *catalog.Frame) int64 { return int64(f.Width) }, length},
	{"height_cm", "height", func(f *catalog.Frame) int64 { return int64(f.Height) }, length},
	{"wheelbase_cm", "wheelbase", func(f *catalog.Frame) int64 { return int64(f.Wheelbase) }, length},
	{"standover_cm", "standover", func(f *catalog.Frame) int64 { return int64(f.Standover) }, length},
	{"rider_min_cm", "least height of a rider", func(f *catalog.Frame) int64 { return int64(f.RiderMin) }, length},
	{"rider_max_cm", "greatest height of a rider", func(f *catalog.Frame) int64 { return int64(f.RiderMax) }, length},
}

// farOut finds figures far from those of the rest of a family.
func (k *checker) farOut() {
	families := map[string][]*catalog.Frame{}
	var names []string
	for i := range k.catalogue.Frames {
		f := &k.catalogue.Frames[i]
		if families[f.Family] == nil {
			names = append(names, f.Family)
		}
		families[f.Family] = append(families[f.Family], f)
	}
	for _, family := range names {
		for _, c := range comparables {
			k.compare(family, families[family], c)
		}
	}
}

// compare looks at one figure of a family, among those frames that state it.
func (k *checker) compare(family string, frames []*catalog.Frame, c shared) {
	var stated []*catalog.Frame
	var figures []float64
	for _, f := range frames {
		if n := c.of(f); n > 0 {
			stated, figures = append(stated, f), append(figures, float64(n))
		}
	}
	if len(figures) < fewest {
		return
	}
	middle, scores := median(figures), ModifiedZ(figures)
	for i, x := range figures {
		far := scores == nil && (x >= slip*middle || x*slip <= middle)
		why := "the others are all about the same"
		if scores != nil {
			far, why = math.Abs(scores[i]) > threshold, sentence("a modified z-score of %.1f", scores[i])
		}
		if far {
			k.add(Finding{FarOut, Doubt, "frames", stated[i].Code, c.field,
				sentence("The %s of %s is far from the median of %s of its family %s (%s).", c.name, c.show(int64(x)), c.show(int64(middle)), family, why)})
		}
	}
}
