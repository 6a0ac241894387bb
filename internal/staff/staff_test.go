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

// TestThrottle goes along the edges of the waits: 1, 2, 4 … seconds after the
// free tries, and never more than five minutes.
func TestThrottle(t *testing.T) {
	t.Parallel()
	var throttle Throttle
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	ansa, street := Key{"ansa", 3}, Key{"street", 100}
	begin := func(want time.Duration) {
		t.Helper()
		if got := throttle.Begin(now, ansa, street); got != want {
			t.Fatalf("waits %v, want %v", got, want)
		}
	}
	for range 3 {
		begin(0)
	}
	for _, wait := range []time.Duration{1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300} {
		begin(wait * time.Second)
		now = now.Add(wait*time.Second - time.Nanosecond)
		begin(time.Nanosecond)
		now = now.Add(time.Nanosecond)
		begin(0)
	}
	if got := throttle.Begin(now, Key{"another", 3}, street); got != 0 {
		t.Errorf("another waits %v", got)
	}
	now = now.Add(forgiven)
	for range 3 {
		begin(0)
	}
	begin(time.Second)
	throttle.Succeeded(ansa, street)
	for range 3 {
		begin(0)
	}
	begin(time.Second)
}

// TestThrottleOfAnAddress tries many names once each from one place, with a
// right one between that does not wipe out the others.
func TestThrottleOfAnAddress(t *testing.T) {
	t.Parallel()
	var throttle Throttle
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for i := range 10 {
		if wait := throttle.Begin(now, Key{strings.Repeat("n", i+1), 3}, Key{"street", 10}); wait != 0 {
			t.Fatalf("the try %d waits %v", i, wait)
		}
		if i == 4 {
			throttle.Succeeded(Key{strings.Repeat("n", i+1), 3}, Key{"street", 10})
		}
	}
	if wait := throttle.Begin(now, Key{"the last", 3}, Key{"street", 10}); wait != 0 {
		t.Errorf("nine wrong, and the next waits %v", wait)
	}
	if wait := throttle.Begin(now, Key{"one more", 3}, Key{"street", 10}); wait != time.Second {
		t.Errorf("ten wrong, and the next waits %v", wait)
	}
}

// TestThrottleForgets holds that the memory is bounded by an hour of trying.
func TestThrottleForgets(t *testing.T) {
	t.Parallel()
	var throttle Throttle
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for i := range crowd {
		throttle.Begin(now, Key{time.Duration(i).String(), 3})
	}
	throttle.Begin(now.Add(forgiven), Key{"a later one", 3})
	if n := len(throttle.tries); n != 1 {
		t.Errorf("%d are kept", n)
	}
}
