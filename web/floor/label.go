package floor

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/internal/store"
	"kinwain/web/form"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/talk"
)

// mostLabels is how many labels a sheet has at most.
const mostLabels = 500

// allField asks for the labels of all bikes.
const allField = "all"

// labelsOf is where the label of a bike is.
func labelsOf(tag string) string {
	return kit.LabelsAddress + "?" + url.Values{tagField: {tag}}.Encode()
}

// labels offers every bike of the shop, and shows the labels of those chosen.
func (room *Room) labels(w http.ResponseWriter, r *http.Request) error {
	c, _, err := room.standing(r.Context())
	if err != nil {
		return err
	}
	retired, err := room.store.Retired(r.Context())
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return kit.ErrForm
	}
	chosen := r.Form[tagField]
	if r.Form.Has(allField) {
		chosen = nil
		for _, g := range labelGroups(c, retired, nil) {
			for _, u := range g.Units {
				chosen = append(chosen, u.Tag)
			}
		}
	}
	speaker := say.New(talk.PaperLanguage(r, form.New()), measure.Metric)
	view := Labels{Said: room.Sessions.PopString(r.Context(), kit.SaidKey), Shell: room.shell(r, "Labels"), Action: kit.LabelsAddress, Leads: room.PublicURL + kit.UnitsAddress, Lang: string(speaker.Language), Groups: labelGroups(c, retired, chosen),
		Tongue: kit.Field{Name: talk.LanguageField, Label: "Language of the labels", Value: string(speaker.Language)}}
	for _, l := range say.Languages {
		view.Tongue.Options = append(view.Tongue.Options, kit.Option{Value: string(l), Label: l.Name()})
	}
	for _, tag := range chosen[:min(len(chosen), mostLabels)] {
		at := slices.IndexFunc(c.Units, func(u catalog.Unit) bool { return u.Tag == tag })
		if at < 0 {
			view.Unknown = append(view.Unknown, noBike(tag))
			continue
		}
		label, err := room.label(c, &c.Units[at], speaker)
		if err != nil {
			return err
		}
		view.Sheet = append(view.Sheet, label)
	}
	return kit.Render(r.Context(), w, http.StatusOK, LabelsPage(view))
}

// label draws one label. Its code is the address by which any camera opens the
// bike, and which a scanner types.
func (room *Room) label(c *catalog.Catalogue, u *catalog.Unit, s *say.Speaker) (Label, error) {
	f := c.Frame(u.Frame)
	code, err := kit.QRCode(room.PublicURL + kit.UnitAt(u.Tag))
	return Label{Tag: u.Tag, Name: f.Called(), Code: strings.Replace(string(code), `role="img"`, `aria-hidden="true"`, 1),
		Rating: s.Told(rating().Said) + " " + s.Mass(f.GrossRating, measure.Down)}, err
}

// lowered writes the first letter of a word small, as within a line.
func lowered(word string) string {
	r, size := utf8.DecodeRuneInString(word)
	return string(unicode.ToLower(r)) + word[size:]
}

// rating is the gross rating of a frame, as customers read it.
func rating() *catalog.Field {
	fields := catalog.Of("frames")
	return &fields[slices.IndexFunc(fields, func(f catalog.Field) bool { return f.Name == "gross_rating_kg" })]
}

// labelGroups are the bikes to choose from, by their frames: what is sold or
// retired needs no label.
func labelGroups(c *catalog.Catalogue, retired map[store.Thing]bool, chosen []string) []LabelGroup {
	var groups []LabelGroup
	for i := range c.Frames {
		g := LabelGroup{Name: c.Frames[i].Called()}
		for j := range c.Units {
			u := &c.Units[j]
			if u.Frame == c.Frames[i].Code && u.Status != "sold" && !retired[store.Thing{List: "units", Code: u.Tag}] {
				g.Units = append(g.Units, LabelChoice{Tag: u.Tag, Detail: talk.UnitDetail(english, u) + ", " + lowered(talk.UnitStatus(u)), Chosen: slices.Contains(chosen, u.Tag)})
			}
		}
		if len(g.Units) > 0 {
			groups = append(groups, g)
		}
	}
	return groups
}
