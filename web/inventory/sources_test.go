package inventory_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"kinwain/internal/catalog"
	"kinwain/internal/measure"
	"kinwain/web/webtest"
)

// noted returns what is noted of a figure of a frame.
func noted(v *webtest.Visitor, frame, figure string) catalog.Evidence {
	if e := catalog.Source(v.Catalogue().Frame(frame).Evidence, figure); e != nil {
		return *e
	}
	return catalog.Evidence{}
}

// TestSourceBesideAFigure says of a figure where it comes from, by nothing but
// one choice, and then with another day and a link.
func TestSourceBesideAFigure(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path, figure = "/inventory/frames/yarrow-assist", "gross_rating_kg"
	form := v.Get(path).Ware()
	form.Set(figure+".source", "rating_plate")
	if a := v.Save(path, form, "save"); a.Text(".done") != "Saved: 1 field changed." {
		t.Fatalf("%d %s", a.Status, a.Text("main"))
	}
	today := measure.Date{Year: 2026, Month: 11, Day: 25}
	want := catalog.Evidence{Figure: figure, Kind: "rating_plate", On: today, By: "manager (printed link)"}
	if got := noted(v, "yarrow-assist", figure); got != want {
		t.Errorf("%+v", got)
	}
	a := v.Get(path)
	if got := a.One(`select[name="gross_rating_kg.source"] option[selected]`).Text(); got != "Rating plate, 25 November 2026, manager (printed link)" {
		t.Errorf("shown is %q", got)
	}
	form = a.Ware()
	form.Set(figure+".source", "maker_answer")
	form.Set("source_on", "2026-10")
	form.Set("source_by", "M.")
	form.Set("source_link", "https://maker.example/answer")
	form.Set("source_reference", "page 2")
	v.Save(path, form, "save")
	want = catalog.Evidence{Figure: figure, Kind: "maker_answer", On: measure.Date{Year: 2026, Month: 10}, By: "M.", Link: "https://maker.example/answer", Reference: "page 2"}
	if got := noted(v, "yarrow-assist", figure); got != want {
		t.Errorf("%+v", got)
	}
	if past := v.Get(path).Text("table.history"); !strings.Contains(past, "Source of: gross rating") || !strings.Contains(past, "maker’s answer, October 2026, M., page 2") {
		t.Errorf("the history: %s", past)
	}
}

// TestFigureAndSource changes a figure alone, with the same source said anew,
// and then takes that back.
func TestFigureAndSource(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path, figure = "/inventory/frames/knapweed-s", "zones[0].rating_kg"
	zone := v.Catalogue().Frame("knapweed-s").Zones[0]
	of := "zones[" + zone.Code + "].rating_kg"
	first := noted(v, "knapweed-s", of)
	save := func(value, source string) string {
		form := v.Get(path).Ware()
		form.Set(figure, value)
		if source != "" {
			form.Set(figure+".source", source)
		}
		return v.Save(path, form, "save").Text(".done")
	}
	if said := save("9", "manual"); said != "Saved: 2 fields changed." || noted(v, "knapweed-s", of).By != "manager (printed link)" {
		t.Errorf("%q, %+v", said, noted(v, "knapweed-s", of))
	}
	if said := save("10", "manual"); said != "Saved: 1 field changed." || noted(v, "knapweed-s", of).Kind != "manual" {
		t.Errorf("the same source, read anew: %q, %+v", said, noted(v, "knapweed-s", of))
	}
	if said := save("11", ""); !strings.Contains(said, "The source went with the figure before: zone "+zone.Code+": rating.") || noted(v, "knapweed-s", of).Kind != "" {
		t.Errorf("%q, %+v", said, noted(v, "knapweed-s", of))
	}
	undo := v.Get("/inventory/history?list=frames&code=knapweed-s").Page.Find(`form[action^="/inventory/history/"]`)
	v.Post(undo.First().AttrOr("action", ""), url.Values{"do": {"undo"}}) // the last save stands first
	if got := noted(v, "knapweed-s", of); got.Kind != "manual" || v.Catalogue().Frame("knapweed-s").Zones[0].Rating != 10*measure.Kilogram {
		t.Errorf("taken back: %+v", got)
	}
	if first.Kind == "" {
		t.Error("nothing was noted at first")
	}
}

// TestFaultsOfSources holds that what cannot be right is told where it was
// chosen, and that nothing typed is lost.
func TestFaultsOfSources(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path = "/inventory/frames/sedge"
	for name, step := range map[string]struct{ field, value, at string }{
		"tomorrow":  {"source_on", "2026-11-26", "source_on"},
		"no day":    {"source_on", "", "source_on"},
		"no day at": {"source_on", "last spring", "source_on"},
		"no link":   {"source_link", "in the drawer", "source_link"},
		"no figure": {"rider_max_kg.source", "manual", "rider_max_kg.source"},
	} {
		form := v.Get(path).Ware()
		form.Set("gross_rating_kg.source", "own_measure")
		form.Set(step.field, step.value)
		a := v.Save(path, form, "save").Is(http.StatusUnprocessableEntity, path)
		if a.Text(webtest.ByID(step.at+"-error")) == "" {
			t.Errorf("%s: nothing is said at %s: %s", name, step.at, a.Text(".alert"))
		}
		if again := a.Ware(); again.Values.Get("gross_rating_kg.source") != "own_measure" || again.Values.Get(step.field) != step.value {
			t.Errorf("%s: lost", name)
		}
	}
}

// TestLikeAnotherIsNotProven copies a frame: nobody has read its plate.
func TestLikeAnotherIsNotProven(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form := v.Get("/inventory/frames/new?from=sedge").Ware()
	form.Set("code", "sedge-next")
	v.Save("/inventory/frames/new", form, "save").Is(http.StatusOK, "/inventory/frames/sedge-next")
	if e := v.Catalogue().Frame("sedge-next").Evidence; len(e) != 0 {
		t.Errorf("%v", e)
	}
}

// TestSourcesOfWhatFits says of one pair where it is from, and keeps the others.
func TestSourcesOfWhatFits(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path = "/inventory/add-ons/bench-long"
	fits := v.Catalogue().AddOn("bench-long").Fits
	form := v.Get(path).Ware()
	form.Set("fits["+fits[0]+"].source", "manual")
	v.Save(path, form, "save").Is(http.StatusOK, path)
	all := v.Catalogue().AddOn("bench-long").Evidence
	if e := catalog.Source(all, "fits["+fits[0]+"]"); e == nil || e.Kind != "manual" || catalog.Source(all, "weight_kg") == nil {
		t.Errorf("%v", all)
	}
	grid := url.Values{"was": {"bench-long " + fits[0]}, "fit": {}, "do": {"save"}}
	v.Post("/inventory/fits", grid)
	a := v.Catalogue().AddOn("bench-long")
	if slices.Contains(a.Fits, fits[0]) || catalog.Source(a.Evidence, "fits["+fits[0]+"]") != nil {
		t.Errorf("%v, %v", a.Fits, a.Evidence)
	}
}

// TestSourcesOfADocument sends a thing as a program does: without a word about
// sources, and with an empty list of them.
func TestSourcesOfADocument(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path = "/inventory/frames/sedge"
	put := func(change func(document string) string) int {
		c := v.Catalogue()
		thing := catalog.Thing{Code: "sedge", Of: c.Frame("sedge")}
		document, err := thing.Document()
		if err != nil {
			t.Fatal(err)
		}
		r := v.Request(http.MethodPut, path, strings.NewReader(change(document)))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("If-Match", "*")
		return v.Send(r).Status
	}
	silent := func(document string) string { return document[:strings.Index(document, `,"evidence"`)] + "}" }
	before := len(v.Catalogue().Frame("sedge").Evidence)
	if status := put(silent); status != http.StatusOK || len(v.Catalogue().Frame("sedge").Evidence) != before {
		t.Errorf("silence: %d, %v", status, v.Catalogue().Frame("sedge").Evidence)
	}
	if status := put(func(document string) string {
		return strings.Replace(silent(document), `"gross_rating_kg":180`, `"gross_rating_kg":175`, 1)
	}); status != http.StatusOK ||
		len(v.Catalogue().Frame("sedge").Evidence) != before-1 || noted(v, "sedge", "gross_rating_kg").Kind != "" {
		t.Errorf("another figure: %d, %v", status, v.Catalogue().Frame("sedge").Evidence)
	}
	if status := put(func(document string) string { return strings.TrimSuffix(silent(document), "}") + `,"evidence":[]}` }); status != http.StatusOK ||
		len(v.Catalogue().Frame("sedge").Evidence) != 0 {
		t.Errorf("none: %d, %v", status, v.Catalogue().Frame("sedge").Evidence)
	}
}

// TestFiguresWithoutASource lists what nobody has noted a source of, page by
// page, and puts first what customers lean on.
func TestFiguresWithoutASource(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	const path = "/inventory/quality/sources"
	if got := v.Get("/inventory/quality").Text(`a[href="` + path + `"]`); got != "Figures without a source: 196 of 538" {
		t.Errorf("%q", got)
	}
	row := func(a *webtest.Answer, n int) []string {
		var cells []string
		for _, selector := range []string{"th", "td:nth-child(2)", "td:nth-child(3)"} {
			cells = append(cells, webtest.Words(a.Page.Find(".unproved tbody tr").Eq(n).Find(selector)))
		}
		return cells
	}
	a := v.Get(path).Is(http.StatusOK, path)
	if got := row(a, 0); !slices.Equal(got, []string{"Gross rating", "Yarrow Assist yarrow-assist", "0 consultations"}) {
		t.Errorf("the worst of all is %q", got)
	}
	seen := a.Page.Find(".unproved tbody tr").Length()
	for next := a; ; seen += next.Page.Find(".unproved tbody tr").Length() {
		href, more := next.Page.Find(`.ware-pages a:contains("Next page")`).First().Attr("href")
		if !more {
			break
		}
		next = v.Get(href)
	}
	if seen != 196 {
		t.Errorf("%d on all pages", seen)
	}
	v.Interview([]byte(webtest.Family))
	a = v.Get(path)
	if got := row(a, 0); !slices.Equal(got, []string{"Zone rear: rating", "Sedge Assist sedge-assist", "1 consultation"}) {
		t.Errorf("leaned on first is %q", got)
	}
	link := a.Page.Find(".unproved tbody a").First().AttrOr("href", "")
	if link != "/inventory/frames/sedge-assist#zones[1].rating_kg.source" {
		t.Errorf("it leads to %q", link)
	}
	v.Get("/inventory/frames/sedge-assist").One(webtest.ByID("zones[1].rating_kg.source"))
	if words := a.Text(".hint"); !strings.Contains(words, "last 60 days") {
		t.Errorf("what is counted: %q", words)
	}
}
