package inventory

import (
	"cmp"
	"strconv"

	"kinwain/internal/catalog"
	"kinwain/internal/figures"
	"kinwain/internal/store"
)

// figureIn writes one side of a change for people: with its unit, money in the
// currency of the shop.
func figureIn(c catalog.Change, text, currency string) string {
	if c.List == store.SettingsList {
		return settingWords(c.Field, text)
	}
	if text != "" && c.Evidence() != "" {
		return sourceIn(text)
	}
	return c.Shown(text, currency)
}

// settingWords writes a figure of the settings, which is its default where
// nothing is kept, or a text as it is.
func settingWords(name, text string) string {
	f := figures.Named(name)
	figure, err := strconv.ParseInt(text, 10, 64)
	switch {
	case f != nil && text == "":
		return cmp.Or(f.Show(figures.Defaults()[name]), "nothing") + " (default)"
	case f != nil && err == nil:
		return cmp.Or(f.Show(figure), "nothing")
	case text == "":
		return "nothing"
	}
	return catalog.Words(text)
}
