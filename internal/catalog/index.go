package catalog

// indexed is a frame whose parts are found by their code at once, however many
// there are: a document from outside may list thousands.
type indexed struct {
	*Frame
	zones     map[string]bool
	mounts    map[string]int // capacity; of two mounts of one code the first counts
	delivered map[string]bool
}

func index(f *Frame) *indexed {
	x := &indexed{f, map[string]bool{}, map[string]int{}, map[string]bool{}}
	for _, z := range f.Zones {
		x.zones[z.Code] = true
	}
	for _, m := range f.Mounts {
		if _, twice := x.mounts[m.Code]; !twice {
			x.mounts[m.Code] = m.Capacity
		}
	}
	for _, code := range f.ComesWith {
		x.delivered[code] = true
	}
	return x
}

// seen remembers what a list has named so far.
type seen map[string]bool

// again notes a name and reports whether it was there before.
func (s seen) again(name string) bool {
	before := s[name]
	s[name] = true
	return before
}
