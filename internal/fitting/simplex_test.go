package fitting

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// drawn is a sharing to be found: caps and a total, and rows beside them.
type drawn struct {
	caps  []int64
	total int64
	rows  []row
}

// draw draws caps, and rows as zones, sides and axles have them, many of which
// hold by nothing or are said twice.
func draw(r *rand.Rand) drawn {
	n, size := 1+r.IntN(6), [...]int64{1, 5, 1000, 30_000_000_000}[r.IntN(4)]
	d := drawn{total: 1 + r.Int64N(size)}
	for range n {
		d.caps = append(d.caps, [...]int64{0, d.total, r.Int64N(d.total + 1), r.Int64N(2*d.total + 1)}[r.IntN(4)])
	}
	for range r.IntN(6) {
		var w row
		scale := [...]int64{1, 1, 1, 20_000_000}[r.IntN(4)]
		for range n {
			w.of = append(w.of, scale*[...]int64{0, 0, 1, 1, -1, r.Int64N(5) - 2}[r.IntN(6)])
		}
		w.most.Mul(big.NewInt(scale), big.NewInt(r.Int64N(2*d.total+2)-d.total/4-1))
		d.rows = append(d.rows, w)
		if r.IntN(5) == 0 {
			d.rows = append(d.rows, w)
		}
	}
	return d
}

// write writes a sharing down as it is in production.
func (d *drawn) write(t *tableau) {
	t.begin(len(d.caps))
	for i := range d.rows {
		w := t.row()
		copy(w.of, d.rows[i].of)
		w.most.Set(&d.rows[i].most)
	}
	for i, most := range d.caps {
		w := t.row()
		w.of[i] = 1
		w.most.SetInt64(most)
	}
	for _, sign := range [...]int64{1, -1} {
		w := t.row()
		for i := range d.caps {
			w.of[i] = sign
		}
		w.most.SetInt64(sign * d.total)
	}
}

// plain returns the rows as the plain way takes them.
func (d *drawn) plain() []plainRow {
	var rows []plainRow
	for i := range d.rows {
		p := plainRow{zeros(len(d.caps)), new(big.Rat).SetInt(&d.rows[i].most)}
		for k, of := range d.rows[i].of {
			p.coefficients[k].SetInt64(of)
		}
		rows = append(rows, p)
	}
	return rows
}

// The first sharing is that of a programme for each carrier in turn, to the
// last fraction.
func TestFirstIsThePlainFirst(t *testing.T) {
	t.Parallel()
	r, table, met := rand.New(rand.NewPCG(1, 2)), new(tableau), map[bool]int{}
	for seed := range 2000 {
		d := draw(r)
		d.write(table)
		want, ok := plainFirst(d.plain(), d.caps, d.total)
		if got := table.first(); got != ok {
			t.Fatalf("draw %d: %+v: found %v, want %v", seed, d, got, ok)
		}
		met[ok]++
		for i := range want {
			whole, cut := table.value(i)
			floor := new(big.Int).Quo(want[i].Num(), want[i].Denom())
			if floor.Int64() != whole || want[i].IsInt() == cut {
				t.Fatalf("draw %d: %+v: variable %d is %d, cut %v; want %v", seed, d, i, whole, cut, want)
			}
		}
	}
	if met[true] < 200 || met[false] < 200 {
		t.Errorf("found and not: %v; too few to tell", met)
	}
}

// BenchmarkFirst shares out in the memory of the time before, in fresh memory,
// and the plain way.
func BenchmarkFirst(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var list []drawn
	for len(list) < 50 {
		if d := draw(r); len(d.caps) > 3 && len(d.rows) > 1 {
			list = append(list, d)
		}
	}
	first := func(t *tableau, d *drawn) {
		d.write(t)
		t.first()
	}
	again := new(tableau)
	for name, share := range map[string]func(d *drawn){
		"again": func(d *drawn) { first(again, d) },
		"fresh": func(d *drawn) { first(new(tableau), d) },
		"plain": func(d *drawn) { plainFirst(d.plain(), d.caps, d.total) },
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for i := range list {
					share(&list[i])
				}
			}
		})
	}
}
