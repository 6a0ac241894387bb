package staff

import "testing"

// BenchmarkMatches times what one sign-in costs.
func BenchmarkMatches(b *testing.B) {
	hash := Hash("tide tables and teasel")
	for b.Loop() {
		if right, err := Matches(hash, "tide tables and teasel"); !right || err != nil {
			b.Fatal(right, err)
		}
	}
}
