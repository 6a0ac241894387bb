package web_test

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
)

// ware reads what the fields of the form of a thing hold.
func (a *answer) ware() *filled {
	a.Helper()
	form := a.one("form#ware")
	f := &filled{T: a.T, page: a.page, values: url.Values{}}
	form.Find("input, select, textarea").Each(func(_ int, field *goquery.Selection) {
		name := field.AttrOr("name", "")
		switch field.AttrOr("type", goquery.NodeName(field)) {
		case "checkbox", "radio":
			if _, checked := field.Attr("checked"); checked {
				f.values.Add(name, field.AttrOr("value", "on"))
			}
		case "select":
			f.values.Add(name, field.Find("option[selected]").AttrOr("value", ""))
		case "textarea":
			f.values.Add(name, field.Text())
		default:
			f.values.Add(name, field.AttrOr("value", ""))
		}
	})
	return f
}

// save sends the form of a thing by a button.
func (v *visitor) save(path string, f *filled, do string) *answer {
	v.Helper()
	f.values.Set("do", do)
	return v.post(path, f.values)
}

func (s *shop) catalogue() *catalog.Catalogue {
	s.Helper()
	c, err := s.store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	return c
}

// anyCode returns a frame, an add-on that fits it, and a unit of the demo shop.
func (s *shop) anyCode() (frame, addOn, unit string) {
	c := s.catalogue()
	return c.Frames[0].Code, c.AddOns[0].Code, c.Units[0].Tag
}

func TestInventoryPages(t *testing.T) {
	v := open(t).staff()
	c := v.catalogue()
	a := v.get("/inventory").is(http.StatusOK, "/inventory")
	if counts := a.text(".ware-counts"); !strings.Contains(counts, fmt.Sprintf("%d Frames", len(c.Frames))) || !strings.Contains(counts, fmt.Sprintf("%d Units", len(c.Units))) {
		t.Errorf("counts: %s", counts)
	}
	for slug, n := range map[string]int{"frames": len(c.Frames), "add-ons": len(c.AddOns), "units": len(c.Units)} {
		v.get("/inventory/"+slug).is(http.StatusOK, "/inventory/"+slug).count(".wares tbody tr", n)
	}
	f := c.Frames[1]
	found := v.get("/inventory/frames?q=" + url.QueryEscape(strings.ToUpper(f.Name)+" "+f.Code))
	if rows := found.text(".wares tbody"); !strings.Contains(rows, f.Name) || found.page.Find(".wares tbody tr").Length() >= len(c.Frames) {
		t.Errorf("found %s", rows)
	}
	if everywhere := v.get("/inventory?q=" + f.Code).text(".found"); !strings.Contains(everywhere, f.Name) {
		t.Errorf("found everywhere: %s", everywhere)
	}
	v.get("/inventory?q=nosuchthing").count(".found .empty", 1)
	v.stranger().get("/inventory/frames").is(http.StatusForbidden, "/inventory/frames")
}

// TestEveryFormSavesWhatItShows opens the form of everything the demo shop has
// and presses save: nothing is changed by that.
func TestEveryFormSavesWhatItShows(t *testing.T) {
	v := open(t).staff()
	c := v.catalogue()
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
		a := v.save(path, v.get(path).ware(), "save")
		if a.status != http.StatusOK || a.text(".done") != "Saved. Nothing was different." {
			t.Errorf("%s: %d %s %s %s", path, a.status, a.text(".done"), a.text(".alert"), a.text(".error"))
		}
	}
	after, err := v.catalogue().Document()
	if err != nil || string(after) != string(before) {
		t.Errorf("saving changes something, %v", err)
	}
	if saves, err := v.store.History(t.Context(), "", "", 10); err != nil || len(saves) != 0 {
		t.Errorf("recorded: %v, %v", saves, err)
	}
}

func TestEditingAFrame(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	form := v.get(path).ware()
	form.values.Set("bare_weight_kg", "54 lb")
	form.values.Set("length_cm", "1,8 m") // a comma
	form.values.Set("notes", "New sheet of the maker.\nSecond line.")
	a := v.save(path, form, "save").is(http.StatusOK, path)
	if a.text(".done") != "Saved: 3 fields changed." {
		t.Errorf("%s", a.text(".done"))
	}
	if f := v.catalogue().Frame(code); f.BareWeight != 24494 || f.Length != 1800 || f.Notes != "New sheet of the maker.\nSecond line." {
		t.Errorf("%v %v %q", f.BareWeight, f.Length, f.Notes)
	}
	if past := a.text("table.history"); !strings.Contains(past, "manager (printed link)") || !strings.Contains(past, "24.494") {
		t.Errorf("history: %s", past)
	}
}

func TestNothingTypedIsLostWhereAFieldIsWrong(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	form := v.get(path).ware()
	form.values.Set("gross_rating_kg", "heavy")
	form.values.Set("material", "bamboo")
	a := v.save(path, form, "save").is(http.StatusUnprocessableEntity, path)
	again := a.ware()
	if again.values.Get("gross_rating_kg") != "heavy" || again.values.Get("material") != "bamboo" {
		t.Errorf("lost: %v", again.values)
	}
	if text := a.text(byID("gross_rating_kg-error")); !strings.Contains(text, "82 kg") {
		t.Errorf("fault: %q", text)
	}
	// What can be read and cannot be right is told at its field too.
	form.values.Set("gross_rating_kg", "18000")
	form.values.Set("zones[0].code", "Not A Code")
	a = v.save(path, form, "save").is(http.StatusUnprocessableEntity, path)
	if a.text(byID("gross_rating_kg-error")) == "" || a.text(byID("zones[0].code-error")) == "" {
		t.Errorf("faults: %s", a.text(".error"))
	}
	// So is what it would break elsewhere.
	form = v.get(path).ware()
	for name := range form.values {
		if strings.HasPrefix(name, "mounts[") {
			form.values.Del(name)
		}
	}
	a = v.save(path, form, "save").is(http.StatusUnprocessableEntity, path)
	if !strings.Contains(a.text(".file-faults"), "add-on") && a.text(".error") == "" {
		t.Errorf("nothing is said: %s", a.text("main"))
	}
}

func TestRowsWithoutScript(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	zones := len(v.catalogue().Frame(code).Zones)
	opened := v.get(path)
	added := fmt.Sprintf("zones[%d].code", zones)
	if to := opened.one(`button[value="add zones"]`).AttrOr("formaction", ""); to != path+"#"+added {
		t.Errorf("the button leads to %s", to)
	}
	a := v.save(path, opened.ware(), "add zones").is(http.StatusOK, path)
	form := a.ware()
	form.set(added, "belly")
	form.set(fmt.Sprintf("zones[%d].rating_kg", zones), "12,5")
	v.save(path, form, "save").is(http.StatusOK, path)
	if f := v.catalogue().Frame(code); len(f.Zones) != zones+1 || f.Zones[zones].Rating != 12500 {
		t.Fatalf("%v", f.Zones)
	}
	form = v.save(path, v.get(path).ware(), fmt.Sprintf("remove zones %d", zones)).ware()
	v.save(path, form, "save").is(http.StatusOK, path)
	if f := v.catalogue().Frame(code); len(f.Zones) != zones {
		t.Errorf("%v", f.Zones)
	}
}

func TestNewDuplicateRetireDelete(t *testing.T) {
	v := open(t).staff()
	_, _, tag := v.anyCode()
	a := v.get("/inventory/units/new?from=" + tag)
	form := a.ware()
	if form.values.Get("tag") != "" || form.values.Get("frame") == "" {
		t.Errorf("a copy: %v", form.values)
	}
	// The tag of another one, and then one of its own.
	form.set("tag", tag)
	if a := v.save("/inventory/units/new", form, "save"); a.status != http.StatusUnprocessableEntity || a.text(byID("tag-error")) == "" {
		t.Errorf("%d %s", a.status, a.text("main"))
	}
	form.set("tag", "Z-1/2")
	at := "/inventory/units/Z-1%2F2"
	v.save("/inventory/units/new", form, "save").is(http.StatusOK, at)
	units := len(v.catalogue().Units)
	a = v.post(at+"/retire", url.Values{"do": {"retire"}}).is(http.StatusOK, at)
	if !strings.Contains(a.text("h1"), "Retired") {
		t.Error(a.text("h1"))
	}
	v.get("/inventory/units").count("details .wares tbody tr", 1)
	v.post(at+"/retire", url.Values{"do": {"back"}}).is(http.StatusOK, at)
	v.post(at+"/delete", url.Values{"do": {"delete"}}).is(http.StatusOK, "/inventory/units")
	if len(v.catalogue().Units) != units-1 {
		t.Error("not deleted")
	}
	// What something names is not.
	code, _, _ := v.anyCode()
	a = v.get("/inventory/frames/" + code)
	if a.page.Find(`form[action$="/delete"]`).Length() != 0 {
		t.Error("a frame that is named may be deleted")
	}
	a = v.post("/inventory/frames/"+code+"/delete", url.Values{"do": {"delete"}}).is(http.StatusOK, "/inventory/frames/"+code)
	if !strings.Contains(a.text(".done"), "named by") || v.catalogue().Frame(code) == nil {
		t.Errorf("%s", a.text(".done"))
	}
}

// TestRetiredIsNotOffered ranks before and after a frame is retired.
func TestRetiredIsNotOffered(t *testing.T) {
	v := open(t).staff()
	address, form := v.consultation()
	form.set("riders[0].height_cm", "178")
	form.set("riders[0].weight_kg", "80")
	a := v.press(form, address, "frames")
	code, _ := a.page.Find("[data-frame], .ranked a").First().Attr("href")
	frame := code[strings.LastIndexByte(code, '/')+1:]
	if frame == "" || v.catalogue().Frame(frame) == nil {
		frame = v.catalogue().Frames[0].Code
	}
	has := func() bool { return strings.Contains(string(v.get(address+"/frames").body), "/frames/"+frame+`"`) }
	if !has() {
		t.Fatalf("%s is not ranked", frame)
	}
	v.post("/inventory/frames/"+frame+"/retire", url.Values{"do": {"retire"}})
	if has() {
		t.Errorf("%s is still offered", frame)
	}
	v.post("/inventory/frames/"+frame+"/retire", url.Values{"do": {"back"}})
	if !has() {
		t.Errorf("%s does not come back", frame)
	}
	// Whatever add-on is retired, the ranking goes on.
	for _, addOn := range v.catalogue().AddOns {
		v.post("/inventory/add-ons/"+addOn.Code+"/retire", url.Values{"do": {"retire"}})
	}
	if !has() {
		t.Errorf("nothing is ranked without add-ons")
	}
}

// TestTwoPeopleEditOneFrame opens a form twice. Different fields go together;
// of the same field the second is asked.
func TestTwoPeopleEditOneFrame(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	mine, theirs := v.get(path).ware(), v.get(path).ware()
	theirs.set("material", "aluminium")
	theirs.set("size", "tall")
	v.save(path, theirs, "save").is(http.StatusOK, path)
	mine.set("material", "titanium")
	mine.set("family", "Reeds")
	a := v.save(path, mine, "save").is(http.StatusConflict, path)
	if text := a.text(".clashes"); !strings.Contains(text, "You typed: titanium") || !strings.Contains(text, "Saved meanwhile: aluminium") || strings.Contains(text, "tall") {
		t.Errorf("%s", text)
	}
	if f := v.catalogue().Frame(code); f.Material != "aluminium" || f.Family == "Reeds" {
		t.Errorf("half saved: %+v", f)
	}
	// They change it once more before I choose: I am asked anew.
	third := v.get(path).ware()
	third.set("material", "oak")
	v.save(path, third, "save").is(http.StatusOK, path)
	chosen := a.ware()
	chosen.values.Set("choose:material", "mine")
	a = v.save(path, chosen, "save").is(http.StatusConflict, path)
	chosen = a.ware()
	if chosen.values.Get("material") != "titanium" {
		t.Errorf("typed is lost: %s", chosen.values.Get("material"))
	}
	chosen.values.Set("choose:material", "mine")
	a = v.save(path, chosen, "save").is(http.StatusOK, path)
	if f := v.catalogue().Frame(code); f.Material != "titanium" || f.Family != "Reeds" || f.Size != "tall" {
		t.Errorf("%+v", f)
	}
	if !strings.Contains(a.text(".done"), "both are kept") {
		t.Error(a.text(".done"))
	}
}

// TestManySavesAtOnce changes another field of one frame in every one of many
// requests at the same time: all of them stand in the end, and all of them in
// the history.
func TestManySavesAtOnce(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	fields := []string{"name", "family", "material", "size", "notes", "assist_watts"}
	var group sync.WaitGroup
	for i, name := range fields {
		form := v.get(path).ware()
		form.values.Set(name, fmt.Sprint(20+i))
		form.values.Set("do", "save")
		group.Go(func() {
			r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, v.server.URL+path, strings.NewReader(form.values.Encode()))
			if err != nil {
				t.Error(err)
				return
			}
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			response, err := v.client.Do(r)
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
	if f := v.catalogue().Frame(code); f.Name != "20" || f.Family != "21" || f.Material != "22" || f.Size != "23" || f.Notes != "24" || f.AssistWatts != 25 {
		t.Errorf("%+v", f)
	}
	if saves, err := v.store.History(t.Context(), "frames", code, 100); err != nil || len(saves) != len(fields) {
		t.Errorf("%d saves, %v", len(saves), err)
	}
}

func TestUndo(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	was := v.catalogue().Frame(code).Material
	edit := func(value string) {
		form := v.get(path).ware()
		form.set("material", value)
		v.save(path, form, "save").is(http.StatusOK, path)
	}
	edit("oak")
	undo := v.get("/inventory/history").one(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	edit("ash")
	if a := v.post(undo, url.Values{"do": {"undo"}}); a.status != http.StatusConflict || !strings.Contains(a.text(".alert"), "ash now") {
		t.Errorf("%d %s", a.status, a.text(".alert"))
	}
	edit("oak")
	a := v.post(undo, url.Values{"do": {"undo"}})
	if a.status != http.StatusOK || v.catalogue().Frame(code).Material != was || !strings.Contains(a.text(".done"), "Undone") {
		t.Errorf("%d %s", a.status, a.text("main"))
	}
	if saves, err := v.store.History(t.Context(), "frames", code, 1); err != nil || saves[0].How != store.ByUndo || saves[0].Changes[0].Old != `"oak"` {
		t.Errorf("%v, %v", saves, err)
	}
	v.post("/inventory/history/999/0", nil).is(http.StatusNotFound, "/inventory/history/999/0")
}

// TestUndoOfWhatWouldBeFaulty undoes the adding of an add-on that a frame
// comes with by now.
func TestUndoOfWhatWouldBeFaulty(t *testing.T) {
	v := open(t).staff()
	form := v.get("/inventory/add-ons/new").ware()
	form.set("code", "bell")
	form.set("name", "Bell")
	form.set("weight_kg", "0,1")
	v.save("/inventory/add-ons/new", form, "save").is(http.StatusOK, "/inventory/add-ons/bell")
	undo := v.get("/inventory/history").one(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	code, _, _ := v.anyCode()
	frame := v.get("/inventory/frames/" + code).ware()
	frame.values.Add("comes_with", "bell")
	v.save("/inventory/frames/"+code, frame, "save").is(http.StatusOK, "/inventory/frames/"+code)
	a := v.post(undo, url.Values{"do": {"undo"}})
	if a.status != http.StatusConflict || !strings.Contains(a.text(".alert"), "named by") || v.catalogue().AddOn("bell") == nil {
		t.Errorf("%d %s", a.status, a.text("main"))
	}
}

func TestInventoryAsJSON(t *testing.T) {
	v := open(t).staff()
	code, _, _ := v.anyCode()
	path := "/inventory/frames/" + code
	get := v.request(http.MethodGet, path, nil)
	get.Header.Set("Accept", "application/json")
	a := v.send(get)
	tag := a.header.Get("ETag")
	put := func(match, document string) *answer {
		r := v.request(http.MethodPut, path, strings.NewReader(document))
		r.Header.Set("Accept", "application/json")
		if match != "" {
			r.Header.Set("If-Match", match)
		}
		return v.send(r)
	}
	changed := strings.Replace(string(a.body), `"notes": "`, `"notes": "Checked. `, 1)
	if a.status != http.StatusOK || tag == "" || changed == string(a.body) {
		t.Fatalf("%d %s", a.status, a.body)
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
		if a := put(c.match, c.document); a.status != c.status {
			t.Errorf("%s %.40s: %d %s, want %d", c.match, c.document, a.status, a.body, c.status)
		}
	}
	if !strings.HasPrefix(v.catalogue().Frame(code).Notes, "Checked. ") {
		t.Error("not stored")
	}
	again := v.request(http.MethodGet, path, nil)
	again.Header.Set("Accept", "application/json")
	if v.send(again).header.Get("ETag") == tag {
		t.Error("the tag is the same")
	}
}

func TestFitsGrid(t *testing.T) {
	v := open(t).staff()
	c := v.catalogue()
	a := v.get("/inventory/fits")
	form := func(a *answer) url.Values {
		values := url.Values{}
		a.page.Find("form[data-fits] input").Each(func(_ int, i *goquery.Selection) {
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
	a = v.post("/inventory/fits", values).is(http.StatusUnprocessableEntity, "/inventory/fits")
	if a.text(".misfits .faulty") == "" || a.page.Find(fmt.Sprintf(`input[name="fit"][value="%s"][checked]`, pair)).Length() != 1 {
		t.Errorf("%s: %s", pair, a.text(".misfits"))
	}
	// Somebody else takes a tick away meanwhile; mine goes together with it.
	values = form(v.get("/inventory/fits"))
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
	v.post("/inventory/fits", without(values, gone)).is(http.StatusOK, "/inventory/fits")
	v.post("/inventory/fits", without(values, mine)).is(http.StatusOK, "/inventory/fits")
	code, _, _ := strings.Cut(mine, " ")
	if fits := v.catalogue().AddOn(code).Fits; slices.Contains(fits, strings.Fields(gone)[1]) || slices.Contains(fits, strings.Fields(mine)[1]) {
		t.Errorf("%s without %s and %s", fits, gone, mine)
	}
}

// TestImportIsInTheHistory confirms an import of one figure, and undoes it.
func TestImportIsInTheHistory(t *testing.T) {
	v := open(t).staff()
	waits := v.upload(edited(t, v.tables()["zones.csv"], "sedge,rear,70,", "sedge,rear,65,"))
	v.post(waits.path, url.Values{"at": {waits.one(`input[name="at"]`).AttrOr("value", "")}})
	saves, err := v.store.History(t.Context(), "", "", 10)
	if err != nil || len(saves) != 1 || saves[0].How != store.ByImport || saves[0].Who != "manager (printed link)" {
		t.Fatalf("%+v, %v", saves, err)
	}
	want := catalog.Change{List: "frames", Code: "sedge", Field: "zones[rear].rating_kg", Old: "70", New: "65"}
	if !slices.Equal(saves[0].Changes, []catalog.Change{want}) {
		t.Errorf("%v", saves[0].Changes)
	}
	undo := v.get("/inventory/history?list=frames&code=sedge").one(`form[action^="/inventory/history/"]`).AttrOr("action", "")
	v.post(undo, url.Values{"do": {"undo"}}).is(http.StatusOK, "/inventory/history?code=sedge&list=frames")
	if f := v.catalogue().Frame("sedge"); f.Zones[f.ZoneIndex("rear")].Rating != 70000 {
		t.Error("not undone")
	}
	v.get("/inventory/history?list=units").count("table.history", 0)
}

// TestRetiredPartsOfABikeStillWeigh retires what a frame comes with: it is
// still there to be taken off, and its weight still counts.
func TestRetiredPartsOfABikeStillWeigh(t *testing.T) {
	v := open(t).staff()
	address := v.interview([]byte(family))
	sheet := func() string { return v.get(address + "/frames/osier-m").text(".sheet") }
	before := sheet()
	if !strings.Contains(before, "Taken off: One-leg stand") {
		t.Fatalf("%s", before)
	}
	v.post("/inventory/add-ons/stand-one-leg/retire", url.Values{"do": {"retire"}})
	if after := sheet(); after != before {
		t.Errorf("before: %s\nafter: %s", before, after)
	}
}
