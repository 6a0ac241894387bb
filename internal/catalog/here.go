package catalog

import "slices"

// Here reports whether a unit is to be found in the shop when somebody looks:
// what is out, sold or still to come is not.
func (u *Unit) Here() bool {
	return slices.Contains([]string{"available", "reserved", InRepair}, u.Status)
}
