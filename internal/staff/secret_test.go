package staff

import (
	"encoding/hex"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/crypto/argon2"
)

// TestArgon2idOfTheReference holds the library to vectors that the reference
// implementation of Argon2 gives as its own tests (P-H-C/phc-winner-argon2,
// src/test.c, version 19). The vector of RFC 9106 itself has a secret and
// associated data, which the functions that the library exports leave out.
func TestArgon2idOfTheReference(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		time, memory uint32
		threads      uint8
		secret, salt string
		want         string
	}{
		{2, 1 << 16, 1, "password", "somesalt", "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"},
		{2, 1 << 8, 1, "password", "somesalt", "9dfeb910e80bad0311fee20f9c0e2b12c17987b4cac90c2ef54d5b3021c68bfe"},
		{2, 1 << 8, 2, "password", "somesalt", "6d093c501fd5999645e0ea3bf620d7b8be7fd2db59c20d9fff9539da2bf57037"},
		{1, 1 << 16, 1, "password", "somesalt", "f6a5adc1ba723dddef9b5ac1d464e180fcd9dffc9d1cbf76cca2fed795d9ca98"},
		{4, 1 << 16, 1, "password", "somesalt", "9025d48e68ef7395cca9079da4c4ec3affb3c8911fe4f86d1a2520856f63172c"},
		{2, 1 << 16, 1, "differentpassword", "somesalt", "0b84d652cf6b0c4beaef0dfe278ba6a80df6696281d7e0d2891b817d8c458fde"},
		{2, 1 << 16, 1, "password", "diffsalt", "bdf32b05ccc42eb15d58fd19b1f856b113da1e9a5874fdcc544308565aa8141c"},
	} {
		got := argon2.IDKey([]byte(c.secret), []byte(c.salt), c.time, c.memory, c.threads, 32)
		if hex.EncodeToString(got) != c.want {
			t.Errorf("%+v: %x", c, got)
		}
	}
}

// TestHashesOfTheReference reads hashes that the reference implementation of
// Argon2 gives as its own tests (P-H-C/phc-winner-argon2, src/test.c).
func TestHashesOfTheReference(t *testing.T) {
	t.Parallel()
	const hash = "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"
	for secret, want := range map[string]bool{"password": true, "differentpassword": false, "Password": false, "": false} {
		if got, err := Matches(hash, secret); err != nil || got != want {
			t.Errorf("%q: %v, %v", secret, got, err)
		}
	}
}

func TestHash(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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
	t.Parallel()
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
