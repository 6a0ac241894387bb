package form

import (
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Saved reads the profile out of answers as they were saved; nil where some
// are missing or wrong, which is shown where they can be mended.
func Saved(answers []byte, today measure.Date) (*profile.Profile, error) {
	f, err := Decode(answers)
	if err != nil {
		return nil, err
	}
	p, err := f.Profile(today)
	if err != nil {
		return nil, nil
	}
	return p, nil
}
