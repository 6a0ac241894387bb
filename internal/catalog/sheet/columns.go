package sheet

import (
	"reflect"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// field is one column of a table with the cell of one row.
type field struct {
	name   string
	cell   cell
	of     any    // a pointer to the fact that the cell holds
	number bool   // rather than a text
	also   string // another name, under which it is read in cents; none where it is no money
}

// as makes the field hold what the same field of another row holds.
func (f field) as(other field) {
	reflect.ValueOf(f.of).Elem().Set(reflect.ValueOf(other.of).Elem())
}

// The rows of the tables. What belongs to a frame or an add-on names it.
type (
	shopRow struct {
		Version int
		catalog.Shop
	}
	zoneRow struct {
		frame string
		catalog.Zone
	}
	combinedRow struct {
		frame string
		catalog.Combined
	}
	placeRow struct {
		frame, addOn string // one of the two
		catalog.Place
	}
	pairRow struct {
		addOn, frame string
		catalog.Pair
	}
	evidenceRow struct {
		frame, addOn, unit string // one of them
		catalog.Evidence
	}
)

var (
	shopTable = table[shopRow]{"shop", nil, needed("shop", "catalogue"), func(s *shopRow) []field {
		return columns("shop", &s.Shop, field{"catalogue", count{&s.Version}, &s.Version, true, ""})
	}}
	frameTable = table[catalog.Frame]{"frames", []string{"code"}, needed("frames"), func(f *catalog.Frame) []field { return columns("frames", f) }}
	zoneTable  = table[zoneRow]{"zones", needed("zones", "frame"), nil, func(z *zoneRow) []field {
		return columns("zones", &z.Zone, owned("frame", &z.frame))
	}}
	combinedTable = table[combinedRow]{"combined", needed("combined", "frame"), nil, func(c *combinedRow) []field {
		return columns("combined", &c.Combined, owned("frame", &c.frame))
	}}
	placeTable = table[placeRow]{"places", needed("places"), nil, func(p *placeRow) []field {
		return columns("places", &p.Place, owned("frame", &p.frame), owned("add_on", &p.addOn))
	}}
	addOnTable = table[catalog.AddOn]{"add_ons", []string{"code"}, needed("add_ons"), func(a *catalog.AddOn) []field { return columns("add_ons", a) }}
	pairTable  = table[pairRow]{"on_frame", needed("on_frame", "add_on", "frame"), nil, func(p *pairRow) []field {
		return columns("on_frame", &p.Pair, owned("add_on", &p.addOn), owned("frame", &p.frame))
	}}
	unitTable     = table[catalog.Unit]{"units", []string{"tag"}, needed("units"), func(u *catalog.Unit) []field { return columns("units", u) }}
	evidenceTable = table[evidenceRow]{"evidence", needed("evidence"), nil, func(e *evidenceRow) []field {
		return columns("evidence", &e.Evidence, owned("frame", &e.frame), owned("add_on", &e.addOn), owned("unit", &e.unit))
	}}
)

// owned is the column that names what a row belongs to.
func owned(name string, of *string) field { return field{name, word{of}, of, false, ""} }

// needed names the columns that every row needs: those of the owner, and every
// figure that has to be stated.
func needed(list string, owner ...string) []string {
	for _, f := range catalog.Of(list) {
		if f.Needed {
			owner = append(owner, f.Header())
		}
	}
	return owner
}

// columns returns the cells of a thing, those of its owner first.
func columns(list string, thing any, owner ...field) []field {
	fields := catalog.Of(list)
	all := append(make([]field, 0, len(owner)+len(fields)), owner...)
	for i := range fields {
		f := &fields[i]
		if f.Kind == catalog.Boxed {
			for j := range f.Sub {
				sub := &f.Sub[j]
				of := sub.At(f.At(thing))
				c := cellOf(sub, of)
				if _, free := c.(text); !free { // which says nothing where it is empty
					c = blankWhen{c, f.Empty(thing)}
				}
				all = append(all, field{f.Column(sub), c, of, numeric(sub), ""})
			}
		} else if c := cellOf(f, f.At(thing)); c != nil {
			one := field{f.Header(), c, f.At(thing), numeric(f), ""}
			if f.Kind == catalog.Money {
				one.also = f.Name
			}
			all = append(all, one)
		}
	}
	return all
}

// numeric reports whether a fact is a number.
func numeric(f *catalog.Field) bool {
	switch f.Kind {
	case catalog.Mass, catalog.Length, catalog.Signed, catalog.Volume, catalog.Money, catalog.Number, catalog.Share:
		return true
	}
	return false
}

// cellOf returns the cell of a fact, nil where it has a table of its own.
func cellOf(f *catalog.Field, of any) cell {
	switch of := of.(type) {
	case *string:
		if f.Kind == catalog.Text || f.Kind == catalog.Long {
			return text{of}
		}
		return word{of}
	case *bool:
		return flag{of}
	case *int:
		return count{of}
	case *catalog.Kilometres:
		return count{(*int)(of)}
	case *measure.Money:
		return price{of}
	case *measure.Date:
		return day{of}
	case *[]string:
		return words{of}
	case *[]int:
		return counts{of}
	case *[][]string:
		return groups{of}
	case *[]catalog.Mount:
		return mounts(of)
	case *[]catalog.Use:
		return uses(of)
	case **int:
		return maybe[int]{of, func(n *int) cell { return count{n} }}
	case **bool:
		return maybe[bool]{of, func(b *bool) cell { return flag{b} }}
	case **measure.Mass:
		return maybe[measure.Mass]{of, func(m *measure.Mass) cell { return figure{m} }}
	case **measure.Length:
		return maybe[measure.Length]{of, func(l *measure.Length) cell { return figure{l} }}
	case quantity:
		return figure{of}
	}
	return nil
}

// alternates are the columns that may stand in place of those of the fields:
// price_cents holds in cents what price holds in the currency.
func alternates(fields []field) []field {
	var all []field
	for _, f := range fields {
		if c, is := f.cell.(price); is {
			all = append(all, field{f.also, cents(c), f.of, true, ""})
		}
	}
	return all
}
