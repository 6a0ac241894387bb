package inventory_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/internal/store"
	"kinwain/web/webtest"
)

func TestInventoryPages(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	a := v.Get("/inventory").Is(http.StatusOK, "/inventory")
	if counts := a.Text(".ware-counts"); !strings.Contains(counts, fmt.Sprintf("%d Frames", len(c.Frames))) || !strings.Contains(counts, fmt.Sprintf("%d Units", len(c.Units))) {
		t.Errorf("counts: %s", counts)
	}
	for slug, n := range map[string]int{"frames": len(c.Frames), "add-ons": len(c.AddOns), "units": len(c.Units)} {
		v.Get("/inventory/"+slug).Is(http.StatusOK, "/inventory/"+slug).Count(".wares tbody tr", n)
	}
	f := c.Frames[1]
	found := v.Get("/inventory/frames?q=" + url.QueryEscape(strings.ToUpper(f.Name)+" "+f.Code))
	if rows := found.Text(".wares tbody"); !strings.Contains(rows, f.Name) || found.Page.Find(".wares tbody tr").Length() >= len(c.Frames) {
		t.Errorf("found %s", rows)
	}
	if everywhere := v.Get("/inventory?q=" + f.Code).Text(".found"); !strings.Contains(everywhere, f.Name) {
		t.Errorf("found everywhere: %s", everywhere)
	}
	v.Get("/inventory?q=nosuchthing").Count(".found .empty", 1)
	v.Stranger().Get("/inventory/frames").Is(http.StatusForbidden, "/inventory/frames")
}

// TestEveryFormSavesWhatItShows opens the form of everything the demo shop has
// and presses save: nothing is changed by that.
func TestEveryFormSavesWhatItShows(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	before, err := c.Document()
	if err != nil {
		t.Fatal(err)
	}
	var paths []string
	for i := range c.Frames {
		paths = append(paths, "/inventory/frames/"+c.Frames[i].Code)
	}
	for i := range c.AddOns {
		paths = append(paths, "/inventory/add-ons/"+c.AddOns[i].Code)
	}
	for i := range c.Units {
		paths = append(paths, "/inventory/units/"+url.PathEscape(c.Units[i].Tag))
	}
	for _, path := range paths {
		a := v.Save(path, v.Get(path).Ware(), "save")
		if a.Status != http.StatusOK || a.Text(".done") != "Saved. Nothing was different." {
			t.Errorf("%s: %d %s %s %s", path, a.Status, a.Text(".done"), a.Text(".alert"), a.Text(".error"))
		}
	}
	after, err := v.Catalogue().Document()
	if err != nil || string(after) != string(before) {
		t.Errorf("saving changes something, %v", err)
	}
	if saves, err := v.Store.History(t.Context(), "", "", 10); err != nil || len(saves) != 0 {
		t.Errorf("recorded: %v, %v", saves, err)
	}
}

func TestEditingAFrame(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	form := v.Get(path).Ware()
	form.Values.Set("bare_weight_kg", "54 lb")
	form.Values.Set("length_cm", "1,8 m") // a comma
	form.Values.Set("notes", "New sheet of the maker.\nSecond line.")
	a := v.Save(path, form, "save").Is(http.StatusOK, path)
	if a.Text(".done") != "Saved: 3 fields changed." {
		t.Errorf("%s", a.Text(".done"))
	}
	if f := v.Catalogue().Frame(code); f.BareWeight != 24494 || f.Length != 1800 || f.Notes != "New sheet of the maker.\nSecond line." {
		t.Errorf("%v %v %q", f.BareWeight, f.Length, f.Notes)
	}
	if past := a.Text("table.history"); !strings.Contains(past, "the link") || !strings.Contains(past, "24.494") {
		t.Errorf("history: %s", past)
	}
}

func TestNothingTypedIsLostWhereAFieldIsWrong(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	form := v.Get(path).Ware()
	form.Values.Set("gross_rating_kg", "heavy")
	form.Values.Set("material", "bamboo")
	a := v.Save(path, form, "save").Is(http.StatusUnprocessableEntity, path)
	again := a.Ware()
	if again.Values.Get("gross_rating_kg") != "heavy" || again.Values.Get("material") != "bamboo" {
		t.Errorf("lost: %v", again.Values)
	}
	if text := a.Text(webtest.ByID("gross_rating_kg-error")); !strings.Contains(text, "82 kg") {
		t.Errorf("fault: %q", text)
	}
	// What can be read and cannot be right is told at its field too.
	form.Values.Set("gross_rating_kg", "18000")
	form.Values.Set("zones[0].code", "Not A Code")
	a = v.Save(path, form, "save").Is(http.StatusUnprocessableEntity, path)
	if a.Text(webtest.ByID("gross_rating_kg-error")) == "" || a.Text(webtest.ByID("zones[0].code-error")) == "" {
		t.Errorf("faults: %s", a.Text(".error"))
	}
	// So is what it would break elsewhere.
	form = v.Get(path).Ware()
	for name := range form.Values {
		if strings.HasPrefix(name, "mounts[") {
			form.Values.Del(name)
		}
	}
	a = v.Save(path, form, "save").Is(http.StatusUnprocessableEntity, path)
	if !strings.Contains(a.Text(".file-faults"), "add-on") && a.Text(".error") == "" {
		t.Errorf("nothing is said: %s", a.Text("main"))
	}
}

func TestRowsWithoutScript(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	zones := len(v.Catalogue().Frame(code).Zones)
	opened := v.Get(path)
	added := fmt.Sprintf("zones[%d].code", zones)
	if to := opened.One(`button[value="add zones"]`).AttrOr("formaction", ""); to != path+"#"+added {
		t.Errorf("the button leads to %s", to)
	}
	a := v.Save(path, opened.Ware(), "add zones").Is(http.StatusOK, path)
	form := a.Ware()
	form.Set(added, "belly")
	form.Set(fmt.Sprintf("zones[%d].rating_kg", zones), "12,5")
	v.Save(path, form, "save").Is(http.StatusOK, path)
	if f := v.Catalogue().Frame(code); len(f.Zones) != zones+1 || f.Zones[zones].Rating != 12500 {
		t.Fatalf("%v", f.Zones)
	}
	form = v.Save(path, v.Get(path).Ware(), fmt.Sprintf("remove zones %d", zones)).Ware()
	v.Save(path, form, "save").Is(http.StatusOK, path)
	if f := v.Catalogue().Frame(code); len(f.Zones) != zones {
		t.Errorf("%v", f.Zones)
	}
}

func TestNewDuplicateRetireDelete(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	_, _, tag := v.AnyCode()
	a := v.Get("/inventory/units/new?from=" + tag)
	form := a.Ware()
	if form.Values.Get("tag") != "" || form.Values.Get("frame") == "" {
		t.Errorf("a copy: %v", form.Values)
	}
	// The tag of another one, and then one of its own.
	form.Set("tag", tag)
	if a := v.Save("/inventory/units/new", form, "save"); a.Status != http.StatusUnprocessableEntity || a.Text(webtest.ByID("tag-error")) == "" {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
	form.Set("tag", "Z-1/2")
	at := "/inventory/units/Z-1%2F2"
	v.Save("/inventory/units/new", form, "save").Is(http.StatusOK, at)
	units := len(v.Catalogue().Units)
	a = v.Post(at+"/retire", url.Values{"do": {"retire"}}).Is(http.StatusOK, at)
	if !strings.Contains(a.Text("h1"), "Retired") {
		t.Error(a.Text("h1"))
	}
	v.Get("/inventory/units").Count("details .wares tbody tr", 1)
	v.Post(at+"/retire", url.Values{"do": {"back"}}).Is(http.StatusOK, at)
	v.Post(at+"/delete", url.Values{"do": {"delete"}}).Is(http.StatusOK, "/inventory/units")
	if len(v.Catalogue().Units) != units-1 {
		t.Error("not deleted")
	}
	// What something names is not.
	code, _, _ := v.AnyCode()
	a = v.Get("/inventory/frames/" + code)
	if a.Page.Find(`form[action$="/delete"]`).Length() != 0 {
		t.Error("a frame that is named may be deleted")
	}
	a = v.Post("/inventory/frames/"+code+"/delete", url.Values{"do": {"delete"}}).Is(http.StatusOK, "/inventory/frames/"+code)
	if !strings.Contains(a.Text(".done"), "named by") || v.Catalogue().Frame(code) == nil {
		t.Errorf("%s", a.Text(".done"))
	}
}

// TestRetiredIsNotOffered ranks before and after a frame is retired.
func TestRetiredIsNotOffered(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address, form := v.Consultation()
	form.Set("riders[0].height_cm", "178")
	form.Set("riders[0].weight_kg", "80")
	a := v.Press(form, address, "frames")
	code, _ := a.Page.Find("[data-frame], .ranked a").First().Attr("href")
	frame := code[strings.LastIndexByte(code, '/')+1:]
	if frame == "" || v.Catalogue().Frame(frame) == nil {
		frame = v.Catalogue().Frames[0].Code
	}
	has := func() bool { return strings.Contains(string(v.Get(address+"/frames").Body), "/frames/"+frame+`"`) }
	if !has() {
		t.Fatalf("%s is not ranked", frame)
	}
	v.Post("/inventory/frames/"+frame+"/retire", url.Values{"do": {"retire"}})
	if has() {
		t.Errorf("%s is still offered", frame)
	}
	v.Post("/inventory/frames/"+frame+"/retire", url.Values{"do": {"back"}})
	if !has() {
		t.Errorf("%s does not come back", frame)
	}
	// Whatever add-on is retired, the ranking goes on.
	for _, addOn := range v.Catalogue().AddOns {
		v.Post("/inventory/add-ons/"+addOn.Code+"/retire", url.Values{"do": {"retire"}})
	}
	if !has() {
		t.Errorf("nothing is ranked without add-ons")
	}
}

// TestTwoPeopleEditOneFrame opens a form twice. Different fields go together;
// of the same field the second is asked.
func TestTwoPeopleEditOneFrame(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	mine, theirs := v.Get(path).Ware(), v.Get(path).Ware()
	theirs.Set("material", "aluminium")
	theirs.Set("size", "tall")
	v.Save(path, theirs, "save").Is(http.StatusOK, path)
	mine.Set("material", "titanium")
	mine.Set("family", "Reeds")
	a := v.Save(path, mine, "save").Is(http.StatusConflict, path)
	if text := a.Text(".clashes"); !strings.Contains(text, "Yours: titanium") || !strings.Contains(text, "Theirs: aluminium") || strings.Contains(text, "tall") {
		t.Errorf("%s", text)
	}
	if f := v.Catalogue().Frame(code); f.Material != "aluminium" || f.Family == "Reeds" {
		t.Errorf("half saved: %+v", f)
	}
	// They change it once more before I choose: I am asked anew.
	third := v.Get(path).Ware()
	third.Set("material", "oak")
	v.Save(path, third, "save").Is(http.StatusOK, path)
	chosen := a.Ware()
	chosen.Values.Set("choose:material", "mine")
	a = v.Save(path, chosen, "save").Is(http.StatusConflict, path)
	chosen = a.Ware()
	if chosen.Values.Get("material") != "titanium" {
		t.Errorf("typed is lost: %s", chosen.Values.Get("material"))
	}
	chosen.Values.Set("choose:material", "mine")
	a = v.Save(path, chosen, "save").Is(http.StatusOK, path)
	if f := v.Catalogue().Frame(code); f.Material != "titanium" || f.Family != "Reeds" || f.Size != "tall" {
		t.Errorf("%+v", f)
	}
	if !strings.Contains(a.Text(".done"), "both are kept") {
		t.Error(a.Text(".done"))
	}
}

// TestManySavesAtOnce changes another field of one frame in every one of many
// requests at the same time: all of them stand in the end, and all of them in
// the history.
func TestManySavesAtOnce(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	fields := []string{"name", "family", "material", "size", "notes", "assist_watts"}
	var group sync.WaitGroup
	for i, name := range fields {
		form := v.Get(path).Ware()
		form.Values.Set(name, fmt.Sprint(20+i))
		form.Values.Set("do", "save")
		group.Go(func() {
			r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, v.Server.URL+path, strings.NewReader(form.Values.Encode()))
			if err != nil {
				t.Error(err)
				return
			}
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			response, err := v.Client.Do(r)
			if err != nil {
				t.Error(err)
				return
			}
			if err := response.Body.Close(); err != nil || response.StatusCode != http.StatusOK {
				t.Errorf("%s: %d %v", name, response.StatusCode, err)
			}
		})
	}
	group.Wait()
	if f := v.Catalogue().Frame(code); f.Name != "20" || f.Family != "21" || f.Material != "22" || f.Size != "23" || f.Notes != "24" || f.AssistWatts != 25 {
		t.Errorf("%+v", f)
	}
	if saves, err := v.Store.History(t.Context(), "frames", code, 100); err != nil || len(saves) != len(fields) {
		t.Errorf("%d saves, %v", len(saves), err)
	}
}

func TestUndo(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	was := v.Catalogue().Frame(code).Material
	edit := func(value string) {
		form := v.Get(path).Ware()
		form.Set("material", value)
		v.Save(path, form, "save").Is(http.StatusOK, path)
	}
	edit("oak")
	undo := v.Get("/inventory/history").One(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	edit("ash")
	if a := v.Post(undo, url.Values{"do": {"undo"}}); a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "ash now") {
		t.Errorf("%d %s", a.Status, a.Text(".alert"))
	}
	edit("oak")
	a := v.Post(undo, url.Values{"do": {"undo"}})
	if a.Status != http.StatusOK || v.Catalogue().Frame(code).Material != was || !strings.Contains(a.Text(".done"), "Undone") {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
	if saves, err := v.Store.History(t.Context(), "frames", code, 1); err != nil || saves[0].How != store.ByUndo || saves[0].Changes[0].Old != `"oak"` {
		t.Errorf("%v, %v", saves, err)
	}
	v.Post("/inventory/history/999/0", nil).Is(http.StatusNotFound, "/inventory/history/999/0")
}

// TestUndoOfWhatWouldBeFaulty undoes the adding of an add-on that a frame
// comes with by now.
func TestUndoOfWhatWouldBeFaulty(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	form := v.Get("/inventory/add-ons/new").Ware()
	form.Set("code", "bell")
	form.Set("name", "Bell")
	form.Set("weight_kg", "0,1")
	v.Save("/inventory/add-ons/new", form, "save").Is(http.StatusOK, "/inventory/add-ons/bell")
	undo := v.Get("/inventory/history").One(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	code, _, _ := v.AnyCode()
	frame := v.Get("/inventory/frames/" + code).Ware()
	frame.Values.Add("comes_with", "bell")
	v.Save("/inventory/frames/"+code, frame, "save").Is(http.StatusOK, "/inventory/frames/"+code)
	a := v.Post(undo, url.Values{"do": {"undo"}})
	if a.Status != http.StatusConflict || !strings.Contains(a.Text(".alert"), "named by") || v.Catalogue().AddOn("bell") == nil {
		t.Errorf("%d %s", a.Status, a.Text("main"))
	}
}

func TestInventoryAsJSON(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	code, _, _ := v.AnyCode()
	path := "/inventory/frames/" + code
	get := v.Request(http.MethodGet, path, nil)
	get.Header.Set("Accept", "application/json")
	a := v.Send(get)
	tag := a.Header.Get("ETag")
	put := func(match, document string) *webtest.Answer {
		r := v.Request(http.MethodPut, path, strings.NewReader(document))
		r.Header.Set("Accept", "application/json")
		if match != "" {
			r.Header.Set("If-Match", match)
		}
		return v.Send(r)
	}
	changed := strings.Replace(string(a.Body), `"notes": "`, `"notes": "Checked. `, 1)
	if a.Status != http.StatusOK || tag == "" || changed == string(a.Body) {
		t.Fatalf("%d %s", a.Status, a.Body)
	}
	for _, c := range []struct {
		match, document string
		status          int
	}{
		{"", changed, http.StatusPreconditionRequired},
		{`"other"`, changed, http.StatusPreconditionFailed},
		{tag, "{", http.StatusUnprocessableEntity},
		{tag, strings.Replace(changed, `"code": "`+code, `"code": "x`+code, 1), http.StatusUnprocessableEntity},
		{tag, strings.Replace(changed, `"name": "`, `"nmae": "`, 1), http.StatusUnprocessableEntity},
		{tag, changed, http.StatusOK},
		{tag, changed, http.StatusPreconditionFailed},
	} {
		if a := put(c.match, c.document); a.Status != c.status {
			t.Errorf("%s %.40s: %d %s, want %d", c.match, c.document, a.Status, a.Body, c.status)
		}
	}
	if !strings.HasPrefix(v.Catalogue().Frame(code).Notes, "Checked. ") {
		t.Error("not stored")
	}
	again := v.Request(http.MethodGet, path, nil)
	again.Header.Set("Accept", "application/json")
	if v.Send(again).Header.Get("ETag") == tag {
		t.Error("the tag is the same")
	}
}

func TestFitsGrid(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	c := v.Catalogue()
	a := v.Get("/inventory/fits")
	form := func(a *webtest.Answer) url.Values {
		values := url.Values{}
		a.Page.Find("form[data-fits] input").Each(func(_ int, i *goquery.Selection) {
			_, checked := i.Attr("checked")
			if checked || i.AttrOr("type", "") == "hidden" {
				values.Add(i.AttrOr("name", ""), i.AttrOr("value", ""))
			}
		})
		return values
	}
	values := form(a)
	// A pair that the domain says cannot be.
	var pair string
	for i := range c.AddOns {
		for j := range c.Frames {
			try := *c
			try.AddOns = append([]catalog.AddOn{}, c.AddOns...)
			try.AddOns[i].Fits = append(append([]string{}, c.AddOns[i].Fits...), c.Frames[j].Code)
			if err := try.Check(); err != nil && pair == "" && !slices.Contains(c.AddOns[i].Fits, c.Frames[j].Code) {
				pair = c.AddOns[i].Code + " " + c.Frames[j].Code
			}
		}
	}
	values.Add("fit", pair)
	values.Set("do", "save")
	a = v.Post("/inventory/fits", values).Is(http.StatusUnprocessableEntity, "/inventory/fits")
	if a.Text(".misfits .faulty") == "" || a.Page.Find(fmt.Sprintf(`input[name="fit"][value="%s"][checked]`, pair)).Length() != 1 {
		t.Errorf("%s: %s", pair, a.Text(".misfits"))
	}
	// Somebody else takes a tick away meanwhile; mine goes together with it.
	values = form(v.Get("/inventory/fits"))
	var gone, mine string
	for i := range c.AddOns {
		if len(c.AddOns[i].OnFrame) == 0 && len(c.AddOns[i].Fits) > 1 {
			gone, mine = c.AddOns[i].Code+" "+c.AddOns[i].Fits[0], c.AddOns[i].Code+" "+c.AddOns[i].Fits[1]
		}
	}
	without := func(from url.Values, pair string) url.Values {
		left := url.Values{"was": from["was"], "do": {"save"}}
		for _, p := range from["fit"] {
			if p != pair {
				left.Add("fit", p)
			}
		}
		return left
	}
	v.Post("/inventory/fits", without(values, gone)).Is(http.StatusOK, "/inventory/fits")
	v.Post("/inventory/fits", without(values, mine)).Is(http.StatusOK, "/inventory/fits")
	code, _, _ := strings.Cut(mine, " ")
	if fits := v.Catalogue().AddOn(code).Fits; slices.Contains(fits, strings.Fields(gone)[1]) || slices.Contains(fits, strings.Fields(mine)[1]) {
		t.Errorf("%s without %s and %s", fits, gone, mine)
	}
}

// TestImportIsInTheHistory confirms an import of one figure, and undoes it.
func TestImportIsInTheHistory(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	waits := v.Upload(webtest.Edited(t, v.Tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,"))
	v.Post(waits.Path, url.Values{"at": {waits.One(`input[name="at"]`).AttrOr("value", "")}})
	saves, err := v.Store.History(t.Context(), "", "", 10)
	if err != nil || len(saves) != 1 || saves[0].How != store.ByImport || saves[0].Who != "the link" {
		t.Fatalf("%+v, %v", saves, err)
	}
	want := catalog.Change{List: "frames", Code: "sedge", Field: "zones[rear].rating_kg", Old: "70", New: "65"}
	if !slices.Equal(saves[0].Changes, []catalog.Change{want}) {
		t.Errorf("%v", saves[0].Changes)
	}
	undo := v.Get("/inventory/history?list=frames&code=sedge").One(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	v.Post(undo, url.Values{"do": {"undo"}}).Is(http.StatusOK, "/inventory/history?code=sedge&list=frames")
	if f := v.Catalogue().Frame("sedge"); f.Zones[f.ZoneIndex("rear")].Rating != 70000 {
		t.Error("not undone")
	}
	v.Get("/inventory/history?list=units").Count("table.history", 0)
}

// TestRetiredPartsOfABikeStillWeigh retires what a frame comes with: it is
// still there to be taken off, and its weight still counts.
func TestRetiredPartsOfABikeStillWeigh(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	address := v.Interview([]byte(webtest.Family))
	sheet := func() string { return v.Get(address + "/frames/osier-m").Text(".sheet") }
	before := sheet()
	if !strings.Contains(before, "Taken off: One-leg stand") {
		t.Fatalf("%s", before)
	}
	v.Post("/inventory/add-ons/stand-one-leg/retire", url.Values{"do": {"retire"}})
	if after := sheet(); after != before {
		t.Errorf("before: %s\nafter: %s", before, after)
	}
}
