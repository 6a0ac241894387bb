package talk

import (
	"strconv"

	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// Question says which question a path of the profile is, and of whom.
func Question(c *Consultation, path string) string {
	m := ListPath.FindStringSubmatch(path)
	if m == nil {
		return c.Say(Asked(path))
	}
	row, err := strconv.Atoi(m[2])
	if err != nil {
		return path
	}
	field := c.Say(Asked(path))
	switch m[1] {
	case "riders":
		return of(field, c.Say("rider %v", c.Profile.Riders[row].Label))
	case "passengers":
		return of(field, c.Speaker.Label(match.Label{Text: c.Profile.Passengers.Or(nil)[row].Label}))
	case "home.doorways":
		return of(field, c.Say("doorway %v", row+1))
	}
	if len(c.Profile.Home.Or(profile.Home{}).Corners.Or(nil)) == 1 {
		return field // which says of the corner that it is one
	}
	return of(field, c.Say("corner %v", row+1))
}

// of says whose question it is, without a second colon in a sentence that has
// one, in every language alike.
func of(field, whose string) string { return field + " (" + whose + ")" }
