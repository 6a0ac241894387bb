package inventory

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"kinwain/web/kit"
)

// A shop may have thousands of everything, and a page of all of it is none that
// anybody reads: lists come by the page, each under an address of its own.
const (
	listRows    = 80 // of a list of frames, add-ons or units
	foundRows   = 20 // of each list in a search through everything
	gridRows    = 32 // add-ons of the grid
	gridColumns = 14 // frames of the grid
	shownBad    = 30 // pairs that would never work
)

// window is the part of a list that a page shows.
type window struct {
	from, to, of int
	name         string // of the number in the address
	things       string // what is in the list, in words
}

// windowOf returns the part of a list that an address asks for; the last where
// it asks beyond that.
func windowOf(r *http.Request, name, things string, of, most int) window {
	page, err := strconv.Atoi(r.URL.Query().Get(name))
	if err != nil || page < 1 {
		page = 1
	}
	page = min(page, max((of+most-1)/most, 1))
	return window{(page - 1) * most, min(page*most, of), of, name, things}
}

// view links to the parts before and after. It is nothing where one page shows
// it all.
func (w window) view(r *http.Request, most int) *Pages {
	if w.of <= most {
		return nil
	}
	page := w.from/most + 1
	p := &Pages{Label: w.things, Shown: fmt.Sprintf("%s %d to %d of %d", w.things, w.from+1, w.to, w.of)}
	if w.from > 0 {
		p.Links = append(p.Links, kit.Step{Label: "Page before", Href: addressWith(r, w.name, page-1)})
	}
	if w.to < w.of {
		p.Links = append(p.Links, kit.Step{Label: "Next page", Href: addressWith(r, w.name, page+1)})
	}
	return p
}

// addressWith is the address of a request with another page.
func addressWith(r *http.Request, name string, page int) string {
	values := url.Values{}
	for key, list := range r.URL.Query() {
		values[key] = list
	}
	values.Set(name, strconv.Itoa(page))
	return r.URL.Path + "?" + values.Encode()
}
