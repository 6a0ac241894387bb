package desk

import (
	"fmt"
	"strings"

	"kinwain/web/form"
	"kinwain/web/talk"
)

// questionName says in words which question a path of the profile is.
func questionName(c *talk.Consultation, path string) string {
	m := talk.ListPath.FindStringSubmatch(path)
	if m == nil {
		return talk.Asked(path)
	}
	list, row, field := m[1], m[2], talk.Asked(path)
	if list == form.Corners && c.Form.Rows(list) == 1 {
		return field // which says of the corner that it is one
	}
	label := c.Form.Get(list + "[" + row + "].label")
	switch list {
	case "riders":
		label = "rider " + label
	case "home.doorways", "home.corners":
		var n int
		if _, err := fmt.Sscan(row, &n); err == nil {
			label = fmt.Sprintf("%s %d", strings.TrimSuffix(strings.TrimPrefix(list, "home."), "s"), n+1)
		}
	}
	if label = strings.TrimSpace(label); label == "" {
		return field
	}
	return field + " (" + label + ")"
}
