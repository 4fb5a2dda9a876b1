package site

import (
	"sync"
	"time"
)

const (
	mostWrong  = 5                // wrong passwords for one name from one address
	wrongAfter = 15 * time.Minute // after which they are forgotten
	mostKept   = 10_000           // names and addresses kept at once: a flood must not fill memory
)

// tries counts wrong passwords for each name and address. It forgets them when the
// program restarts, which a guesser cannot bring about.
type tries struct {
	mu    sync.Mutex
	wrong map[string]wrong
}

type wrong struct {
	count int
	last  time.Time
}

// spent tells whether no further try is allowed for now.
func (t *tries) spent(who string, now time.Time) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	w := t.wrong[who]
	return w.count >= mostWrong && now.Sub(w.last) < wrongAfter
}

// missed counts one wrong password.
func (t *tries) missed(who string, now time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	w, known := t.wrong[who]
	if now.Sub(w.last) >= wrongAfter {
		w.count = 0
	}
	if !known && len(t.wrong) >= mostKept {
		t.forgetOld(now)
	}
	t.wrong[who] = wrong{w.count + 1, now}
}

// met forgets the wrong passwords before the right one.
func (t *tries) met(who string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	delete(t.wrong, who)
}

// forgetOld makes room: what has lapsed goes, and if all is fresh, everything does.
func (t *tries) forgetOld(now time.Time) {
	for who, w := range t.wrong {
		if now.Sub(w.last) >= wrongAfter {
			delete(t.wrong, who)
		}
	}
	if len(t.wrong) >= mostKept {
		clear(t.wrong)
	}
}
