package compare

// short says every stop and care in a few words, for a cell of a table.
var short = map[string]string{
	"rider_height": "rider’s height", "rider_weight": "rider’s weight", "gross_rating": "over the gross rating", "zone_rating": "over a zone’s rating",
	"combined_rating": "over a combined rating", "axle_rating": "over an axle’s rating", "add_on_rating": "over an add-on’s rating",
	"passengers_max": "too many passengers", "place_missing": "no place for everyone", "place_limits": "no place that suits", "infant": "under 12 months",
	"not_sitting": "sitting unaided", "mount_full": "a mount is full", "needs_missing": "something it needs", "excluded": "do not go together",
	"too_many": "too many of one", "pet_place": "no carrier for the pet", "cargo_weight": "too much cargo", "cargo_volume": "too bulky a cargo",
	"carry_guideline": "over the carry guideline", "standover": "standover", "saddle_range": "saddle range", "storage_space": "too large for its place",
	"storage_way": "too large for the way in", "storage_slack": "tight at home", "upright": "cannot stand upright", "budget": "over the budget",
	"grip": "grip and brakes", "steps": "heavy on the steps", "unsettled": "not settled in time", "unverified": "failed a second check",
	"unproved": "not proved the best",
}

// Short says a reason's code in a few words, the code itself where it has none.
func Short(code string) string {
	if words, ok := short[code]; ok {
		return words
	}
	return code
}
