// Package summary keeps what a customer takes home of one frame: what was
// judged, how it is shown, and the answer as it was told.
//
// A summary holds its own profile, the frame with all that may be fitted to it,
// and the settings of its day, so that it says the same whatever becomes of the
// inventory. Its answer is kept beside it, so that it says the same whatever
// becomes of the rules: a newer program reads it and judges nothing again.
package summary

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"kinwain/internal/advice"
	"kinwain/internal/catalog"
	"kinwain/internal/match"
	"kinwain/internal/measure"
	"kinwain/internal/profile"
)

// Summary is all that a fit summary is drawn from.
type Summary struct {
	Version   int               `json:"fit_summary"`     // 1
	Profile   jsontext.Value    `json:"profile"`         // a profile document
	Catalogue jsontext.Value    `json:"catalogue"`       // a catalogue document of the one frame
	Settings  map[string]int64  `json:"settings"`        // figures by name
	Words     map[string]string `json:"words,omitempty"` // for local rules, by name
	ByHand    bool              `json:"by_hand"`         // the add-ons were chosen by hand
	On        []string          `json:"on"`              // codes of all that is on the bike
	Contact   map[string]string `json:"contact"`         // the shop's texts
	Language  string            `json:"language"`        // empty: as the browser asks
	Units     string            `json:"units"`
	Hide      bool              `json:"hide_weights"` // of the riders
	Notes     bool              `json:"notes"`        // of the frame and its manual are shown: what was told before they were stays without
	Cheaper   []Instead         `json:"cheaper,omitzero"`
}

// Instead is another frame that serves as long and costs less over the years.
type Instead struct {
	Name   string        `json:"name"`
	French string        `json:"name_fr,omitzero"`
	German string        `json:"name_de,omitzero"`
	Dutch  string        `json:"name_nl,omitzero"`
	Until  measure.Month `json:"until"`
	Total  measure.Money `json:"total_cents"`
}

// Beside keeps the frames that cost less over the years, unless the riders'
// weights are hidden: what else serves as long may tell them.
func (s *Summary) Beside(list []match.OverTheYears) {
	if s.Hide {
		return
	}
	for _, c := range list {
		n := c.Frame.Names
		s.Cheaper = append(s.Cheaper, Instead{c.Frame.Called(), n.French, n.German, n.Dutch, c.Until, c.Total})
	}
}

// Instead returns them as they were kept.
func (k *Kept) Instead() []match.OverTheYears {
	var list []match.OverTheYears
	for _, c := range k.Cheaper {
		f := &catalog.Frame{Name: c.Name, Names: catalog.Spoken{French: c.French, German: c.German, Dutch: c.Dutch}}
		list = append(list, match.OverTheYears{Frame: f, Until: c.Until, Total: c.Total})
	}
	return list
}

// Of keeps what was judged as it is today.
func Of(shop *advice.Shop, p *profile.Profile, m *match.Match, byHand bool) (*Summary, error) {
	told, err := p.Document()
	if err != nil {
		return nil, err
	}
	reduced, err := reduce(shop.Catalogue, m.Frame).Document()
	if err != nil {
		return nil, err
	}
	return &Summary{Version: 1, Profile: told, Catalogue: reduced, Settings: shop.Settings.Figures(), Words: shop.Settings.Local.Texts(), ByHand: byHand, On: advice.OnBike(m), Notes: true}, nil
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
		catalog.Prune("add_ons", &a)
		only.AddOns = append(only.AddOns, a)
	}
	return only
}

// Document writes the summary as it is stored.
func (s *Summary) Document() ([]byte, error) { return json.Marshal(s, json.Deterministic(true)) }

// Write judges the summary as it will be read, and returns its document and
// that of its answer.
func (s *Summary) Write(ctx context.Context) (document, answer []byte, err error) {
	if document, err = s.Document(); err != nil {
		return nil, nil, err
	}
	k, err := Read(document)
	if err != nil {
		return nil, nil, err
	}
	told, err := k.Answer(ctx)
	if err != nil {
		return nil, nil, err
	}
	answer, err = told.Document()
	return document, answer, err
}

// Kept is a summary that was read back.
type Kept struct {
	Summary
	Customer *profile.Profile
	Shop     *advice.Shop // of the one frame, as on its day

	light *underLight
}

// Read reads what Document has written.
func Read(document []byte) (*Kept, error) {
	k := Kept{light: &underLight{}}
	if err := json.Unmarshal(document, &k.Summary); err != nil {
		return nil, fmt.Errorf("read a fit summary: %w", err)
	}
	var err error
	if k.Customer, err = profile.Parse(k.Profile); err != nil {
		return nil, fmt.Errorf("the profile of a fit summary: %w", err)
	}
	c, err := catalog.Parse(k.Catalogue)
	if err != nil {
		return nil, fmt.Errorf("the catalogue of a fit summary: %w", err)
	}
	if len(c.Frames) != 1 {
		return nil, fmt.Errorf("a fit summary of %d frames", len(c.Frames))
	}
	k.Shop = &advice.Shop{Catalogue: c, Settings: match.SettingsOf(k.Settings).WithTexts(k.Words)}
	return &k, nil
}

// Frame returns the frame as it was.
func (k *Kept) Frame() *catalog.Frame { return &k.Shop.Catalogue.Frames[0] }

// fitted lists all that was on the bike, as it is on the frame.
func (k *Kept) fitted() []catalog.AddOn {
	var list []catalog.AddOn
	for _, code := range k.On {
		if a := k.Shop.Catalogue.AddOn(code); a != nil {
			list = append(list, a.On(k.Frame().Code))
		}
	}
	return list
}

// judge judges the summary as the staff saw it, without what a page that hides
// the riders' weights may not tell of the stages.
func (k *Kept) judge(ctx context.Context) (*match.Match, error) {
	if k.ByHand {
		return k.In(ctx, k.Shop)
	}
	m, err := k.Shop.Best(ctx, k.Frame(), k.Customer, match.Options{Changes: true, Stages: true})
	if err == nil && k.Hide {
		return k.untold(ctx, m)
	}
	return m, err
}

// In judges the very add-ons of the summary by a shop that has the frame.
func (k *Kept) In(ctx context.Context, shop *advice.Shop) (*match.Match, error) {
	return shop.ByHand(ctx, shop.Catalogue.Frame(k.Frame().Code), k.Customer, k.On)
}

// Gone says what of the summary a catalogue no longer has: the frame, or the
// codes of add-ons that it no longer fits to it, each once.
func (k *Kept) Gone(today *catalog.Catalogue) (frame bool, addOns []string) {
	f := today.Frame(k.Frame().Code)
	if f == nil {
		return true, nil
	}
	for _, code := range k.On {
		if !today.MayBeOn(code, f) && !slices.Contains(addOns, code) {
			addOns = append(addOns, code)
		}
	}
	return false, addOns
}
