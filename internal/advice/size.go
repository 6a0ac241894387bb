package advice

import (
	"reflect"

	"kinwain/internal/match"
)

// texts is what a reason, or a name within one, holds besides its own fields:
// the words to be said, and what is said in them.
const texts = 1620

// size says how many bytes a match takes, without the catalogue that it is of,
// which everybody shares. It counts the lists; what is in their texts is taken
// as it usually is.
func size(m *match.Match) int {
	bytes := sized[match.Match](1) + listed(m.Relaxed) + listed(m.Open) + listed(m.Criteria) + listed(m.Reasons) + texts*len(m.Reasons) +
		listed(m.Sheets) + listed(m.Limits) + listed(m.Fitted) + listed(m.Choices) + listed(m.Misfits) + listed(m.Seated)
	for i := range m.Sheets {
		bytes += listed(m.Sheets[i].Zones) + listed(m.Sheets[i].Combined)
	}
	if b := m.Build; b != nil {
		bytes += sized[byte](1024) + listed(b.Seating) + listed(b.Cargo)
	}
	bytes += listed(m.Climbs)
	if m.Asked != nil {
		bytes += sized[byte](4096)
	}
	if m.Longer != nil {
		bytes += sized[byte](4096)
	}
	if m.Band != nil {
		bytes += sized[byte](256)
	}
	if s := m.Stages; s != nil {
		bytes += sized[match.Stages](1) + sized[byte](1024) + listed(s.List)
		for i := range s.List {
			bytes += sized[byte](2048) + listed(s.List[i].Seated) + listed(s.List[i].Joining)
		}
	}
	for range m.Criteria {
		bytes += texts // of an exact figure
	}
	if m.Change != nil {
		bytes += sized[match.Change](1) + texts
	}
	return bytes
}

// sizeOf says how many bytes questions take.
func sizeOf(asked []match.Question) int {
	bytes := listed(asked) + texts*len(asked) + texts
	for i := range asked {
		bytes += listed(asked[i].Edges)
	}
	return bytes
}

func listed[T any](list []T) int { return sized[T](len(list)) }

func sized[T any](n int) int { return n * int(reflect.TypeFor[T]().Size()) }
