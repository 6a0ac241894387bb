package wideshop

import (
	"math/rand/v2"
	"slices"

	"kinwain/internal/catalog"
)

// Varied returns the shop that Of returns with all that is weighed, rated,
// measured and priced a little off, everything by another part of it, so that
// no two copies ask the same of whoever judges them. It is the same shop each
// time.
func Varied(demo *catalog.Catalogue, frames, addOns int) *catalog.Catalogue {
	c := Of(demo, frames, addOns)
	v := varying{rand.New(rand.NewPCG(1, 1))}
	for i := range c.Frames {
		v.frame(&c.Frames[i])
	}
	for i := range c.AddOns {
		v.addOn(&c.AddOns[i])
	}
	return c
}

type varying struct{ *rand.Rand }

// percent is how far off a figure is at the most.
const percent = 3

// off puts figures off. One that is not stated stays so.
func off[Q ~int | ~int64](v varying, figures ...*Q) {
	for _, f := range figures {
		by := int64(*f) * percent / 100
		if by < 0 {
			by = -by
		}
		*f += Q(v.Int64N(2*by+1) - by)
	}
}

func (v varying) frame(f *catalog.Frame) {
	off(v, &f.GrossRating, &f.BareWeight, &f.FrontAxleRating, &f.RearAxleRating)
	off(v, &f.RiderMin, &f.RiderMax, &f.Length, &f.Width, &f.Height, &f.Wheelbase, &f.RiderAhead)
	off(v, &f.Upright.Length, &f.Upright.Width, &f.Upright.Height)
	off(v, &f.Price)
	f.Zones, f.Combined = slices.Clone(f.Zones), slices.Clone(f.Combined)
	for i := range f.Zones {
		z := &f.Zones[i]
		off(v, &z.Rating, &z.Cargo)
		off(v, &z.Ahead)
		off(v, &z.CargoVolume)
	}
	for i := range f.Combined {
		off(v, &f.Combined[i].Rating)
	}
	f.Places = v.places(f.Places)
}

func (v varying) addOn(a *catalog.AddOn) {
	off(v, &a.Weight, &a.MaxLoad, &a.Cargo, &a.Pet, &a.StandMax, &a.DisplacesCargo)
	off(v, &a.CargoVolume, &a.DisplacesVolume)
	off(v, &a.FrontOverhang, &a.RearOverhang, &a.OverallWidth, &a.OverallHeight)
	off(v, &a.Price)
	a.Places = v.places(a.Places)
}

func (v varying) places(of []catalog.Place) []catalog.Place {
	places := slices.Clone(of)
	for i := range places {
		off(v, &places[i].MinMass, &places[i].MaxMass)
		off(v, &places[i].MaxStature)
	}
	return places
}
