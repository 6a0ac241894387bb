package match

import (
	"slices"
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/load"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// standardWheel is the bead seat diameter from which wheels are common (559
// mm, ISO 5775).
const standardWheel = 559

// specReasons tells what the maker does not state and bears on this customer,
// with care where this load leans on it, and of wheels that only the maker
// supplies.
func (j *judge) specReasons(m *Match) []Reason {
	f := m.Frame
	var reasons []Reason
	front, rear := catalog.BeadSeat(f.FrontTyre), catalog.BeadSeat(f.RearTyre)
	if f.OddWheel && (front > 0 && front < standardWheel || rear > 0 && rear < standardWheel) {
		reasons = append(reasons, Reason{Code: ReasonOddWheel, Weight: Note,
			Message: say("A small wheel that only the maker supplies. Ask how long spares take.")})
	}
	leant, plain := apart(j.unstated(m))
	if len(leant) > 0 {
		reasons = append(reasons, Reason{Code: ReasonSpecMissing, Weight: Care, Fields: fieldsOf(leant),
			Message: say("The maker does not state %v, which this load leans on. Ask the maker before anybody rides.", namesOf(leant))})
	}
	if len(plain) > 0 {
		reasons = append(reasons, Reason{Code: ReasonSpecMissing, Weight: Note, Fields: fieldsOf(plain),
			Message: say("The maker does not state %v, so this is not checked. Ask before loading to the full.", namesOf(plain))})
	}
	return reasons
}

// fieldsOf lists the figures by the paths of documents, those of an add-on
// after its code.
func fieldsOf(specs []spec) []string {
	var fields []string
	for _, s := range specs {
		if s.addOn != "" {
			s.field = s.addOn + "." + s.field
		}
		fields = append(fields, s.field)
	}
	return fields
}

// namesOf lists the figures as people do: a, b and c.
func namesOf(specs []spec) Message {
	names := specs[0].name
	for i, s := range specs[1:] {
		if i == len(specs)-2 {
			return say("%v and %v", names, s.name)
		}
		names = say("%v, %v", names, s.name)
	}
	return names
}

// spec is a figure that the maker does not state. Where the load leans on it, it
// is more than good to know.
type spec struct {
	field string
	name  Message
	leans bool
	addOn string // that the figure is of, where it is not of the frame
}

// unstated lists what the maker does not state. Every figure is asked for by
// itself, whatever else is stated: a frame of which less is known never gets
// fewer of these than one of which more is.
func (j *judge) unstated(m *Match) []spec {
	specs := j.unstatedOfRiders(m.Frame)
	if m.Frame.PassengersMax == 0 && len(m.aboard.seated) > 0 {
		specs = append(specs, spec{"passengers_max", say("a limit for the number of passengers"), true, ""})
	}
	specs = append(specs, unstatedAxles(m.Frame, j.leansOnAxles(m))...)
	specs = append(specs, unstatedZones(m)...)
	return append(specs, unstatedPlaces(m)...)
}

func (j *judge) unstatedOfRiders(f *catalog.Frame) []spec {
	inseam, reduced := false, false
	for i := range j.profile.Riders {
		inseam = inseam || j.profile.Riders[i].Inseam.IsGiven()
		reduced = reduced || j.profile.Riders[i].Grip.Or(profile.FullGrip) == profile.ReducedGrip
	}
	var specs []spec
	if f.RiderMaxMass == 0 && len(j.demand.Riders) > 0 {
		heavy := load.Heaviest(j.demand.Riders) > j.settings.HeavyRider
		specs = append(specs, spec{"rider_max_kg", say("a limit for the rider's weight"), heavy, ""})
	}
	if f.Standover == 0 && inseam {
		specs = append(specs, spec{"standover_cm", say("a standover height"), false, ""})
	}
	if (f.SaddleMin == 0 || f.SaddleMax == 0) && inseam {
		specs = append(specs, spec{"saddle_min_cm", say("a saddle range"), false, ""})
	}
	if (f.FrontBrake == "" || f.RearBrake == "") && reduced {
		specs = append(specs, spec{"front_brake", say("the brakes"), false, ""})
	}
	return specs
}

// leansOnAxles reports whether the load is one for which the axles matter.
func (j *judge) leansOnAxles(m *Match) bool {
	cargo := measure.Mass(0)
	for i := range m.aboard.items {
		if m.aboard.items[i].Kind == load.Cargo {
			cargo += m.aboard.items[i].Mass
		}
	}
	return len(m.aboard.seated) > 0 || cargo > j.settings.HeavyCargo
}

func unstatedAxles(f *catalog.Frame, leans bool) []spec {
	var specs []spec
	add := func(stated bool, field string, name Message) {
		if !stated {
			specs = append(specs, spec{field, name, leans, ""})
		}
	}
	add(f.FrontAxleRating > 0, "front_axle_max_kg", say("a rating for the front axle"))
	add(f.RearAxleRating > 0, "rear_axle_max_kg", say("a rating for the rear axle"))
	add(f.Wheelbase > 0, "wheelbase_cm", say("the wheelbase"))
	add(f.RiderAhead != 0, "rider_ahead_of_rear_axle_cm", say("where the rider sits"))
	add(f.BareFrontShare > 0, "bare_front_share", say("how its bare weight is spread"))
	return specs
}

// unstatedZones names the zones without a rating in which something sits. A
// passenger leans on the rating, and so does what an add-on carries that has
// no limit of its own.
func unstatedZones(m *Match) []spec {
	var specs []spec
	for at := range m.Frame.Zones {
		z := &m.Frame.Zones[at]
		if z.Rating > 0 {
			continue
		}
		sits, leans := measure.Mass(0), false
		for k := range m.aboard.items {
			if i := &m.aboard.items[k]; i.Kind != load.TakenOff && i.Spot.Zone == at {
				sits += i.Mass
				leans = leans || i.Kind == load.Passenger || i.Carried() && unlimited(m.aboard.fitted, i.Code)
			}
		}
		if sits > 0 {
			specs = append(specs, spec{"zones[" + strconv.Itoa(at) + "].rating_kg", say("a rating for the %v zone", Word(z.Code)), leans, ""})
		}
	}
	return specs
}

// unstatedPlaces names the limits that a place somebody sits in leaves open: a
// catalogue of an older time may have such a place.
func unstatedPlaces(m *Match) []spec {
	var specs []spec
	for i := range m.aboard.seated {
		s := &m.aboard.seated[i]
		if s.Place.MinMonths > 0 && s.Place.MaxMass > 0 {
			continue
		}
		var name any = say("frame's own place")
		if i := slices.IndexFunc(m.aboard.fitted, func(a catalog.AddOn) bool { return a.Code == s.AddOn }); i >= 0 {
			name = AddOn{Code: m.aboard.fitted[i].Code, Name: m.aboard.fitted[i].Name}
		}
		of := "places[" + strconv.Itoa(s.Seat.Place) + "]."
		if s.Place.MinMonths == 0 {
			specs = append(specs, spec{of + "min_months", say("from what age the %v takes anybody", name), true, s.AddOn})
		}
		if s.Place.MaxMass == 0 {
			specs = append(specs, spec{of + "max_kg", say("up to what weight the %v takes anybody", name), true, s.AddOn})
		}
	}
	return specs
}

// unlimited reports whether the add-on of a code states no limit over what it
// carries.
func unlimited(fitted []catalog.AddOn, code string) bool {
	return slices.ContainsFunc(fitted, func(a catalog.AddOn) bool { return a.Code == code && a.MaxLoad == 0 })
}
