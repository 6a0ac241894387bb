package measure

// The quantities write themselves into documents as plain JSON numbers:
// kilograms, centimetres, litres, cents, and shares as the documents state
// them. Reading rounds to the nearest gram, millimetre or millilitre.

// MarshalJSON writes the mass in kilograms, to the gram.
func (m Mass) MarshalJSON() ([]byte, error) { return []byte(decimal(int64(m), 1000)), nil }

// UnmarshalJSON reads kilograms.
func (m *Mass) UnmarshalJSON(data []byte) error { return readNumber((*int64)(m), data, 1000) }

// MarshalJSON writes the length in centimetres, to the millimetre.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(decimal(int64(l), 10)), nil }

// UnmarshalJSON reads centimetres.
func (l *Length) UnmarshalJSON(data []byte) error { return readNumber((*int64)(l), data, 10) }

// MarshalJSON writes the volume in litres, to the millilitre.
func (v Volume) MarshalJSON() ([]byte, error) { return []byte(decimal(int64(v), 1000)), nil }

// UnmarshalJSON reads litres.
func (v *Volume) UnmarshalJSON(data []byte) error { return readNumber((*int64)(v), data, 1000) }

// MarshalJSON writes the amount in cents.
func (m Money) MarshalJSON() ([]byte, error) { return []byte(decimal(int64(m), 1)), nil }

// UnmarshalJSON reads cents; parts of a cent are an error.
func (m *Money) UnmarshalJSON(data []byte) error {
	if r, err := parseDecimal(string(data)); err == nil && !r.IsInt() {
		return &Error{Code: "cents", Text: quoted(string(data)) + " is not a whole number of cents"}
	}
	return readNumber((*int64)(m), data, 1)
}

// String shows the share as documents write it.
func (s Share) String() string { return decimal(int64(s), int64(Whole)) }

// MarshalJSON writes the share as a part of one: 0.45.
func (s Share) MarshalJSON() ([]byte, error) { return []byte(decimal(int64(s), int64(Whole))), nil }

// UnmarshalJSON reads a part of one.
func (s *Share) UnmarshalJSON(data []byte) error { return readNumber((*int64)(s), data, int64(Whole)) }

// Percentage is a share that documents state in percent: 21 is 21 %.
type Percentage Share

// MarshalJSON writes the share in percent.
func (p Percentage) MarshalJSON() ([]byte, error) { return []byte(decimal(int64(p), 100)), nil }

// UnmarshalJSON reads percent.
func (p *Percentage) UnmarshalJSON(data []byte) error { return readNumber((*int64)(p), data, 100) }

// String shows the share in percent with as few decimals as say it.
func (p Percentage) String() string { return decimal(int64(p), 100) + "\u00a0%" }

// readNumber leaves the target alone for null, as encoding/json asks.
func readNumber(target *int64, data []byte, per int64) error {
	if string(data) == "null" {
		return nil
	}
	n, err := scaledDecimal(string(data), per)
	if err == nil {
		*target = n
	}
	return err
}
