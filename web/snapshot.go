package web

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/profile"
)

// snapshot is all that a fit summary is drawn from: what was judged, and how
// it is shown. Judged again it always gives the same, whatever becomes of the
// inventory.
type snapshot struct {
	Version   int               `json:"fit_summary"` // 1
	Profile   jsontext.Value    `json:"profile"`     // a profile document
	Catalogue jsontext.Value    `json:"catalogue"`   // a catalogue document of the one frame
	Settings  map[string]int64  `json:"settings"`    // figures by name
	ByHand    bool              `json:"by_hand"`     // the add-ons were chosen by hand
	On        []string          `json:"on"`          // codes of all that is on the bike
	Contact   map[string]string `json:"contact"`     // the shop's texts
	Language  string            `json:"language"`    // empty: as the browser asks
	Units     string            `json:"units"`
	Hide      bool              `json:"hide_weights"` // of the riders
}

// snapshotOf keeps a choice as it is today.
func snapshotOf(c *consultation, chosen *choice) (*snapshot, error) {
	told, err := c.profile.Document()
	if err != nil {
		return nil, err
	}
	reduced, err := reduce(c.catalogue, chosen.match.Frame).Document()
	if err != nil {
		return nil, err
	}
	return &snapshot{Version: 1, Profile: told, Catalogue: reduced, Settings: c.settings.Figures(), ByHand: chosen.byHand, On: onBike(chosen.match)}, nil
}

// reduce returns the catalogue of one frame and all that may be fitted to it.
func reduce(c *catalog.Catalogue, f *catalog.Frame) *catalog.Catalogue {
	only := &catalog.Catalogue{Version: c.Version, Shop: c.Shop, Frames: []catalog.Frame{*f}, AddOns: []catalog.AddOn{}, Units: []catalog.Unit{}}
	kept := map[string]bool{}
	concerns := func(a *catalog.AddOn) bool {
		return slices.Contains(a.Fits, f.Code) || slices.Contains(f.ComesWith, a.Code)
	}
	for i := range c.AddOns {
		kept[c.AddOns[i].Code] = concerns(&c.AddOns[i])
	}
	for _, a := range c.AddOns {
		if !kept[a.Code] {
			continue
		}
		a.Fits = slices.DeleteFunc(slices.Clone(a.Fits), func(code string) bool { return code != f.Code })
		a.Excludes = slices.DeleteFunc(slices.Clone(a.Excludes), func(code string) bool { return !kept[code] })
		a.OnFrame = maps.Clone(a.OnFrame)
		maps.DeleteFunc(a.OnFrame, func(code string, _ catalog.Pair) bool { return code != f.Code })
		only.AddOns = append(only.AddOns, a)
	}
	return only
}

func (s *snapshot) document() ([]byte, error) { return json.Marshal(s, json.Deterministic(true)) }

// kept is a snapshot that was read back.
type kept struct {
	snapshot
	profile   *profile.Profile
	catalogue *catalog.Catalogue
	settings  match.Settings
}

func readSnapshot(document []byte) (*kept, error) {
	var k kept
	if err := json.Unmarshal(document, &k.snapshot); err != nil {
		return nil, fmt.Errorf("read a fit summary: %w", err)
	}
	var err error
	if k.profile, err = profile.Parse(k.Profile); err != nil {
		return nil, fmt.Errorf("the profile of a fit summary: %w", err)
	}
	if k.catalogue, err = catalog.Parse(k.Catalogue); err != nil {
		return nil, fmt.Errorf("the catalogue of a fit summary: %w", err)
	}
	if len(k.catalogue.Frames) != 1 {
		return nil, fmt.Errorf("a fit summary of %d frames", len(k.catalogue.Frames))
	}
	k.settings = match.SettingsOf(k.Settings)
	return &k, nil
}

// judge judges the snapshot as the staff saw it.
func (k *kept) judge(ctx context.Context) (*match.Match, error) {
	if k.ByHand {
		return k.byHand(ctx, k.catalogue, k.settings)
	}
	return match.One(ctx, k.catalogue, &k.catalogue.Frames[0], k.profile, k.settings, match.Options{Changes: true})
}

// byHand judges the very add-ons of the snapshot by a catalogue that has the
// frame.
func (k *kept) byHand(ctx context.Context, c *catalog.Catalogue, s match.Settings) (*match.Match, error) {
	return match.ByHand(ctx, c, c.Frame(k.catalogue.Frames[0].Code), k.profile, s, k.On)
}
