package site

import (
	"sync"
	"sync/atomic"
	"testing"
	"time"
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

func TestAnUnknownNameTakesAsLongAsAWrongPassword(t *testing.T) {
	d := newDoor()
	fastest := func(hash string) time.Duration {
		least := time.Hour
		for range 5 {
			began := time.Now()
			if _, err := d.matches("wrong wrong wrong", hash); err != nil {
				t.Fatal(err)
			}
			least = min(least, time.Since(began))
		}
		return least
	}
	known, unknown := fastest(contractorHash), fastest("")
	if unknown < known/2 || unknown > 2*known {
		t.Errorf("an unknown name takes %v, a wrong password %v", unknown, known)
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
