package site

import (
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"
)

func TestAPasswordMatchesItsOwnHashAlone(t *testing.T) {
	d := newDoor()
	for _, c := range []struct {
		password, hash string
		want           bool
	}{
		{contractorPassword, contractorHash, true},
		{contractorPassword + " ", contractorHash, false},
		{contractorPassword, operatorHash, false},
		{"", contractorHash, false},
		{contractorPassword, "", false}, // nobody of that name
	} {
		if got, err := d.matches(c.password, c.hash); err != nil || got != c.want {
			t.Errorf("%q against %q: %v, %v; want %v", c.password, c.hash, got, err, c.want)
		}
	}
}

// What makes an unknown name take as long as a wrong password is that it costs the same
// hash. A clock would tell the same less surely on a busy machine.
func TestAnUnknownNameCostsTheSameHash(t *testing.T) {
	d := newDoor()
	for _, hash := range []string{d.decoy, contractorHash} {
		if params, _, _, err := argon2id.DecodeHash(hash); err != nil || *params != *hashing {
			t.Errorf("%s was made with %+v, want %+v; %v", hash, params, hashing, err)
		}
	}
	for range hashesAtOnce {
		d.turn <- struct{}{} // nobody's turn comes
	}
	done := make(chan error, 1)
	go func() {
		_, err := d.matches("wrong wrong wrong", "")
		done <- err
	}()
	select {
	case err := <-done:
		t.Fatalf("an unknown name was answered without a hash: %v", err)
	case <-time.After(30 * time.Millisecond):
	}
	<-d.turn
	if err := <-done; err != nil {
		t.Error(err)
	}
}

func TestNoMoreThanTwoHashesAtOnce(t *testing.T) {
	d := newDoor()
	var now, most atomic.Int32
	var all sync.WaitGroup
	for range 12 {
		all.Go(func() {
			if err := d.inTurn(func() error {
				n := now.Add(1)
				for seen := most.Load(); n > seen && !most.CompareAndSwap(seen, n); seen = most.Load() {
				}
				time.Sleep(3 * time.Millisecond)
				now.Add(-1)
				return nil
			}); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if got := most.Load(); got != hashesAtOnce {
		t.Errorf("%d hashes at once, want %d", got, hashesAtOnce)
	}
}
