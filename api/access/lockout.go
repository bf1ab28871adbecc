package access

import (
	"sync"
	"time"
)

const (
	// freeGuesses may be wrong before a name or an address is locked.
	freeGuesses = 5
	// firstLock is how long it is locked then; each further wrong guess
	// doubles that, up to longestLock.
	firstLock   = 30 * time.Second
	longestLock = 15 * time.Minute
	// forgetAfter is how long a wrong guess counts.
	forgetAfter = time.Hour
	// mostGuessers bounds what is kept; the oldest are forgotten beyond.
	mostGuessers = 10_000
)

// A lockout counts wrong guesses by key (a name, an address) and locks a key
// that has too many. It lives in memory: a restart forgets it, which whoever
// guesses cannot bring about.
type lockout struct {
	now  func() time.Time
	mu   sync.Mutex
	keys map[string]*guesses
}

type guesses struct {
	wrong  int
	last   time.Time
	locked time.Time // until then
}

func newLockout(now func() time.Time) *lockout {
	return &lockout{now: now, keys: map[string]*guesses{}}
}

// wait returns how long the longest locked of some keys still is; 0 when none
// is.
func (l *lockout) wait(keys ...string) time.Duration {
	l.mu.Lock()
	defer l.mu.Unlock()
	var longest time.Duration
	for _, key := range keys {
		if g := l.keys[key]; g != nil {
			longest = max(longest, g.locked.Sub(l.now()))
		}
	}
	return longest
}

// wrong counts a wrong guess for each key.
func (l *lockout) wrong(keys ...string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	for _, key := range keys {
		g := l.keys[key]
		if g == nil || now.Sub(g.last) > forgetAfter {
			l.evict()
			g = &guesses{}
			l.keys[key] = g
		}
		g.wrong++
		g.last = now
		if over := g.wrong - freeGuesses; over >= 0 {
			g.locked = now.Add(min(firstLock<<min(over, 10), longestLock))
		}
	}
}

// right forgets the wrong guesses of a key.
func (l *lockout) right(key string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.keys, key)
}

// evict makes room for one key: what has expired goes, else the oldest.
func (l *lockout) evict() {
	if len(l.keys) < mostGuessers {
		return
	}
	oldest, now := "", l.now()
	for key, g := range l.keys {
		if now.Sub(g.last) > forgetAfter {
			delete(l.keys, key)
		} else if oldest == "" || g.last.Before(l.keys[oldest].last) {
			oldest = key
		}
	}
	if len(l.keys) >= mostGuessers {
		delete(l.keys, oldest)
	}
}
