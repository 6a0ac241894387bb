package fitting_test

import (
	"math/big"
)

// best returns a model of least cost in which the cargo of every day can be
// shared out. The formula alone does not say that it can, nor every rounded
// inequality to the gram: where the cheapest model fails, what it fails in is
// added to the formula, and the next cheapest is asked for.
func (e *encoding) best(cost sum) (model, bool) {
	for {
		m, ok := e.least(cost)
		if !ok || e.sound(m) {
			return m, ok
		}
	}
}

// cheapest is best with ties broken by a second cost.
func (e *encoding) cheapest(first, second sum) (model, bool) {
	m, ok := e.best(first)
	if !ok {
		return nil, false
	}
	without := e.formula
	e.atMost(first, first.of(m))
	m, ok = e.best(second)
	e.formula = without
	return m, ok
}

// sound reports whether a model is a build in earnest. Where it is not, the
// formula rules it out from then on.
func (e *encoding) sound(m model) bool {
	sound := true
	defer func() { e.cuts += b2i(!sound) }()
	for _, d := range e.days {
		if cut := e.stowing(d, m); cut != nil {
			e.rule(cut, m)
			sound = false
		}
	}
	for _, clause := range e.lapses(m) {
		e.either(clause...)
		sound = false
	}
	return sound
}

// rule adds to the formula that the forms add up to zero or more, multiplied
// so that all is whole. Where the figures outgrow it, it says only that some
// variable must differ from the model.
func (e *encoding) rule(cut []weighted, m model) {
	whole := big.NewInt(1)
	for _, w := range cut {
		denominator := w.by.Denom()
		whole.Mul(whole, new(big.Int).Quo(denominator, new(big.Int).GCD(nil, nil, whole, denominator)))
	}
	var total sum
	fits := true
	multiple := func(by *big.Rat, n int64) int64 {
		product := new(big.Int).Mul(by.Num(), new(big.Int).Quo(whole, by.Denom()))
		product.Mul(product, big.NewInt(n))
		fits = fits && product.BitLen() < 52
		return product.Int64()
	}
	for _, w := range cut {
		total.constant += multiple(w.by, w.form.constant)
		for _, t := range w.form.terms {
			total.add(multiple(w.by, t.weight), t.literal)
		}
	}
	if fits {
		e.atLeast(total, 0)
		return
	}
	e.coarse++
	var clause []int
	seen := map[int]bool{}
	for _, w := range cut {
		for _, t := range w.form.terms {
			if v := max(t.literal, -t.literal); !seen[v] {
				seen[v] = true
				if m[v] {
					v = -v
				}
				clause = append(clause, v)
			}
		}
	}
	e.either(clause...)
}
