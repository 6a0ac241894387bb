package catalog

import "slices"

// Here reports whether a unit is to be found in the shop when somebody looks:
// what is out, sold or still to come is not.
func (u *Unit) Here() bool {
	return slices.Contains([]string{"available", "reserved", InRepair}, u.Status)
}

// Away says why nobody can have the unit now, as its status does: it is still to
// come, in repair or sold. It is empty for all others, also while somebody rides
// it or it is held for somebody, which ends by itself.
func (u *Unit) Away() string { return away(u.Status) }

func away(status string) string {
	switch status {
	case Ordered, InRepair, "sold":
		return status
	}
	return ""
}
