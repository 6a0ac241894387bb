package talk

import (
	"slices"
	"strings"
	"time"

	"kinwain/internal/store"
	"kinwain/web/kit"
)

// MostRides is how many rides are listed for one bike, and on the start page.
const MostRides = 6

// Feels are what may be said of how a ride felt.
var Feels = []kit.Option{
	{Value: "", Label: "Not said yet"}, {Value: "good", Label: "Felt good"}, {Value: "unsure", Label: "Not sure yet"}, {Value: "not_for_us", Label: "Not for us"},
}

// RideStatusWords say how far a ride has come.
var RideStatusWords = map[store.RideStatus]string{
	store.RideBooked: "Booked", store.RideOut: "Out now", store.RideBack: "Back", store.RideCancelled: "Cancelled",
}

// TimesText says from when to when, in the zone of the shop.
func TimesText(r *store.Ride, zone *time.Location) string {
	from, to := r.Starts.In(zone), r.Ends.In(zone)
	until := to.Format("15:04")
	if from.Format(time.DateOnly) != to.Format(time.DateOnly) {
		until = to.Format("Monday, 2 January, 15:04")
	}
	return from.Format("Monday, 2 January 2006, 15:04") + " to " + until
}

// ComingView lists test rides.
func ComingView(rides []store.Ride, zone *time.Location) []kit.Coming {
	var views []kit.Coming
	for i := range rides {
		r := &rides[i]
		who := strings.TrimPrefix(r.Rider+", "+strings.ToLower(RideStatusWords[r.Status]), ", ")
		if r.Feel != "" {
			who += ": " + strings.ToLower(Feels[slices.IndexFunc(Feels, func(o kit.Option) bool { return o.Value == r.Feel })].Label)
		}
		views = append(views, kit.Coming{Href: kit.RideAt(r.ID), When: TimesText(r, zone), At: r.Starts.Format(time.RFC3339),
			What: r.FrameName + ", " + r.Unit, Who: who})
	}
	return views
}
