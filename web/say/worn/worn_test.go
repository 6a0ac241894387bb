package worn

import (
	"slices"
	"testing"
)

// TestRowsFindWhatStood holds that every row would have found the text in which
// its word stood, in its language and in no other.
func TestRowsFindWhatStood(t *testing.T) {
	for _, r := range Rows {
		word := r.Word.FindString(r.Stood)
		for _, l := range []string{"en", "fr", "de", "nl"} {
			found := slices.Contains(In(l, r.Stood), word)
			if word == "" || r.Language == "" && !found || r.Language == l && !found {
				t.Errorf("%s: %v does not find itself in %q", l, r.Word, r.Stood)
			}
		}
	}
}

// TestRightWordsStay holds that what is said now is not found.
func TestRightWordsStay(t *testing.T) {
	for text, language := range map[string]string{
		"Le lieu\u202f; l’heure\u00a0: 10:30, et qu’enfant 2 compte": "fr", "Gepäckträger, 12 kg Ladung, Speichenschutz": "de",
		"bagagedrager, belasting, past, met aandachtspunten, totaal": "nl", "6.2\u00a0inches": "en",
	} {
		if found := In(language, text); len(found) > 0 {
			t.Errorf("%s: %q in %q", language, found, text)
		}
	}
}
