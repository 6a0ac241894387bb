// Package wares reads what a manager types about a frame, an add-on or a unit,
// and writes it for typing: one table of fields says how, and the names of the
// fields are the paths of the document.
package wares

import "kinwain/internal/catalog"

// Kind is how a field is typed.
type Kind int

// The kinds of fields.
const (
	Text     Kind = iota
	Long          // a text of several lines
	Mass          // kilograms or pounds
	Length        // centimetres or inches
	Signed        // a length that may lie behind the axle
	Volume        // litres
	Money         // in the shop's currency
	Number        // whole
	Share         // part of one, typed in per cent
	Day           // a day, or a month
	Tick          // yes, or not
	Maybe         // yes, no, or as the add-on itself
	Word          // one of the words
	Teeth         // whole numbers with blanks between
	Codes         // codes with blanks between
	OneFrame      // the code of a frame
	Frames        // a box for each frame
	OneZone       // the code of a zone
	AddOns        // codes of add-ons, one of them maybe twice
	Needs         // groups of add-ons and tags
	Box           // fields within the thing
	Rows          // a list of fields
	PerFrame      // fields for every frame named
)

// Field is one field of a form.
type Field struct {
	Name   string // in the document
	Label  string
	Hint   string
	Kind   Kind
	Words  []string // of a Word
	Needed bool
	Sub    []Field // of a Box, of Rows and of PerFrame
	One    string  // what a row is called
}

// Section is a part of a form under a heading.
type Section struct {
	Title  string
	Lead   string
	Fields []Field
}

// The lists of the catalogue.
const (
	FrameList = "frames"
	AddOnList = "add_ons"
	UnitList  = "units"
)

// Key returns the name of the field that names a thing of a list.
func Key(list string) string {
	if list == UnitList {
		return "tag"
	}
	return "code"
}

const notStated = "Empty: the maker does not state it. Then it does not bind, and the customer is told."

var place = []Field{
	{Name: "kind", Label: "Kind of seat", Kind: Word, Words: catalog.PlaceKinds, Needed: true},
	{Name: "min_months", Label: "From age, months", Kind: Number, Hint: "A harnessed place needs it; never under 12."},
	{Name: "max_months", Label: "To age, months", Kind: Number},
	{Name: "min_kg", Label: "From weight", Kind: Mass},
	{Name: "max_kg", Label: "To weight", Kind: Mass},
	{Name: "max_stature_cm", Label: "Up to stature", Kind: Length},
	{Name: "ahead_of_rear_axle_cm", Label: "Ahead of the rear axle", Kind: Signed, Hint: "Behind it: with a minus. Empty: where the zone is."},
	{Name: "height_cm", Label: "Height above ground", Kind: Length},
	{Name: "needs", Label: "Needed when somebody sits here", Kind: Needs, Hint: "One of each row must be there."},
}

// Table is the form of every list.
var Table = map[string][]Section{
	FrameList: {
		{Title: "What it is", Fields: []Field{
			{Name: "code", Label: "Code", Kind: Text, Hint: "Small letters and digits, such as sedge. It stays for good.", Needed: true},
			{Name: "name", Label: "Name", Kind: Text, Needed: true},
			{Name: "family", Label: "Family", Kind: Text, Hint: "Sizes of one model share it."},
			{Name: "type", Label: "Type", Kind: Word, Words: catalog.Types},
			{Name: "material", Label: "Material", Kind: Text},
			{Name: "size", Label: "Size", Kind: Text},
			{Name: "price_cents", Label: "Price", Kind: Money, Needed: true},
		}},
		{Title: "Weights and riders", Lead: "From the maker’s rating plate and manual. " + notStated, Fields: []Field{
			{Name: "gross_rating_kg", Label: "Gross rating", Kind: Mass, Hint: "Bike, add-ons, rider and load together.", Needed: true},
			{Name: "bare_weight_kg", Label: "Bare weight", Kind: Mass, Hint: "Ready to ride, with what it comes with.", Needed: true},
			{Name: "rider_min_cm", Label: "Shortest rider", Kind: Length, Needed: true},
			{Name: "rider_max_cm", Label: "Tallest rider", Kind: Length, Needed: true},
			{Name: "rider_max_kg", Label: "Heaviest rider", Kind: Mass},
			{Name: "passengers_max", Label: "Passengers at most", Kind: Number},
			{Name: "standover_cm", Label: "Standover", Kind: Length},
			{Name: "saddle_min_cm", Label: "Lowest saddle", Kind: Length, Hint: "From the bottom bracket to the saddle’s top."},
			{Name: "saddle_max_cm", Label: "Highest saddle", Kind: Length},
		}},
		{Title: "Size", Fields: []Field{
			{Name: "length_cm", Label: "Length", Kind: Length, Needed: true},
			{Name: "width_cm", Label: "Width", Kind: Length, Needed: true},
			{Name: "height_cm", Label: "Height", Kind: Length, Needed: true},
			{Name: "upright", Label: "Stood on its tail", Kind: Box, Sub: []Field{
				{Name: "length_cm", Label: "Length on its tail", Kind: Length, Hint: "All three, or none where it cannot stand so."},
				{Name: "width_cm", Label: "Width on its tail", Kind: Length},
				{Name: "height_cm", Label: "Height on its tail", Kind: Length},
			}},
		}},
		{Title: "Axles and drive", Fields: []Field{
			{Name: "wheelbase_cm", Label: "Wheelbase", Kind: Length},
			{Name: "rider_ahead_of_rear_axle_cm", Label: "Rider ahead of the rear axle", Kind: Signed},
			{Name: "bare_front_share", Label: "Bare weight on the front axle", Kind: Share},
			{Name: "front_axle_max_kg", Label: "Front axle rating", Kind: Mass},
			{Name: "rear_axle_max_kg", Label: "Rear axle rating", Kind: Mass},
			{Name: "front_tyre", Label: "Front tyre", Kind: Text, Hint: "ISO 5775, such as 50-406."},
			{Name: "rear_tyre", Label: "Rear tyre", Kind: Text},
			{Name: "odd_wheel", Label: "Only the maker supplies the wheel", Kind: Tick},
			{Name: "front_brake", Label: "Front brake", Kind: Word, Words: catalog.Brakes},
			{Name: "rear_brake", Label: "Rear brake", Kind: Word, Words: catalog.Brakes},
			{Name: "chainring", Label: "Chainrings, teeth", Kind: Teeth, Hint: "Blanks between: 40 28."},
			{Name: "sprockets", Label: "Sprockets, teeth", Kind: Teeth},
			{Name: "assist_watts", Label: "Motor, watts", Kind: Number},
		}},
		{Title: "Zones", Lead: "Where load sits, each with its own rating. One at least.", Fields: []Field{{Name: "zones", Kind: Rows, One: "zone", Sub: []Field{
			{Name: "code", Label: "Code", Kind: Text, Hint: "front, rear, …", Needed: true},
			{Name: "rating_kg", Label: "Rating", Kind: Mass},
			{Name: "ahead_of_rear_axle_cm", Label: "Ahead of the rear axle", Kind: Signed, Hint: "Behind it: with a minus."},
			{Name: "height_cm", Label: "Height above ground", Kind: Length},
			{Name: "side", Label: "Side", Kind: Word, Words: catalog.Sides},
			{Name: "cargo_kg", Label: "Cargo without an add-on", Kind: Mass},
			{Name: "cargo_litres", Label: "Room for it", Kind: Volume},
			{Name: "steered", Label: "Turns with the handlebar", Kind: Tick},
		}}}},
		{Title: "Combined ratings", Lead: "A rating over several zones together.", Fields: []Field{{Name: "combined", Kind: Rows, One: "combined rating", Sub: []Field{
			{Name: "zones", Label: "Zones", Kind: Codes, Hint: "Blanks between: front rear.", Needed: true},
			{Name: "rating_kg", Label: "Rating together", Kind: Mass, Needed: true},
		}}}},
		{Title: "Mounts", Lead: "Where add-ons are fixed, and how much each holds: bolts, or centimetres of deck.", Fields: []Field{{Name: "mounts", Kind: Rows, One: "mount", Sub: []Field{
			{Name: "code", Label: "Code", Kind: Text, Hint: "head_tube, deck_cm, …", Needed: true},
			{Name: "capacity", Label: "Holds", Kind: Number, Needed: true},
		}}}},
		{Title: "Places of its own", Lead: "Seats that the bare frame has.", Fields: []Field{{Name: "places", Kind: Rows, One: "place",
			Sub: append([]Field{{Name: "zone", Label: "Zone", Kind: OneZone, Needed: true}}, place...)}}},
		{Title: "What it brings", Fields: []Field{
			{Name: "comes_with", Label: "Comes with", Kind: AddOns, Hint: "Fitted by the maker; in the bare weight and the price."},
			{Name: "provides", Label: "Provides", Kind: Codes, Hint: "Tags that needs may name, blanks between: wheel_guard foot_support."},
			{Name: "notes", Label: "Notes", Kind: Long},
		}},
	},
	AddOnList: {
		{Title: "What it is", Fields: []Field{
			{Name: "code", Label: "Code", Kind: Text, Hint: "Small letters and digits, such as seat-rear. It stays for good.", Needed: true},
			{Name: "name", Label: "Name", Kind: Text, Needed: true},
			{Name: "weight_kg", Label: "Weight", Kind: Mass, Needed: true},
			{Name: "price_cents", Label: "Price", Kind: Money},
			{Name: "fitting_minutes", Label: "Minutes to fit", Kind: Number},
			{Name: "up_to", Label: "How many at most", Kind: Number, Hint: "Empty: one."},
		}},
		{Title: "What it carries", Lead: notStated, Fields: []Field{
			{Name: "zone", Label: "Zone", Kind: OneZone, Hint: "Empty: it counts toward the gross rating only."},
			{Name: "max_load_kg", Label: "Load over all it carries", Kind: Mass},
			{Name: "cargo_kg", Label: "Cargo", Kind: Mass},
			{Name: "cargo_litres", Label: "Room for cargo", Kind: Volume},
			{Name: "pet_kg", Label: "Pet up to", Kind: Mass},
		}},
		{Title: "Places", Fields: []Field{{Name: "places", Kind: Rows, One: "place", Sub: place}}},
		{Title: "What it does to the size", Fields: []Field{
			{Name: "front_overhang_cm", Label: "Front overhang", Kind: Length, Hint: "Beyond the bare frame."},
			{Name: "rear_overhang_cm", Label: "Rear overhang", Kind: Length},
			{Name: "overall_width_cm", Label: "Width of the bike with it", Kind: Length},
			{Name: "overall_height_cm", Label: "Height of the bike with it", Kind: Length},
			{Name: "removable_seconds", Label: "Seconds to take off at home", Kind: Number},
			{Name: "blocks_upright", Label: "With it the bike cannot stand on its tail", Kind: Tick},
		}},
		{Title: "Frames it fits", Fields: []Field{{Name: "fits", Label: "Fits", Kind: Frames}}},
		{Title: "Mounts it uses", Fields: []Field{{Name: "uses", Kind: Rows, One: "use", Sub: []Field{
			{Name: "mount", Label: "Mount", Kind: Text, Needed: true},
			{Name: "count", Label: "Takes", Kind: Number, Hint: "Bolts, or centimetres of deck.", Needed: true},
		}}}},
		{Title: "What it needs", Lead: "Of every row one must be on the bike: an add-on, or anything that provides the tag.",
			Fields: []Field{{Name: "needs", Label: "One of", Kind: Needs}}},
		{Title: "Beside others", Fields: []Field{
			{Name: "excludes", Label: "Never together with", Kind: AddOns},
			{Name: "provides", Label: "Provides", Kind: Codes, Hint: "Tags that needs may name, blanks between."},
		}},
		{Title: "Where a frame differs", Lead: "Only what differs there; empty leaves the figure above.", Fields: []Field{{Name: "on_frame", Kind: PerFrame, One: "frame", Sub: []Field{
			{Name: "fitting_minutes", Label: "Minutes to fit", Kind: Number},
			{Name: "max_load_kg", Label: "Load over all it carries", Kind: Mass},
			{Name: "front_overhang_cm", Label: "Front overhang", Kind: Length},
			{Name: "rear_overhang_cm", Label: "Rear overhang", Kind: Length},
			{Name: "overall_width_cm", Label: "Width of the bike with it", Kind: Length},
			{Name: "overall_height_cm", Label: "Height of the bike with it", Kind: Length},
			{Name: "blocks_upright", Label: "Keeps it from standing on its tail", Kind: Maybe},
			{Name: "note", Label: "Note", Kind: Text},
		}}}},
	},
	UnitList: {
		{Title: "What it is", Fields: []Field{
			{Name: "tag", Label: "Tag", Kind: Text, Hint: "On the bike itself, such as D-014. It stays for good.", Needed: true},
			{Name: "frame", Label: "Frame", Kind: OneFrame, Needed: true},
			{Name: "kind", Label: "Kind", Kind: Word, Words: catalog.UnitKinds, Needed: true},
			{Name: "status", Label: "Status", Kind: Word, Words: catalog.UnitStatuses, Needed: true},
			{Name: "colour", Label: "Colour", Kind: Text},
			{Name: "odometer_km", Label: "Odometer, km", Kind: Number},
		}},
		{Title: "On it now", Fields: []Field{{Name: "fitted", Label: "Fitted", Kind: AddOns, Hint: "What its frame comes with is on it too, where there is room."}}},
		{Title: "On the scale", Lead: "As it stands, ready to ride. A weighed figure goes before the sum of the makers’ figures.", Fields: []Field{
			{Name: "weighed_kg", Label: "Weighed", Kind: Mass},
			{Name: "weighed_on", Label: "On the day", Kind: Day, Hint: "Year, month, day: 2026-11-25."},
		}},
	},
}
