package profile

import (
	"github.com/go-json-experiment/json"
)

// Answer is what a customer said to one question. The zero Answer means that
// the question does not apply. An unknown answer ("don't know yet") is null
// in documents; it constrains nothing and stays an open question.
type Answer[T any] struct {
	value T
	state state
}

type state uint8

const (
	absent state = iota
	unknown
	given
)

// Given returns the answer that is a value.
func Given[T any](value T) Answer[T] { return Answer[T]{value, given} }

// Unknown returns the answer "don't know yet".
func Unknown[T any]() Answer[T] { return Answer[T]{state: unknown} }

// Get returns the value and whether there is one.
func (a Answer[T]) Get() (T, bool) { return a.value, a.state == given }

// Or returns the value, or the other where there is none.
func (a Answer[T]) Or(other T) T {
	if a.state == given {
		return a.value
	}
	return other
}

// edit returns the value to change in place, the zero one where there is none
// yet.
func (a *Answer[T]) edit() *T {
	a.state = given
	return &a.value
}

// IsGiven reports whether there is a value.
func (a Answer[T]) IsGiven() bool { return a.state == given }

// IsUnknown reports whether the answer is "don't know yet".
func (a Answer[T]) IsUnknown() bool { return a.state == unknown }

// IsZero reports whether the question does not apply.
func (a Answer[T]) IsZero() bool { return a.state == absent }

// MarshalJSON writes the value, or null where it is not known.
func (a Answer[T]) MarshalJSON() ([]byte, error) {
	if a.state != given {
		return []byte("null"), nil
	}
	return json.Marshal(a.value)
}

// UnmarshalJSON reads a value, or null as "don't know yet".
func (a *Answer[T]) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		*a = Unknown[T]()
		return nil
	}
	a.state = given
	return json.Unmarshal(data, &a.value, json.RejectUnknownMembers(true))
}
