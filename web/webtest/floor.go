package webtest

import (
	"net/http"
	"net/url"
	"strings"
)

// FloorPages adds the pages of whoever stands among the bikes.
func FloorPages(v *Visitor, pages map[string]*Answer) {
	v.Helper()
	pages["a scan"] = v.Get("/units").Is(http.StatusOK, "/units")
	pages["a scan of nothing"] = v.Get("/units?tag=Z-9").Is(http.StatusNotFound, "/units?tag=Z-9")
	pages["no stocktake"] = v.Get("/stocktakes").Is(http.StatusOK, "/stocktakes")
	at := v.StocktakeBegun()
	for _, tag := range []string{"D-011", "S-113", "Z-9"} {
		pages["a stocktake, "+tag] = v.Post(at+"/scan", url.Values{"tag": {tag}}).Is(http.StatusOK, at)
	}
	pages["a bike in a stocktake"] = v.Get("/units/S-106?alone=yes").Is(http.StatusOK, "/units/S-106?alone=yes")
	pages["a scan in a stocktake"] = v.Get("/units").Is(http.StatusOK, "/units")
	pages["a stocktake that is finished"] = v.Post(at+"/finish", nil).Is(http.StatusOK, at)
	pages["a stocktake to begin"] = v.Get("/stocktakes").Is(http.StatusOK, "/stocktakes")
	pages["a bike"] = v.Get("/units/S-113?alone=yes").Is(http.StatusOK, "/units/S-113?alone=yes")
	pages["labels to choose"] = v.Get("/labels").Is(http.StatusOK, "/labels")
	pages["labels"] = v.Get("/labels?tag=D-014&tag=S-106&tag=Z-9&lang=de").Is(http.StatusOK, "/labels?tag=D-014&tag=S-106&tag=Z-9&lang=de")
}

// StocktakeBegun begins a stocktake and returns where it is.
func (v *Visitor) StocktakeBegun() string {
	v.Helper()
	a := v.Post("/stocktakes", nil)
	if a.Status != http.StatusOK || !strings.HasPrefix(a.Path, "/stocktakes/") {
		v.Fatalf("no stocktake: %d at %s", a.Status, a.Path)
	}
	return a.Path
}
