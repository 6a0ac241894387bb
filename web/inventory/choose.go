package inventory

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"kinwain/internal/catalog"
	"kinwain/web/kit"
	"kinwain/web/say"
	"kinwain/web/wares"
)

// The lists that a form offers while something is typed.
const (
	offeredAddOns = "offered-add-ons"
	offeredNeeds  = "offered-needs"
	offeredFrames = "offered-frames"
	offeredMounts = "offered-mounts"
	offeredTags   = "offered-tags"
	offeredZones  = "offered-zones"
)

// mostOffered bounds what a list offers: of more, the code is typed as the
// lists of the inventory show it.
const mostOffered = 600

// mostBoxes bounds the boxes of frames to tick, before they are typed.
const mostBoxes = 100

// offers is what the fields of a form offer, by the list.
type offers map[string][]kit.Option

// offersOf returns what is known to the catalogue, and of zones and mounts what
// is on the frames that the form is about.
func offersOf(e *editing) offers {
	c, o := e.current, offers{}
	zones, mounts := map[string]string{}, map[string]string{}
	for i := range c.Frames {
		f := &c.Frames[i]
		o[offeredFrames] = append(o[offeredFrames], kit.Option{Value: f.Code, Label: f.Called()})
		if !e.about(f) {
			continue
		}
		for _, z := range f.Zones {
			also(zones, z.Code, f.Called())
		}
		for _, m := range f.Mounts {
			also(mounts, m.Code, fmt.Sprintf("%s holds %d", f.Called(), m.Capacity))
		}
	}
	for i := range c.AddOns {
		o[offeredAddOns] = append(o[offeredAddOns], kit.Option{Value: c.AddOns[i].Code, Label: c.AddOns[i].Name})
	}
	for _, tag := range slices.Sorted(maps.Keys(c.Tags())) {
		o[offeredTags] = append(o[offeredTags], kit.Option{Value: tag, Label: "anything with " + plainWord(tag)})
	}
	o[offeredNeeds] = slices.Concat(o[offeredTags], o[offeredAddOns])
	o[offeredZones], o[offeredMounts] = named(zones), named(mounts)
	return o
}

// about reports whether a form is about a frame: an add-on is about those that
// it fits, or about all while it fits none.
func (e *editing) about(f *catalog.Frame) bool {
	fits := e.typed.All("fits")
	return e.list != wares.AddOnList || len(fits) == 0 || slices.Contains(fits, f.Code)
}

// mostNames bounds the frames that are named behind a zone or a mount.
const mostNames = 3

// also adds to what is said of a name.
func also(of map[string]string, name, words string) {
	switch said := of[name]; {
	case said == "":
		of[name] = words
	case strings.Count(said, ", ") == mostNames-1:
		of[name] += ", …"
	case strings.Count(said, ", ") < mostNames:
		of[name] += ", " + words
	}
}

func named(of map[string]string) []kit.Option {
	var all []kit.Option
	for _, name := range slices.Sorted(maps.Keys(of)) {
		all = append(all, kit.Option{Value: name, Label: of[name]})
	}
	return all
}

// lists returns those that are not too long to be of use.
func (o offers) lists() []OfferedList {
	var all []OfferedList
	for _, id := range slices.Sorted(maps.Keys(o)) {
		if n := len(o[id]); n > 0 && n <= mostOffered {
			all = append(all, OfferedList{ID: id, Options: o[id]})
		}
	}
	return all
}

// choose gives a field its shape, and what may be chosen in it.
func (d *drawing) choose(v *WareField, path string, f catalog.Field) {
	switch f.Kind {
	case catalog.Money:
		v.Unit = d.current.Shop.Currency
	case catalog.Long:
		v.Shape = "area"
	case catalog.Tick:
		v.Check = "yes"
	case catalog.Maybe:
		v.Options = []kit.Option{{Value: "", Label: "As above"}, {Value: "yes", Label: "Yes"}, {Value: "no", Label: "No"}}
	case catalog.Word:
		v.Options = offer(wordOptions(f.Words), v.Value)
	case catalog.OneFrame:
		d.typeOne(v, offeredFrames)
	case catalog.OneZone:
		v.Options = offer(d.zones(), v.Value)
	case catalog.Code:
		if strings.HasSuffix(path, ".mount") || strings.HasPrefix(path, "mounts[") {
			d.typeOne(v, offeredMounts)
		} else if strings.HasPrefix(path, "zones[") {
			d.typeOne(v, offeredZones)
		}
	case catalog.Frames:
		if v.Shape, v.Options = "boxes", d.offers[offeredFrames]; len(v.Options) > mostBoxes {
			d.typeMany(v, offeredFrames, v.Chosen)
		}
	case catalog.AddOns:
		d.typeMany(v, offeredAddOns, v.Chosen)
	case catalog.Codes:
		list := offeredTags
		if f.Name == "zones" {
			list = offeredZones
		}
		d.typeMany(v, list, d.typed.Words(path))
	case catalog.Needs:
		d.groups(v, path)
	}
}

// typeOne has a field take one word that is typed, with a list beside it.
func (d *drawing) typeOne(v *WareField, list string) {
	if v.List = list; len(d.offers[list]) > mostOffered {
		v.Hint = strings.TrimSpace(v.Hint + " Type the code.")
	}
}

// typeMany has a field take many.
func (d *drawing) typeMany(v *WareField, list string, chosen []string) {
	v.Shape, v.Options = "choices", nil
	v.Chosen = append(slices.Clip(chosen), "", "")
	d.typeOne(v, list)
}

func (d *drawing) groups(v *WareField, path string) {
	v.Shape = "groups"
	d.typeOne(v, offeredNeeds)
	for i := range d.typed.Rows(path) + 1 {
		name := wares.Row(path, i)
		chosen := append(d.typed.All(name), "")
		for len(chosen) < 3 {
			chosen = append(chosen, "")
		}
		v.Groups = append(v.Groups, WareGroup{Name: name, Chosen: chosen, Error: d.faultAt(name)})
	}
}

// zones offers the zones of the frame in the form, or those of the frames that
// it is about.
func (d *drawing) zones() []kit.Option {
	if d.list != wares.FrameList {
		var all []kit.Option
		for _, o := range d.offers[offeredZones] {
			all = append(all, kit.Option{Value: o.Value, Label: o.Value + ": " + o.Label})
		}
		return all
	}
	var own []kit.Option
	for i := range d.typed.Rows("zones") {
		if code := strings.TrimSpace(d.typed.Get(wares.Row("zones", i) + ".code")); code != "" {
			own = append(own, kit.Option{Value: code, Label: code})
		}
	}
	return own
}

func wordOptions(words []string) []kit.Option {
	var all []kit.Option
	for _, word := range words {
		all = append(all, kit.Option{Value: word, Label: say.Capital(plainWord(word))})
	}
	return all
}

// offer adds the choice of nothing, and what stands there although it is no
// choice any more.
func offer(options []kit.Option, value string) []kit.Option {
	all := append([]kit.Option{{Value: "", Label: "Not stated"}}, options...)
	if value != "" && !slices.ContainsFunc(options, func(o kit.Option) bool { return o.Value == value }) {
		all = append(all, kit.Option{Value: value, Label: value + " (unknown)"})
	}
	return all
}

// resolve puts the code of an add-on in the place of its name, where the name
// was typed and only one is called that.
func (e *editing) resolve() {
	codes := map[string]string{}
	for i := range e.current.AddOns {
		a := &e.current.AddOns[i]
		name := strings.ToLower(a.Name)
		if _, twice := codes[name]; twice {
			codes[name] = "" // of two the manager has to say which
			continue
		}
		codes[name] = a.Code
	}
	e.typed.Map(e.list, func(word string) string {
		if code := codes[strings.ToLower(word)]; code != "" {
			return code
		}
		return word
	})
}

// unknownTags returns the tags in a thing that neither the catalogue knows nor
// the manager has confirmed.
func (e *editing) unknownTags(document []byte, confirmed []string) []string {
	t, err := catalog.ParseThing(e.list, string(document))
	if err != nil {
		return nil // it is not saved anyway
	}
	known := e.current.Tags()
	return slices.DeleteFunc(e.current.TagsOf(t.Of), func(tag string) bool { return known[tag] || slices.Contains(confirmed, tag) })
}

// mostTags bounds the known tags that a page lists.
const mostTags = 40

// knownTags lists what the catalogue knows.
func knownTags(c *catalog.Catalogue) string {
	all := slices.Sorted(maps.Keys(c.Tags()))
	if len(all) > mostTags {
		all = append(all[:mostTags], "…")
	}
	return strings.Join(all, ", ")
}
