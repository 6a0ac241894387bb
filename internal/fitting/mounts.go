package fitting

import "slices"

// user is how much of a mount one of an option takes.
type user struct{ option, count int }

// mount numbers the mounts that the options use, in the order of the shelf.
func (p *Problem) mount() {
	for i := range p.options {
		for _, u := range p.options[i].uses {
			p.mounts = append(p.mounts, u.mount)
		}
	}
	slices.Sort(p.mounts)
	p.mounts = slices.Compact(p.mounts)
	p.capacity, p.users = make([]int, len(p.mounts)), make([][]user, len(p.mounts))
	for _, m := range p.Frame.Mounts {
		if at, used := slices.BinarySearch(p.mounts, p.shelf.mounts[m.Code]); used {
			p.capacity[at] = m.Capacity
		}
	}
	for i := range p.options {
		uses := slices.Clone(p.options[i].uses)
		for k := range uses {
			at, _ := slices.BinarySearch(p.mounts, uses[k].mount)
			uses[k].mount = at
			p.users[at] = append(p.users[at], user{i, uses[k].count})
		}
		p.options[i].uses = uses
	}
}
