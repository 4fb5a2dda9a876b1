package site

import (
	"crypto/rand"
	"encoding/base64"
	"fmt"
	"time"

	"github.com/alexedwards/argon2id"
	"github.com/gofiber/fiber/v2"
	"golang.org/x/crypto/argon2"
)

const (
	leastPassword = 10
	mostPassword  = 200
	hashesAtOnce  = 2               // each takes 19 MB and a core: a flood of sign-ins must not take the machine
	hashWait      = 5 * time.Second // for one of them to come free
)

// hashing is Argon2id at the least setting of the OWASP Password Storage Cheat Sheet
// (19 MiB, two passes, one lane), which a small machine bears.
var hashing = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// door is what letting people in keeps in memory.
type door struct {
	turn  chan struct{} // holds a token for each hash being worked out
	tries tries
	decoy string           // a hash that no password meets, compared with for unknown names
	clock func() time.Time // real time, whatever day the business's is
}

func newDoor() *door {
	return &door{turn: make(chan struct{}, hashesAtOnce), tries: tries{wrong: map[string]wrong{}}, clock: time.Now, decoy: decoyHash()}
}

// decoyHash has the form of a kept hash and the chance of being one's of none: comparing
// with it takes as long as with any other.
func decoyHash() string {
	chance := make([]byte, hashing.SaltLength+hashing.KeyLength)
	rand.Read(chance)
	text := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, hashing.Memory, hashing.Iterations, hashing.Parallelism,
		text.EncodeToString(chance[:hashing.SaltLength]), text.EncodeToString(chance[hashing.SaltLength:]))
}

// hash keeps a password so that it can be compared and not read back.
func (d *door) hash(password string) (hash string, err error) {
	err = d.inTurn(func() error {
		hash, err = argon2id.CreateHash(password, hashing)
		return err
	})
	return hash, err
}

// matches compares a password with a kept hash. With no hash it takes as long and says no.
func (d *door) matches(password, hash string) (same bool, err error) {
	known := hash != ""
	if !known {
		hash = d.decoy
	}
	err = d.inTurn(func() error {
		same, err = argon2id.ComparePasswordAndHash(password, hash)
		return err
	})
	return same && known, err
}

// inTurn works while no more than hashesAtOnce others do.
func (d *door) inTurn(work func() error) error {
	select {
	case d.turn <- struct{}{}:
		defer func() { <-d.turn }()
		return work()
	case <-time.After(hashWait):
		return &denial{fiber.StatusServiceUnavailable, "Too many people are signing in at this moment. Wait a minute, then try again."}
	}
}

// password reads a password that somebody chooses.
func (f *form) password(name string) string {
	chosen := f.typed[name]
	switch n := len([]rune(chosen)); {
	case n < leastPassword:
		f.refuse(name, "The password has %d characters, choose at least %d: three or four unrelated words do well.", n, leastPassword)
	case n > mostPassword:
		f.refuse(name, "The password has %d characters, choose at most %d.", n, mostPassword)
	}
	return chosen
}

// HashPassword is what is kept of a password.
func HashPassword(password string) (string, error) { return newDoor().hash(password) }
