package catalog

import (
	"fmt"
	"math/big"
	"reflect"
	"slices"

	"kinwain/internal/measure"
)

// Revision is how the figures of a column become others: so much of a hundred
// more, then so much more, or one figure for all; then rounded.
type Revision struct {
	Percent measure.Percentage // more, less where it is negative
	Plus    int64              // in the smallest unit: grams, millimetres, cents
	Fixed   bool               // Plus is the figure itself
	Round   Rounding
}

// Rounding takes a figure to the nearest of those that are whole steps, or end
// so much below one: with 1000 and 100 cents prices end in 9.00. No step leaves
// it as it is.
type Rounding struct{ Step, Below int64 }

// Of returns what a figure becomes, never less than nothing where it was not.
// Halves go up.
func (r Revision) Of(figure int64) int64 {
	to := r.Plus
	if !r.Fixed {
		to += share(figure, 100_00+int64(r.Percent), 100_00)
	}
	to = r.Round.of(to)
	if figure >= 0 {
		return max(to, 0)
	}
	return to
}

func (r Rounding) of(figure int64) int64 {
	if r.Step <= 0 {
		return figure
	}
	return share(figure+r.Below, 1, r.Step)*r.Step - r.Below
}

// share returns figure × part / of, halves up. What does not fit is the
// greatest figure that does: it is no figure of a catalogue in any case.
func share(figure, part, of int64) int64 {
	n := new(big.Int).Mul(big.NewInt(2*part), big.NewInt(figure))
	n.Add(n, big.NewInt(of))
	n.Div(n, big.NewInt(2*of)) // Euclidean: rounds down, also below nothing
	if !n.IsInt64() {
		return int64(n.Sign()) * (1<<63 - 1)
	}
	return n.Int64()
}

// columnKinds are what one column of a list can be typed in.
var columnKinds = []FieldKind{Text, Code, Mass, Length, Signed, Volume, Money, Number, Share, Word, Day}

// InColumn reports whether a field is one fact that can be typed for many
// things one below the other. What names a thing is none.
func (f *Field) InColumn() bool {
	return slices.Contains(columnKinds, f.Kind) && f.Name != "code" && f.Name != "tag"
}

// Counts reports whether a field is a figure that can be reckoned with: not one
// of which there may be none.
func (f *Field) Counts() bool {
	return !f.Zero && slices.Contains([]FieldKind{Mass, Length, Signed, Volume, Money, Number, Share}, f.Kind)
}

// Figure returns the figure of a thing in its smallest unit, less than nothing
// where there may be none and is none. The field counts, or says zero.
func (f *Field) Figure(thing any) int64 {
	figure := reflect.ValueOf(f.at(thing)).Elem()
	if figure.Kind() == reflect.Pointer {
		if figure.IsNil() {
			return -1
		}
		figure = figure.Elem()
	}
	return figure.Int()
}

// With returns a copy of a thing in which the field is another: of the type of
// the field, or one that converts to it. Nil is the zero of it.
func (f *Field) With(thing, value any) (any, error) {
	changed := reflect.New(reflect.TypeOf(thing).Elem())
	changed.Elem().Set(reflect.ValueOf(thing).Elem())
	fact := reflect.ValueOf(f.at(changed.Interface())).Elem()
	v := reflect.ValueOf(value)
	if value != nil && fact.Kind() == reflect.Pointer {
		fact.Set(reflect.New(fact.Type().Elem()))
		fact = fact.Elem()
	}
	switch {
	case value == nil:
		fact.SetZero()
	case v.CanInt() && fact.CanInt():
		fact.SetInt(v.Int())
	case v.Kind() == fact.Kind() && v.CanConvert(fact.Type()):
		fact.Set(v.Convert(fact.Type()))
	default:
		return nil, fmt.Errorf("the field %s takes no %T", f.Name, value)
	}
	return changed.Interface(), nil
}
