package form

import (
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Saved reads the profile out of answers as they were saved; nil where none
// can be judged yet.
func Saved(answers []byte, today measure.Date) (*profile.Profile, error) {
	f, err := Decode(answers)
	if err != nil {
		return nil, err
	}
	p, _, err := f.Judged(today)
	return p, err
}
