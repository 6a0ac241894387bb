package fitting

// Rules is a set of the rules that a build must keep.
type Rules uint16

// The rules, in the order in which a conflict among them is narrowed down.
const (
	GrossRating Rules = 1 << iota
	ZoneRating
	CombinedRating
	AxleRating
	FrontLight    // the front axle bears no less than nothing
	AddOnRating   // an add-on's max_load over all that it carries
	PassengersMax // the frame's count of passengers
	PlaceMissing  // everyone has a place
	PlaceLimits   // and the place suits
	PetPlace      // the pet has a carrier
	CargoWeight   // the carriers hold the cargo's weight
	CargoVolume   // and its volume
	Storage       // the build reaches the home and fits
	ruleEnd

	AllRules = ruleEnd - 1

	// demands are the rules that ask for something; the others forbid.
	demands = PlaceMissing | PetPlace | CargoWeight | CargoVolume
)

// Has reports whether all of the other rules are in the set.
func (r Rules) Has(other Rules) bool { return r&other == other }

// Each calls yield for every single rule in the set, in order.
func (r Rules) Each(yield func(Rules) bool) {
	for one := Rules(1); one < ruleEnd; one <<= 1 {
		if r.Has(one) && !yield(one) {
			return
		}
	}
}

var ruleCodes = map[Rules]string{
	GrossRating: "gross_rating", ZoneRating: "zone_rating", CombinedRating: "combined_rating", AxleRating: "axle_rating", FrontLight: "front_light",
	AddOnRating: "add_on_rating", PassengersMax: "passengers_max", PlaceMissing: "place_missing", PlaceLimits: "place_limits",
	PetPlace: "pet_place", CargoWeight: "cargo_weight", CargoVolume: "cargo_volume", Storage: "storage",
}

// Code returns the name of a single rule.
func (r Rules) Code() string { return ruleCodes[r] }
