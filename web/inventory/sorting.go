package inventory

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kinwain/internal/catalog"
)

// The orders of a column, as browsers tell them.
const ascending, descending = "ascending", "descending"

// sortRows puts the rows of a list into the order that the address asks for,
// "price_cents" or "-price_cents", and has every column that can be sorted by
// lead to its own. What is equal stays as it was.
func sortRows(r *http.Request, c *catalog.Catalogue, h shelf, columns []Column, rows []WareRow) {
	by, back := strings.CutPrefix(r.URL.Query().Get("sort"), "-")
	for i := range columns {
		column := &columns[i]
		if column.Field == "" {
			continue
		}
		other := column.Field
		if column.Field == by {
			column.Order = ascending
			if other = "-" + by; back {
				column.Order, other = descending, by
			}
			sortBy(c, h, fieldNamed(catalog.Of(h.list), by), rows)
			if back {
				slices.Reverse(rows)
			}
		}
		column.Sort = sortedAddress(r, other)
	}
}

func sortBy(c *catalog.Catalogue, h shelf, f *catalog.Field, rows []WareRow) {
	things := map[string]any{}
	for _, t := range c.Things(h.list) {
		things[t.Code] = t.Of
	}
	slices.SortStableFunc(rows, func(a, b WareRow) int {
		if f.Counts() || f.Zero {
			return cmp.Compare(f.Figure(things[a.Code]), f.Figure(things[b.Code]))
		}
		return cmp.Compare(strings.ToLower(textOf(f, things[a.Code])), strings.ToLower(textOf(f, things[b.Code])))
	})
}

// textOf is a text of a thing.
func textOf(f *catalog.Field, thing any) string {
	if text, ok := f.At(thing).(*string); ok {
		return *text
	}
	return ""
}

// sortedAddress is the first page of a list in another order.
func sortedAddress(r *http.Request, by string) string {
	values := url.Values{}
	for key, list := range r.URL.Query() {
		values[key] = list
	}
	values.Del("page")
	values.Set("sort", by)
	return r.URL.Path + "?" + values.Encode()
}
