package fitting

import "slices"

// visited remembers what was met already, each written down in as many words.
type visited struct {
	stride int
	sets   []int16 // one after the other
	slots  []int32 // a hash table of their numbers, from one; a power of two
}

// add notes a set and reports whether it is new.
func (v *visited) add(set []int16) bool {
	v.stride = len(set)
	held := len(v.sets) / v.stride
	if 2*(held+1) > len(v.slots) {
		v.slots = make([]int32, max(4*len(v.slots), 16))
		for n := range held {
			*v.slot(v.set(n)) = int32(n + 1)
		}
	}
	slot := v.slot(set)
	if *slot != 0 {
		return false
	}
	if v.sets == nil {
		v.sets = make([]int16, 0, 8*len(set))
	}
	v.sets = append(v.sets, set...)
	*slot = int32(held + 1)
	return true
}

func (v *visited) set(n int) []int16 { return v.sets[n*v.stride : (n+1)*v.stride] }

// slot returns where the number of a set is, or would be.
func (v *visited) slot(set []int16) *int32 {
	h := uint64(14695981039346656037) // FNV-1a
	for _, n := range set {
		h = (h ^ uint64(uint16(n))) * 1099511628211
	}
	mask := uint64(len(v.slots) - 1)
	for i := (h ^ h>>32) & mask; ; i = (i + 1) & mask {
		if n := v.slots[i]; n == 0 || slices.Equal(v.set(int(n)-1), set) {
			return &v.slots[i]
		}
	}
}
