package fitting

// copies holds, for an option whose own rating has to hold for each copy by
// itself, one column a copy: whether it is on the bike.
type copies struct {
	option int
	column []int
}

// tellCopies adds the columns of copies. They are filled one after the other,
// since they are the same.
func (b *block) tellCopies(useful []bool) {
	for i := range b.p.options {
		b.perhaps = append(b.perhaps, -1)
		o, most := &b.p.options[i], b.most(i)
		if !useful[i] || most < 2 || o.MaxLoad == 0 || !b.rules.Has(AddOnRating) || len(o.places) == 0 && !b.takesPet(o) {
			continue
		}
		b.perhaps[i] = len(b.copies)
		k := copies{option: i}
		for n := range most {
			c := b.relax.Column(0, 0, 1)
			k.column = append(k.column, c)
			if n > 0 {
				b.relax.Term(c, 1)
				b.relax.Term(k.column[n-1], -1)
				b.relax.AtMost(0)
			}
		}
		for _, c := range k.column {
			b.relax.Term(c, 1)
		}
		sum := b.fitted(i, -1)
		b.relax.Equal(-sum)
		b.copies = append(b.copies, k)
	}
}

// there adds value times how many of a carrier are on the bike.
func (b *block) there(option, copy int, value float64) float64 {
	if copy >= 0 {
		b.relax.Term(b.copies[b.perhaps[option]].column[copy], value)
		return 0
	}
	return b.fitted(option, value)
}

// eachCarrier visits an option once, or each copy of it where they are told
// apart.
func (b *block) eachCarrier(option int, visit func(copy int)) {
	if at := b.perhaps[option]; at >= 0 {
		for n := range b.copies[at].column {
			visit(n)
		}
		return
	}
	visit(-1)
}
