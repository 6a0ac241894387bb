package advice

import (
	"context"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// Demo is one bike to ride, judged as it stands for a ride from the shop.
type Demo struct {
	*catalog.Unit
	Match  *match.Match
	Behind []string // who joins in a later month and stays behind today
	Alone  bool     // not everybody can ride along, but the rider alone can ride it
}

// CarriesAll reports whether everybody who rides or rides along may be on it.
func (d *Demo) CarriesAll() bool { return d.Match.Fits() }

// Demos judges every demo of a frame that is not sold.
func (s *Shop) Demos(ctx context.Context, frame string, p *profile.Profile) ([]Demo, error) {
	var demos []Demo
	for i := range s.Catalogue.Units {
		u := &s.Catalogue.Units[i]
		if u.Frame != frame || u.Kind != "demo" || u.Status == "sold" {
			continue
		}
		d, err := s.Demo(ctx, u, p)
		if err != nil {
			return nil, err
		}
		demos = append(demos, d)
	}
	return demos, nil
}

// Demo judges one of them.
func (s *Shop) Demo(ctx context.Context, u *catalog.Unit, p *profile.Profile) (Demo, error) {
	ride, behind := match.TestRide(p)
	d := Demo{Unit: u, Behind: behind}
	var err error
	d.Match, err = s.onUnit(ctx, u, ride)
	if err != nil || d.CarriesAll() || len(ride.Passengers.Or(nil)) == 0 {
		return d, err
	}
	alone, err := s.onUnit(ctx, u, match.RideAlone(p))
	d.Alone = err == nil && alone.Fits()
	return d, err
}

// onUnit judges a bike with the very add-ons that are on it.
func (s *Shop) onUnit(ctx context.Context, u *catalog.Unit, p *profile.Profile) (*match.Match, error) {
	return s.whole(ctx, "unit "+u.Tag, u.Frame, p, func(ctx context.Context) (*match.Match, error) {
		return s.judge().OnUnit(ctx, u, p, s.Settings)
	})
}
