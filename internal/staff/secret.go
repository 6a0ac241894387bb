package staff

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"
)

// The second recommended option of RFC 9106, section 4: 3 passes over 64 MiB
// in 4 lanes, a salt of 128 bits and a tag of 256.
const (
	passes    = 3
	memoryKiB = 64 << 10
	lanes     = 4
	saltBytes = 16
	tagBytes  = 32
)

// parameters are what a hash was made with.
type parameters struct {
	version   int
	memoryKiB uint32
	passes    uint32
	lanes     uint8
}

var current = parameters{argon2.Version, memoryKiB, passes, lanes}

// Hash returns the Argon2id hash of a secret with a salt of its own, as a
// string in the PHC format. Whoever lets strangers ask for it takes Turns.
func Hash(secret string) string {
	salt := make([]byte, saltBytes)
	rand.Read(salt) // never fails, see crypto/rand
	return phc(current, salt, derive(current, secret, salt, tagBytes))
}

func phc(p parameters, salt, tag []byte) string {
	b64 := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", p.version, p.memoryKiB, p.passes, p.lanes, b64(salt), b64(tag))
}

// derive hashes the secret in its compatibility composition, so that it is the
// same whatever keyboard it was typed on.
func derive(p parameters, secret string, salt []byte, length uint32) []byte {
	return argon2.IDKey([]byte(norm.NFKC.String(secret)), salt, p.passes, p.memoryKiB, p.lanes, length)
}

// nobody is the hash that is held against where there is none, so that an
// unknown name takes as long as a wrong passphrase. Its tag is no hash of
// anything that is known.
var nobody = phc(current, make([]byte, saltBytes), make([]byte, tagBytes))

// Matches reports whether the secret is the one of the hash. It takes the same
// time for an empty hash, which no secret matches. The error says that the
// hash is none.
func Matches(hash, secret string) (bool, error) {
	known := hash != ""
	if !known {
		hash = nobody
	}
	p, salt, tag, err := read(hash)
	if err != nil {
		return false, err
	}
	same := subtle.ConstantTimeCompare(derive(p, secret, salt, uint32(len(tag))), tag) == 1
	return same && known, nil
}

// read takes a PHC string apart. What would take more memory or time than any
// hash of ours is refused.
func read(hash string) (p parameters, salt, tag []byte, err error) {
	parts := strings.Split(hash, "$")
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" {
		return p, nil, nil, fmt.Errorf("a stored hash is none of Argon2id")
	}
	if _, err = fmt.Sscanf(parts[2]+"$"+parts[3], "v=%d$m=%d,t=%d,p=%d", &p.version, &p.memoryKiB, &p.passes, &p.lanes); err != nil {
		return p, nil, nil, fmt.Errorf("the parameters of a stored hash: %w", err)
	}
	if salt, err = base64.RawStdEncoding.DecodeString(parts[4]); err == nil {
		tag, err = base64.RawStdEncoding.DecodeString(parts[5])
	}
	if err != nil {
		return p, nil, nil, fmt.Errorf("a stored hash: %w", err)
	}
	if p.version != argon2.Version || p.memoryKiB > 4*memoryKiB || p.passes < 1 || p.passes > 10 || p.lanes < 1 || len(tag) < 16 {
		return p, nil, nil, fmt.Errorf("a stored hash has parameters that are not ours")
	}
	return p, salt, tag, nil
}
