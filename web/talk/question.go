package talk

import (
	"strconv"

	"kinwain/internal/match"
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
		return c.Say("%v: %v", c.Say("rider %v", c.Profile.Riders[row].Label), field)
	case "passengers":
		return c.Say("%v: %v", match.Label{Text: c.Profile.Passengers.Or(nil)[row].Label}, field)
	case "home.doorways":
		return c.Say("%v: %v", c.Say("doorway %v", row+1), field)
	}
	return c.Say("%v: %v", c.Say("corner %v", row+1), field)
}
