package takehome_test

import (
	"bytes"
	"net/http"
	"net/url"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kinwain/internal/store"
	"kinwain/web/webtest"
)

// reissued issues a summary again with another answer, and returns the path of
// its link.
func reissued(s *webtest.Shop, link string, answer func([]byte) []byte) string {
	s.Helper()
	f, err := s.Store.FitSummary(s.Context(), link[len("/fit/"):], s.Clock())
	if err != nil {
		s.Fatal(err)
	}
	if len(f.Answer) == 0 {
		s.Fatal("no answer is kept")
	}
	token, err := s.Store.IssueFitSummary(s.Context(), store.FitSummary{Consultation: f.Consultation, Frame: f.Frame, Document: f.Document, Answer: answer(f.Answer), Created: f.Created, Expires: f.Expires})
	if err != nil {
		s.Fatal(err)
	}
	return "/fit/" + token
}

// TestAnswersAreShownAsTheyWereTold changes what was told, which no program
// would work out: the page says it, and the shop has changed nothing.
func TestAnswersAreShownAsTheyWereTold(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	link := v.SendHome(address, "osier-m", nil)
	other := reissued(s, link, func(answer []byte) []byte {
		told := bytes.ReplaceAll(answer, []byte("sits unaided with a helmet on before"), []byte("sings a song in the morning before"))
		if bytes.Equal(told, answer) {
			t.Fatalf("not told: %s", answer)
		}
		return bytes.Replace(told, []byte(`"fits_with_care"`), []byte(`"fits"`), 1) // what is compared with today comes after it
	})
	a := s.Stranger().Get(other+"?lang=en").Is(http.StatusOK, other+"?lang=en")
	a.Count(".verdict.fits", 1)
	if got := a.Text(".reasons"); !bytes.Contains([]byte(got), []byte("sings a song in the morning")) {
		t.Errorf("the reasons are %q", got)
	}
}

// TestSummariesOfBeforeAreStillDrawn takes the answers away, as a program left
// summaries before answers were kept.
func TestSummariesOfBeforeAreStillDrawn(t *testing.T) {
	t.Parallel()
	s := webtest.Open(t)
	v := s.Staff()
	address := v.Interview([]byte(webtest.Family))
	for frame, values := range map[string]url.Values{"osier-m": nil, "teasel": {"hide": {"yes"}}, "teasel-short": {"units": {"imperial"}}, "osier-assist": {"chosen": {"yes"}, "on": {"pannier-long", "seat-rear", "seat-rear", "tray-front", "stand-two-leg-wide"}}} {
		link := v.SendHome(address, frame, values)
		for _, language := range []string{"en", "fr", "de", "nl"} {
			told := s.Stranger().Get(link + "?lang=" + language)
			before := reissued(s, link, func([]byte) []byte { return nil })
			judged := s.Stranger().Get(before+"?lang="+language).Is(http.StatusOK, before+"?lang="+language)
			if diff := cmp.Diff(bare(told), string(bytes.ReplaceAll([]byte(bare(judged)), []byte(before), []byte(link)))); diff != "" {
				t.Errorf("%s in %s: %s", frame, language, diff)
			}
			link = v.SendHome(address, frame, values)
		}
	}
}
