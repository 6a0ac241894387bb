package inventory

import (
	"net/http"
	"net/url"

	"github.com/a-h/templ"

	"kinwain/internal/catalog"
	"kinwain/web/kit"
	"kinwain/web/wares"
)

// view draws what is typed into a column besides its rows. found is how many
// things the list has that are offered.
func (t *typing) view(r *http.Request, found int) Typing {
	v := Typing{Ask: t.ask, Found: found, Much: t.sum.much, How: t.sum.how, Round: t.sum.round, List: t.sum.list, Faults: t.faults, Unsaved: t.rows != nil, Action: r.URL.RequestURI()}
	for _, f := range wares.Columns(t.list) {
		label := f.Label
		if unit := typedUnit(&f, t.current.Shop.Currency); unit != "" {
			label += ", " + unit
		}
		v.Fields = append(v.Fields, kit.Option{Value: f.Name, Label: label})
	}
	read := url.Values{}
	for key, list := range r.URL.Query() {
		if key != "edit" {
			read[key] = list
			v.Keep = append(v.Keep, kit.Hidden{Name: key, Value: list[0]})
		}
	}
	v.Leave = r.URL.Path
	if len(read) > 0 {
		v.Leave += "?" + read.Encode()
	}
	if t.field == nil {
		return v
	}
	v.Field, v.Label, v.Unit, v.Mode, v.Counts = t.field.Name, t.field.Label, typedUnit(t.field, t.current.Shop.Currency), modes[t.field.Kind], t.field.Counts()
	if t.field.Kind == catalog.Word {
		v.Words = wordOptions(t.field.Words)
	}
	return v
}

// typedUnit is the unit in which a figure is typed.
func typedUnit(f *catalog.Field, currency string) string {
	if f.Kind == catalog.Money {
		return currency
	}
	return units[f.Kind]
}

// Sums are what can be done to all figures of the column at once.
func (t Typing) Sums() []kit.Option {
	if t.Counts {
		return sums
	}
	return nil
}

// sorted tells browsers in which order a column is, where it is in one.
func sorted(c Column) templ.Attributes {
	if c.Order == "" {
		return nil
	}
	return templ.Attributes{"aria-sort": c.Order}
}

// arrow shows the same.
func arrow(c Column) string {
	return map[string]string{ascending: " ▲", descending: " ▼"}[c.Order]
}

// attributes are those of an input of a row.
func (t Typing) attributes(r WareRow) templ.Attributes {
	return inputAttributes(t.Label+", "+r.Name+" "+r.Code, t.Mode, r.Typed.Error, "e-"+r.Code)
}

// attributes are those of an input of a family.
func (c FamilyCell) attributes(mode string) templ.Attributes {
	return inputAttributes(c.Label, mode, c.Error, c.Name+"-error")
}

// inputAttributes name an input of a table, and tie it to what is wrong.
func inputAttributes(label, mode, fault, faultID string) templ.Attributes {
	a := templ.Attributes{"aria-label": label}
	if fault != "" {
		a["aria-invalid"], a["aria-describedby"] = "true", faultID
	}
	if mode != "" {
		a["inputmode"] = mode
	}
	return a
}
