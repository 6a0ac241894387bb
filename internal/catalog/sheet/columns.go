package sheet

import (
	"kinwain/internal/catalog"
	"kinwain/internal/measure"
)

// field is one column of a table with the cell of one row.
type field struct {
	name string
	cell cell
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
)

var (
	shopTable = table[shopRow]{"shop", needed("shop", "catalogue"), func(s *shopRow) []field {
		return columns("shop", &s.Shop, field{"catalogue", count{&s.Version}})
	}}
	frameTable = table[catalog.Frame]{"frames", needed("frames"), func(f *catalog.Frame) []field { return columns("frames", f) }}
	zoneTable  = table[zoneRow]{"zones", needed("zones", "frame"), func(z *zoneRow) []field {
		return columns("zones", &z.Zone, field{"frame", word{&z.frame}})
	}}
	combinedTable = table[combinedRow]{"combined", needed("combined", "frame"), func(c *combinedRow) []field {
		return columns("combined", &c.Combined, field{"frame", word{&c.frame}})
	}}
	placeTable = table[placeRow]{"places", needed("places"), func(p *placeRow) []field {
		return columns("places", &p.Place, field{"frame", word{&p.frame}}, field{"add_on", word{&p.addOn}})
	}}
	addOnTable = table[catalog.AddOn]{"add_ons", needed("add_ons"), func(a *catalog.AddOn) []field { return columns("add_ons", a) }}
	pairTable  = table[pairRow]{"on_frame", needed("on_frame", "add_on", "frame"), func(p *pairRow) []field {
		return columns("on_frame", &p.Pair, field{"add_on", word{&p.addOn}}, field{"frame", word{&p.frame}})
	}}
	unitTable = table[catalog.Unit]{"units", needed("units"), func(u *catalog.Unit) []field { return columns("units", u) }}
)

// needed names the columns without which a table cannot be read: those of the
// owner, and every figure that has to be stated.
func needed(list string, owner ...string) []string {
	for _, f := range catalog.Of(list) {
		if f.Needed {
			owner = append(owner, f.Name)
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
				c := cellOf(sub, sub.At(f.At(thing)))
				if _, free := c.(text); !free { // which says nothing where it is empty
					c = blankWhen{c, f.Empty(thing)}
				}
				all = append(all, field{f.Column(sub), c})
			}
		} else if c := cellOf(f, f.At(thing)); c != nil {
			all = append(all, field{f.Name, c})
		}
	}
	return all
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
