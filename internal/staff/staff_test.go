package staff

import (
	"strings"
	"testing"
	"time"
)

func TestSameName(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"Ansa", "ansa", true}, {" Ansa  of the Quay", "ANSA OF THE\tQUAY ", true}, {"Straße", "STRASSE", true}, {"e\u0301lbo", "Élbo", true}, {"ﬁn", "FIN", true},
		{"Ansa", "Ansaa", false}, {"Ansa", "A nsa", false}, {"Elbo", "Élbo", false},
	} {
		if got := Fold(c.a) == Fold(c.b); got != c.same {
			t.Errorf("%q and %q: %v", c.a, c.b, got)
		}
	}
	for _, name := range []string{"", "  ", strings.Repeat("n", MaxName+1), "a\u202eb", "a\x00b"} {
		if CheckName(name) == "" {
			t.Errorf("%q is taken for a name", name)
		}
	}
	if fault := CheckName("  " + strings.Repeat("é", MaxName)); fault != "" {
		t.Error(fault)
	}
}

func TestPassphrases(t *testing.T) {
	t.Parallel()
	for passphrase, will := range map[string]bool{
		"": false, "eleven char": false, "twelve chars": true, "ééééééééééé": false, "élevé à l'eau": true, "            ": false, "aaaaaaaaaaaaaaaa": false,
		strings.Repeat("ab", 64): true, strings.Repeat("ab", 64) + "c": false, "ansa of the QUAY": false, "日本語の長い合言葉を使うよ": true,
	} {
		if got := CheckPassphrase(passphrase, "Ansa of the Quay"); (got == "") != will {
			t.Errorf("%q: %q", passphrase, got)
		}
	}
	for pin, will := range map[string]bool{
		"": false, "12345": false, "123456": false, "654321": false, "890123": false, "777777": false, "48151623": true, "048151": true, "48 151": false, "4815162342": true, "48151623421": false, "４８１５１６": false,
	} {
		if got := CheckPIN(pin); (got == "") != will {
			t.Errorf("%q: %q", pin, got)
		}
	}
}

// TestWaits goes along the edges of the waits: 1, 2, 4 … seconds after the
// free tries, and never more than five minutes.
func TestWaits(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	var tries Tries
	waits := func(want time.Duration) {
		t.Helper()
		if got := tries.Wait(3, now); got != want {
			t.Fatalf("after %d wrong ones it waits %v, want %v", tries.Wrong, got, want)
		}
	}
	for range 3 {
		waits(0)
		tries = tries.After(now)
	}
	for _, wait := range []time.Duration{1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300} {
		waits(wait * time.Second)
		now = now.Add(wait*time.Second - time.Nanosecond)
		waits(time.Nanosecond)
		now = now.Add(time.Nanosecond)
		waits(0)
		tries = tries.After(now)
	}
	now = now.Add(Forgiven)
	waits(0)
	if tries = tries.After(now); tries.Wrong != 1 {
		t.Errorf("%d are counted after an hour without any", tries.Wrong)
	}
}
