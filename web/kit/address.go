package kit

import (
	"net/url"
	"strings"
)

// Where rooms lead to in others. What only one room knows is not here.
const (
	StartAddress     = "/"
	SignInAddress    = "/sign-in"
	SignOutAddress   = "/sign-out"
	MeAddress        = "/me"
	SettingsAddress  = "/settings"
	InventoryAddress = "/inventory"
	QualityAddress   = InventoryAddress + "/quality"
	ImportAddress    = InventoryAddress + "/import"
	// OpenAPIAddress is where other programs read what may be asked, and in what
	// form. It holds no data of the shop.
	OpenAPIAddress = "/openapi.json"

	SourcesAddress    = "/sources"
	UnitsAddress      = "/units"
	LabelsAddress     = "/labels"
	StocktakesAddress = "/stocktakes"
)

// ConsultationAt is the address of a consultation, and what follows of it:
// /frames, /frames/sedge/quote.
func ConsultationAt(id, rest string) string { return "/consultations/" + id + rest }

// FieldAt is where a field of a frame, an add-on or a unit is mended.
func FieldAt(list, code, field string) string {
	return InventoryAddress + "/" + strings.ReplaceAll(list, "_", "-") + "/" + url.PathEscape(code) + "#" + field
}

// SourcePhotoAt is the page of a photo of where a figure comes from, for staff
// alone: a plate may show the number of a bike.
func SourcePhotoAt(name string) string { return SourcesAddress + "/" + url.PathEscape(name) }

// UnitAt is where the code on a bike leads.
func UnitAt(tag string) string { return UnitsAddress + "/" + url.PathEscape(tag) }

// RideAt is the address of a test ride.
func RideAt(id string) string { return "/rides/" + id }

// QuoteAt is the address of a quote.
func QuoteAt(id string) string { return "/quotes/" + id }

// Local returns an address within the app to go on to, or the start where it
// is none.
func Local(next string) string {
	u, err := url.Parse(next)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(next, "/") || strings.HasPrefix(next, "//") || strings.ContainsAny(next, "\\\r\n\t") ||
		strings.HasPrefix(u.Path, "/sign-") {
		return "/"
	}
	return next
}
