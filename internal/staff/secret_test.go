package staff

import (
	"bytes"
	"encoding/hex"
	"regexp"
	"strings"
	"testing"
	_ "unsafe" // for the function below
)

// deriveKey is the whole of Argon2 in the library that we use. The functions
// that it exports leave out the secret and the associated data, without which
// the vector of the RFC cannot be computed.
//
//go:linkname deriveKey golang.org/x/crypto/argon2.deriveKey
func deriveKey(mode int, password, salt, secret, data []byte, time, memory uint32, threads uint8, keyLen uint32) []byte

// TestArgon2idOfTheRFC holds the library to the test vector of RFC 9106,
// section 5.3.
func TestArgon2idOfTheRFC(t *testing.T) {
	const argon2id = 2
	repeat := func(b byte, n int) []byte { return bytes.Repeat([]byte{b}, n) }
	got := deriveKey(argon2id, repeat(1, 32), repeat(2, 16), repeat(3, 8), repeat(4, 12), 3, 32, 4, 32)
	const want = "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659"
	if hex.EncodeToString(got) != want {
		t.Errorf("%x, want %s", got, want)
	}
}

// TestHashesOfTheReference reads hashes that the reference implementation of
// Argon2 gives as its own tests (P-H-C/phc-winner-argon2, src/test.c).
func TestHashesOfTheReference(t *testing.T) {
	const hash = "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"
	for secret, want := range map[string]bool{"password": true, "differentpassword": false, "Password": false, "": false} {
		if got, err := Matches(hash, secret); err != nil || got != want {
			t.Errorf("%q: %v, %v", secret, got, err)
		}
	}
}

func TestHash(t *testing.T) {
	one, other := Hash("caf\u00e9 by the quay"), Hash("caf\u00e9 by the quay")
	// RFC 9106, section 4, second recommended option; 16 and 32 bytes in base64 without padding.
	if !regexp.MustCompile(`^\$argon2id\$v=19\$m=65536,t=3,p=4\$[A-Za-z0-9+/]{22}\$[A-Za-z0-9+/]{43}$`).MatchString(one) {
		t.Error(one)
	}
	if one == other {
		t.Error("two hashes have the same salt")
	}
	for secret, want := range map[string]bool{"caf\u00e9 by the quay": true, "cafe\u0301 by the quay": true, "cafe by the quay": false, "Caf\u00e9 by the quay": false} {
		if got, err := Matches(one, secret); err != nil || got != want {
			t.Errorf("%q: %v, %v", secret, got, err)
		}
	}
}

// TestNobodyMatches holds that without a hash nothing matches, at the same
// cost: the same parameters are worked through.
func TestNobodyMatches(t *testing.T) {
	for _, secret := range []string{"", "anything at all"} {
		if got, err := Matches("", secret); err != nil || got {
			t.Errorf("%q: %v, %v", secret, got, err)
		}
	}
	p, salt, tag, err := read(nobody)
	q, salt2, tag2, err2 := read(Hash("somebody's passphrase"))
	if err != nil || err2 != nil || p != q || len(salt) != len(salt2) || len(tag) != len(tag2) {
		t.Errorf("nobody costs %+v, somebody %+v; %v, %v", p, q, err, err2)
	}
}

func TestWhatIsNoHash(t *testing.T) {
	good := Hash("a passphrase of ours")
	for _, hash := range []string{
		"plain", "$argon2i$" + strings.TrimPrefix(good, "$argon2id$"), strings.Replace(good, "m=65536", "m=6553600", 1), strings.Replace(good, "t=3", "t=300", 1), strings.Replace(good, "t=3", "t=0", 1),
		strings.Replace(good, "p=4", "p=0", 1), strings.Replace(good, "v=19", "v=16", 1), good + "=", good[:strings.LastIndex(good, "$")+1], good[:60], good + "$more", strings.Replace(good, ",p=4", "", 1),
	} {
		if got, err := Matches(hash, "a passphrase of ours"); err == nil || got {
			t.Errorf("%s: %v, %v", hash, got, err)
		}
	}
}
