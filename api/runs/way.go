package runs

import (
	"sync/atomic"
	"time"
)

// A way is where plans give way to requests. A search keeps as many goroutines busy
// as it likes, and a page that takes some hundredths of a second alone would wait for
// each of them again and again. So they stand still until it is answered: what a
// plan becomes hangs on its effort, not on its time.
type way struct {
	waiting func() int64 // nil: there is nobody to give way to
	works   atomic.Int64 // until when the search goes on whoever waits, in unix nanoseconds
}

const (
	longestWait = 200 * time.Millisecond
	waitStep    = time.Millisecond
	// workShare is what part of the time that it has waited a search then works, however
	// many requests there are: it must come to an end.
	workShare = 3
)

// give returns when nobody waits for an answer, or when the search has waited long
// enough.
func (w *way) give() {
	if w.waiting == nil || w.waiting() == 0 {
		return
	}
	begun := time.Now()
	if begun.UnixNano() < w.works.Load() {
		return
	}
	waited := time.Duration(0)
	for w.waiting() > 0 && waited < longestWait {
		time.Sleep(waitStep)
		waited = time.Since(begun)
	}
	w.works.Store(begun.Add(waited + waited/workShare).UnixNano())
}
