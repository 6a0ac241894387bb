package inventory_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/google/go-cmp/cmp"

	"kinwain/internal/catalog"
	"kinwain/web/webtest"
)

// familyForm reads the form of a family as it would be sent.
func familyForm(a *webtest.Answer) url.Values {
	a.Helper()
	values := url.Values{"do": {"save"}}
	a.One("form#family").Find("input[name], select").Each(func(_ int, s *goquery.Selection) {
		value := s.AttrOr("value", "")
		if goquery.NodeName(s) == "select" {
			value = s.Find("option[selected]").AttrOr("value", "")
		}
		if _, ticked := s.Attr("checked"); ticked || s.AttrOr("type", "") != "checkbox" {
			values.Add(s.AttrOr("name", ""), value)
		}
	})
	return values
}

// familyOf returns a family of the shop with more frames than one.
func familyOf(t *testing.T, c *catalog.Catalogue) []catalog.Frame {
	t.Helper()
	by := map[string][]catalog.Frame{}
	for _, f := range c.Frames {
		if by[f.Family] = append(by[f.Family], f); f.Family != "" && len(by[f.Family]) > 2 {
			return by[f.Family]
		}
	}
	t.Fatal("no family of three")
	return nil
}

// TestNextYearsFamily: saved as it stands it is last year's under other names,
// with all that fits each; what was typed is what changes.
func TestNextYearsFamily(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	before := v.Catalogue()
	family := familyOf(t, before)
	path := "/inventory/family?of=" + family[0].Code
	form := familyForm(v.Get(path).Is(http.StatusOK, path))
	form.Set("f0:price_cents", "1999,50")
	form.Set("f1:zones[0].rating_kg", "17")
	a := v.Sure(path, form).Is(http.StatusOK, "/inventory/frames")
	if said := a.Text(".done"); !strings.Contains(said, "frames added.") {
		t.Errorf("said %q", said)
	}
	after := v.Catalogue()
	if len(after.Frames) != len(before.Frames)+len(form["from"]) {
		t.Fatalf("%d frames of %d and %d", len(after.Frames), len(before.Frames), len(form["from"]))
	}
	for i, code := range form["from"] {
		want, got := *before.Frame(code), after.Frames[len(before.Frames)+i]
		if !strings.HasPrefix(got.Code, code+"-20") || !strings.HasPrefix(got.Name, want.Name+" 20") || !strings.HasPrefix(got.Family, want.Family+" 20") {
			t.Errorf("%s is called %s, %s, %s", code, got.Code, got.Name, got.Family)
		}
		want.Code, want.Name, want.Family = got.Code, got.Name, got.Family
		switch want.Zones = slices.Clone(want.Zones); i {
		case 0:
			want.Price = 199950
		case 1:
			want.Zones[0].Rating = 17_000
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", code, diff)
		}
		for k := range after.AddOns {
			old, now := &before.AddOns[k], &after.AddOns[k]
			if slices.Contains(old.Fits, code) != slices.Contains(now.Fits, got.Code) || !cmp.Equal(old.OnFrame[code], now.OnFrame[got.Code]) {
				t.Errorf("%s on %s is not as on %s", now.Code, got.Code, code)
			}
		}
	}
	// Once more the codes are taken, which is told at them; nothing is lost.
	again := v.Post(path, form).Is(http.StatusUnprocessableEntity, path)
	again.Count(".typed.bad", len(form["from"]))
	if kept := familyForm(again); kept.Get("f0:price_cents") != "1999,50" {
		t.Errorf("lost: %q", kept.Get("f0:price_cents"))
	}
	// The year after, the year is put in the place of this.
	next := familyForm(v.Get("/inventory/family?of=" + after.Frames[len(before.Frames)].Code))
	if code := next.Get("f0:code"); code != after.Frames[len(before.Frames)].Code {
		t.Errorf("the year after is %q", code)
	}
}

func TestAFamilyThatCannotBe(t *testing.T) {
	t.Parallel()
	v := webtest.Open(t).Staff()
	before := v.Catalogue()
	family := familyOf(t, before)
	path := "/inventory/family?of=" + family[0].Code
	form := familyForm(v.Get(path))
	form.Set("f0:gross_rating_kg", "heavy")
	form.Set("f1:bare_weight_kg", "")
	v.Post(path, form).Is(http.StatusUnprocessableEntity, path).Count(".typed.bad", 1) // what cannot be read comes first
	form.Set("f0:gross_rating_kg", "20")
	v.Post(path, form).Is(http.StatusUnprocessableEntity, path).Count(".typed.bad", 2)
	form.Del("from")
	v.Post(path, form).Is(http.StatusBadRequest, path)
	v.Get("/inventory/family?of=nosuchframe").Is(http.StatusNotFound, "/inventory/family?of=nosuchframe")
	same(t, v.Catalogue(), before)
}

// TestMakingAnotherBringsWhatFits: a copy of a frame keeps ticks and what
// differs on it, unless the manager says no.
func TestMakingAnotherBringsWhatFits(t *testing.T) {
	t.Parallel()
	for _, bring := range []bool{true, false} {
		v := webtest.Open(t).Staff()
		before := v.Catalogue()
		from := familyOf(t, before)[0].Code
		form := v.Get("/inventory/frames/new?from=" + from).Ware()
		form.Set("code", "another")
		if !bring {
			form.Values.Del("bring")
		}
		v.Save("/inventory/frames/new", form, "save").Is(http.StatusOK, "/inventory/frames/another")
		after, fit := v.Catalogue(), 0
		for k := range after.AddOns {
			a := &after.AddOns[k]
			if slices.Contains(a.Fits, "another") {
				fit++
			}
			if bring && (slices.Contains(a.Fits, from) != slices.Contains(a.Fits, "another") || !cmp.Equal(a.OnFrame[from], a.OnFrame["another"])) {
				t.Errorf("%s is not as on %s", a.Code, from)
			}
		}
		if bring != (fit > 0) {
			t.Errorf("brought %v: %d fit", bring, fit)
		}
	}
}
