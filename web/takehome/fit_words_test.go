package takehome_test

import (
	"encoding/json"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"

	"kinwain/internal/catalog"
	"kinwain/testdata"
	"kinwain/web/say"
	"kinwain/web/webtest"
)

// TestHiddenWeights looks for every figure that a rider's weight could be
// worked out from.
func TestHiddenWeights(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	heavy := strings.Replace(webtest.Family, `"weight_kg": 64`, `"weight_kg": 41`, 1) // over the carry guideline
	address := v.Interview([]byte(heavy))
	const code = "teasel"
	shown := s.Stranger().Get(v.SendHome(address, code, nil))
	hidden := v.SendHome(address, code, url.Values{"hide": {"yes"}})
	if text := shown.Text("main"); !strings.Contains(text, "82.0") || !strings.Contains(text, "of their own weight") {
		t.Fatalf("the test looks for nothing: %s", text)
	}
	frame := v.Get(address + "/frames/" + code)
	var telling []string
	frame.Page.Find(".sheet .sum td").Each(func(i int, cell *goquery.Selection) {
		if cell.Closest(".spare").Length() == 0 {
			telling = append(telling, strings.TrimSuffix(strings.TrimPrefix(webtest.Words(cell), "-"), ".0"))
		}
	})
	if len(telling) < 16 || !slices.Contains(telling, "82") || !slices.Contains(telling, "47") {
		t.Fatalf("the sums are %v", telling)
	}
	for _, l := range say.Languages {
		a := s.Stranger().Get(hidden + "?lang=" + string(l))
		a.Count(".sheet table, .zones, .sum", 0)
		a.Count(".sheet, .bar", 0)
		html, err := a.One("main").Html()
		if err != nil {
			t.Fatal(err)
		}
		for _, figure := range telling {
			for _, shown := range []string{figure + "\u00a0kg", strings.ReplaceAll(figure, ".", ",") + "\u00a0kg", figure + " kg"} {
				if strings.Contains(strings.ReplaceAll(html, "&nbsp;", "\u00a0"), ">"+shown) || strings.Contains(html, " "+shown) {
					t.Errorf("%s: tells %s", l, shown)
				}
			}
		}
		if line := a.Text("header .line"); !strings.Contains(line, "15 kg") {
			t.Errorf("%s: nothing is said to be spare: %s", l, line)
		}
	}
	if a := s.Stranger().Get(hidden); !strings.Contains(a.Text(".reasons"), "Some of what asks for care turns on what a rider weighs, which is left out here") || !strings.Contains(a.Text("[aria-labelledby=again]"), "First child is not weighed and counts with an estimate.") {
		t.Errorf("%s", a.Text("main"))
	}
}

// TestFitSpeaks asks for a summary in every way there is to ask.
func TestFitSpeaks(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	anyhow, german := v.SendHome(address, "teasel", nil), v.SendHome(address, "osier-m", url.Values{"language": {"de"}, "units": {"imperial"}})
	for _, c := range []struct{ path, accept, lang, unit string }{
		{anyhow, "", "en", "kg"}, {anyhow, "nl-BE, en;q=0.4", "nl", "kg"}, {anyhow, "ja", "en", "kg"}, {anyhow + "?lang=fr", "nl", "fr", "kg"}, {anyhow + "?lang=xx&units=stone", "nl", "nl", "kg"},
		{anyhow + "?units=imperial", "fr", "fr", "lb"}, {german, "fr", "de", "lb"}, {german + "?lang=fr", "", "fr", "lb"}, {german + "?units=metric", "", "de", "kg"}, {german + "?lang=nl&units=metric", "", "nl", "kg"},
	} {
		a := asked(s.Stranger(), c.path, c.accept)
		if got := a.One("html").AttrOr("lang", ""); got != c.lang {
			t.Errorf("%s for %q is in %s, want %s", c.path, c.accept, got, c.lang)
		}
		if got := webtest.Words(a.Page.Find(".sum thead th:last-child").First()); got != c.unit {
			t.Errorf("%s for %q is in %s, want %s", c.path, c.accept, got, c.unit)
		}
		current := map[string]bool{}
		a.Page.Find(".switches a").Each(func(_ int, link *goquery.Selection) {
			query, err := url.ParseQuery(strings.TrimPrefix(link.AttrOr("href", ""), "?"))
			if err != nil || len(query) != 2 {
				t.Errorf("%s leads to %s", webtest.Words(link), link.AttrOr("href", ""))
			}
			if _, is := link.Attr("aria-current"); is {
				current[query.Encode()] = true
			}
		})
		if want := (url.Values{"lang": {c.lang}, "units": {map[string]string{"kg": "metric", "lb": "imperial"}[c.unit]}}).Encode(); len(current) != 1 || !current[want] {
			t.Errorf("%s: current is %v, want %s", c.path, current, want)
		}
		a.Count(".switches a", len(say.Languages)+2)
	}
}

// TestNoEnglishLeft draws the summary and the papers of every sample customer, for the frame
// that suits best and for every frame once, beside the one that suits least, and
// looks for English, of the program and of the shop, and for words that no
// shop would say.
func TestNoEnglishLeft(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	var contact map[string]string
	if err := json.Unmarshal(testdata.Texts, &contact); err != nil {
		t.Fatal(err)
	}
	if err := s.Store.SetTexts(t.Context(), contact); err != nil {
		t.Fatal(err)
	}
	v, shop := s.Staff(), demo(s)
	ours, left := english(shop), map[string]bool{}
	for i := range shop.Frames {
		left[shop.Frames[i].Code] = true
	}
	customers := webtest.Customers(t)
	customers["alone, for the small frames"] = []byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 165, "weight_kg": 58}]}`)
	for name, document := range customers {
		address := v.Interview(document)
		ranked := webtest.ToldByRanking(v.Get(address + "/frames"))
		for i, one := range ranked {
			if other := ranked[(i+1)%len(ranked)].Frame; one.Verdict == "does_not_fit" && i == len(ranked)-1 {
				comparedWithoutEnglish(s, v, address, []string{one.Frame, other}, ours)
			} else if one.Verdict != "does_not_fit" && (i == 0 || left[one.Frame]) {
				delete(left, one.Frame)
				speaksNoEnglish(s, v.SendHome(address, one.Frame, nil), ours, name+", "+one.Frame)
				papersSpeakNoEnglish(s, v, address, one.Frame, other, ours)
			}
		}
	}
	address := v.Interview([]byte(webtest.Family)) // and what only a set that was chosen by hand is told
	byHand := []string{"osier-m:seat-rear,seat-rear,seat-belted,tray-front,tray-front-crate", "osier-m:seat-rear,stand-one-leg,stand-two-leg"}
	comparedWithoutEnglish(s, v, address, byHand, ours)
	german := v.Get(address + "/compare?" + url.Values{"frame": byHand, "lang": {"de"}}.Encode())
	if text := german.Text(`[data-row="reasons"]`); !strings.Contains(text, "eine Befestigung ist voll") || !strings.Contains(german.Text("thead"), "von Hand zusammengestellt") {
		t.Errorf("no mount is full: %s", text)
	}
	if len(left) > 0 {
		t.Errorf("nobody was sent %v", left)
	}
}

// speaksNoEnglish holds that no text of a summary in another language is that
// of the English page, and that none has the English of the shop in it.
func speaksNoEnglish(s *webtest.Shop, link string, ours []string, name string) {
	s.Helper()
	english := s.Stranger().Get(link + "?lang=en")
	english.SoundsRight("en", english.Page.Find("main"))
	inEnglish := texts(english)
	for _, l := range say.Languages[1:] {
		told := s.Stranger().Get(link + "?lang=" + string(l))
		told.SoundsRight(string(l), told.Page.Find("main"))
		for text := range texts(told) {
			if inEnglish[text] && strings.Contains(text, " ") && !sameEverywhere(s, text) {
				s.Errorf("%s, %s: %q", name, l, text)
			}
			if i := slices.IndexFunc(ours, func(words string) bool { return strings.Contains(strings.ToLower(text), words) }); i >= 0 {
				s.Errorf("%s, %s: %q has %q of the shop", name, l, text, ours[i])
			}
		}
	}
}

// english are the names and notes of a shop that is said to be written in
// every language, in small letters. A part of it that has none fails.
func english(shop *catalog.Catalogue) []string {
	var all []string
	for i := range shop.AddOns {
		all = append(all, shop.AddOns[i].Name)
		for _, pair := range shop.AddOns[i].OnFrame {
			all = append(all, pair.Note)
		}
	}
	for i := range shop.Frames {
		all = append(all, shop.Frames[i].Notes)
	}
	all = slices.DeleteFunc(all, func(words string) bool { return words == "" })
	for i := range all {
		all[i] = strings.ToLower(all[i])
	}
	return all
}

// TestAgeOfARider answers by hand how old somebody is: too young to be right,
// not known yet, and known, which asks for nothing more.
func TestAgeOfARider(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	f := v.Get(address).Form()
	f.Set("riders[0].age_years", "3")
	a := v.Press(f, address, "frames")
	if !strings.Contains(webtest.Words(a.Page.Find(webtest.ByID("riders[0].age_years-error"))), "5") {
		t.Errorf("three years old: %q", webtest.Words(a.Page.Find(webtest.ByID("riders[0].age_years-error"))))
	}
	f = a.Form()
	f.Set("riders[0].age_years", "")
	f.DontKnow("riders[0].age_years")
	v.Press(f, address, "frames")
	link := v.SendHome(address, "teasel", nil)
	for language, open := range map[string]string{"en": "age (rider A)", "fr": "âge", "de": "Alter", "nl": "leeftijd"} {
		if again := s.Stranger().Get(link + "?lang=" + language).Text("[aria-labelledby=again]"); !strings.Contains(again, open) {
			t.Errorf("%s: what is open is %q", language, again)
		}
	}
	f = v.Get(address).Form()
	f.Values.Del("unknown")
	f.Set("riders[0].age_years", "41")
	v.Press(f, address, "frames")
	if a := s.Stranger().Get(v.SendHome(address, "teasel", nil)); strings.Contains(a.Text("main"), "age (rider A)") {
		t.Error("an age that is known is open")
	}
}

// texts returns every text of a page, and what is said to a screen reader.
func texts(a *webtest.Answer) map[string]bool {
	all := map[string]bool{}
	a.Page.Find("main *, title").Each(func(_ int, e *goquery.Selection) {
		for _, attribute := range []string{"alt", "aria-label", "data-share"} {
			all[e.AttrOr(attribute, "")] = true
		}
		e.Contents().Each(func(_ int, n *goquery.Selection) {
			if goquery.NodeName(n) == "#text" {
				all[webtest.Words(n)] = true
			}
		})
	})
	delete(all, "")
	return all
}

// sameMonth is a month that another language of ours writes as English does.
var sameMonth = regexp.MustCompile(`^(April|August|September|November|Oktober|December|Januari|Juni|Juli) [0-9]{4}$`)

// sameEverywhere reports whether a text is a name, a figure or an address.
func sameEverywhere(s *webtest.Shop, text string) bool {
	if sameMonth.MatchString(strings.ReplaceAll(text, "\u00a0", " ")) {
		return true
	}
	if !strings.ContainsFunc(text, func(r rune) bool { return r >= 'a' && r <= 'z' }) {
		return true
	}
	c := demo(s)
	own := []string{c.Shop.Name, "Low Quay Load Works", "3 Low Quay, Marrowhithe"}
	for i := range c.Frames {
		own = append(own, c.Frames[i].Name)
	}
	return slices.Contains(own, text) || named(s, text) || strings.HasSuffix(text, "kg") || strings.HasSuffix(text, "cm") || text == "kg, cm" || text == "lb, inches"
}

func demo(s *webtest.Shop) *catalog.Catalogue {
	s.Helper()
	c, err := s.Store.Catalogue(s.Context())
	if err != nil {
		s.Fatal(err)
	}
	return c
}

// TestContact shows how the shop is reached, and its name where it has not
// said.
func TestContact(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	none := v.SendHome(address, "teasel", nil)
	if got := s.Stranger().Get(none).Text(`[aria-labelledby="shop"] p`); got != "Low Quay Load Works, Marrowhithe" {
		t.Error(got)
	}
	texts := map[string]string{"contact_name": "<b>Quay</b>", "contact_phone": "000 555 0142", "contact_email": "hello@lowquay.example", "contact_hours": " ", "other": "not shown"}
	if err := s.Store.SetTexts(t.Context(), texts); err != nil {
		t.Fatal(err)
	}
	a := s.Stranger().Get(v.SendHome(address, "osier-m", nil) + "?lang=fr")
	if got := a.Text(`[aria-labelledby="shop"] p`); got != "<b>Quay</b>Téléphone : 000 555 0142E-mail : hello@lowquay.example" {
		t.Error(got)
	}
	if a.One(`a[href="tel:0005550142"]`).Length()+a.One(`a[href="mailto:hello@lowquay.example"]`).Length() != 2 {
		t.Error("it cannot be called")
	}
}

// TestSevenCautions holds that all of them are said, in every language.
func TestSevenCautions(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	link := v.SendHome(v.Interview([]byte(`{"profile": 1, "as_of": "2026-11-25", "riders": [{"label": "A", "height_cm": 178, "weight_kg": 82}]}`)), "teasel", nil)
	for l, parts := range map[say.Language][]string{
		say.English: {"manual and the rating plates", "Local law", "helmet on every head", "under 12 months", "Weigh again", "Practise without a load", "qualified mechanic"},
		say.French:  {"notice du fabricant et les plaques", "loi locale", "casque sur chaque tête", "moins de 12 mois", "Pesez à nouveau", "sans charge", "mécanicien qualifié"},
		say.German:  {"Anleitung des Herstellers und die Lastangaben", "örtliche Recht", "Helm auf jeden Kopf", "unter 12 Monaten", "Wiegen Sie noch einmal", "ohne Last", "Fachwerkstatt"},
		say.Dutch:   {"handleiding van de fabrikant en de typeplaatjes", "plaatselijke wet", "helm op elk hoofd", "jonger dan 12 maanden", "Weeg nog eens", "zonder lading", "vakbekwame monteur"},
	} {
		text := s.Stranger().Get(link + "?lang=" + string(l)).Text(".cautions")
		for _, part := range parts {
			if !strings.Contains(text, part) {
				t.Errorf("%s: %q is not in %q", l, part, text)
			}
		}
	}
}
