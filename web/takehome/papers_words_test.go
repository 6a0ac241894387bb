package takehome_test

import (
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"kinwain/web/say"
	"kinwain/web/webtest"
)

// onPaper returns the texts of what a page says in the customer's language.
func onPaper(a *webtest.Answer) map[string]bool {
	a.Helper()
	all := map[string]bool{}
	paper := a.Page.Find("main [lang]:not(nav a)")
	for text := range webtest.Texts(paper) {
		all[strings.Join(strings.Fields(text), " ")] = true
	}
	if len(all) < 10 {
		a.Errorf("%s: only %d texts are for the customer", a.Path, len(all))
	}
	return all
}

// noEnglishOn holds that no text of a paper in another language is that of the
// English one, nor the shop's English, nor one that no shop would say.
func noEnglishOn(s *webtest.Shop, page func(l say.Language) *webtest.Answer, ours []string) {
	s.Helper()
	inEnglish := onPaper(page(say.English))
	for _, l := range say.Languages {
		a := page(l)
		a.SoundsRight(string(l), a.Page.Find("main [lang]:not(nav a)"))
		if got := a.Page.Find("main [lang]:not(nav a)").First().AttrOr("lang", ""); got != string(l) {
			s.Errorf("%s is in %q, want %s", a.Path, got, l)
		}
		if l == say.English {
			continue
		}
		for text := range onPaper(a) {
			if inEnglish[text] && strings.Contains(text, " ") && !sameEverywhere(s, text) && !named(s, text) {
				s.Errorf("%s, %s: %q", a.Path, l, text)
			}
			if i := slices.IndexFunc(ours, func(words string) bool { return strings.Contains(strings.ToLower(text), words) }); i >= 0 {
				s.Errorf("%s, %s: %q has %q of the shop", a.Path, l, text, ours[i])
			}
		}
	}
}

// august is the one month that is called the same elsewhere.
var august = regexp.MustCompile(`^August 20[0-9]{2}$`)

// named reports whether a text is names and figures: of a frame and its size,
// or of a month.
func named(s *webtest.Shop, text string) bool {
	if august.MatchString(text) {
		return true
	}
	c := demo(s)
	for i := range c.Frames {
		if f := &c.Frames[i]; len(f.Size) < 3 && text == f.Called() { // a longer size is a word
			return true
		}
	}
	return false
}

// papersSpeakNoEnglish opens the quote that is offered and the one that is made,
// and two frames side by side.
func papersSpeakNoEnglish(s *webtest.Shop, v *webtest.Visitor, address, frame, other string, ours []string) {
	s.Helper()
	at := address + "/frames/" + frame + "/quote"
	noEnglishOn(s, func(l say.Language) *webtest.Answer { return v.Get(at + "?lang=" + string(l)) }, ours)
	noEnglishOn(s, func(l say.Language) *webtest.Answer { return v.Post(at, url.Values{"lang": {string(l)}}) }, ours)
	comparedWithoutEnglish(s, v, address, []string{frame, other}, ours)
}

// comparedWithoutEnglish puts choices side by side.
func comparedWithoutEnglish(s *webtest.Shop, v *webtest.Visitor, address string, names, ours []string) {
	s.Helper()
	noEnglishOn(s, func(l say.Language) *webtest.Answer {
		return v.Get(address + "/compare?" + url.Values{"frame": names, "lang": {string(l)}}.Encode())
	}, ours)
}

// TestRideSpeaks books a test ride, and reads its page and its entry for a
// calendar in every language.
func TestRideSpeaks(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	at := v.Interview([]byte(webtest.Family)) + "/frames/osier-m/ride"
	ride := v.Post(at, webtest.Sent(v.Get(at).One("form.book")))
	if !strings.HasPrefix(ride.Path, "/rides/") {
		t.Fatalf("no ride was booked: %s", ride.Text("main"))
	}
	noEnglishOn(s, func(l say.Language) *webtest.Answer { return v.Get(ride.Path + "?lang=" + string(l)) }, english(demo(s)))
	for l, want := range map[say.Language]string{say.English: "Practise unloaded first.", say.French: "Exercez-vous d’abord à vide.", say.German: "Üben Sie zuerst unbeladen.", say.Dutch: "Oefen eerst zonder lading."} {
		page := v.Get(ride.Path + "?lang=" + string(l))
		entry := string(v.Get(page.Page.Find("a[download]").AttrOr("href", "")).Body)
		if entry = strings.ReplaceAll(entry, "\r\n ", ""); !strings.Contains(entry, want) {
			t.Errorf("%s: the calendar says %s", l, entry)
		}
	}
}

// TestPapersFollowTheProfile holds that papers are in the language that was
// asked for with the profile, until another is chosen on the page, and that a
// quote stays in that in which it was made.
func TestPapersFollowTheProfile(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	lang := func(a *webtest.Answer) string {
		return a.Page.Find("main [lang]:not(nav a)").First().AttrOr("lang", "")
	}
	draft := address + "/frames/osier-m/quote"
	if got := lang(v.Get(draft)); got != "en" {
		t.Errorf("nobody asked, and the quote is in %q", got)
	}
	f := v.Get(address).Form()
	f.Set("language", "nl")
	v.Press(f, address, "save")
	if got := v.Get(address+"/frames/osier-m/send").Page.Find("#language option[selected]").AttrOr("value", ""); got != "nl" {
		t.Errorf("the summary begins in %q", got)
	}
	compared := address + "/compare?frame=osier-m&frame=teasel"
	for path, want := range map[string]string{draft: "nl", draft + "?lang=de": "de", compared: "nl", compared + "&lang=fr": "fr", draft + "?lang=xx": "nl"} {
		a := v.Get(path)
		if got := lang(a); got != want {
			t.Errorf("%s is in %q, want %s", path, got, want)
		}
		if got := a.Page.Find(".switches a[aria-current]").AttrOr("lang", ""); got != want {
			t.Errorf("%s: %q is marked, want %s", path, got, want)
		}
	}
	made := v.Post(draft, webtest.Sent(v.Get(draft+"?lang=de").One("form.make")))
	if lang(made) != "de" || !strings.Contains(made.Text(".quote"), "Gesamtbetrag") || !strings.Contains(made.Text(".quote"), "So ausgestattet hat das Rad ") {
		t.Errorf("the quote is %s", made.Text(".quote"))
	}
	if again := v.Get(made.Path + "?lang=fr"); lang(again) != "de" {
		t.Errorf("what was made in German is now in %q", lang(again))
	}
	if csv := string(v.Get(made.Path + ".csv").Body); !strings.Contains(csv, "Kindersitz mit Gurtzeug") || !strings.Contains(csv, "Montage „") {
		t.Errorf("its lines for a spreadsheet: %s", csv)
	}
}
