package store

import "sync"

// watchers are those who want to know of every change.
type watchers struct {
	mu   sync.Mutex
	next int
	all  map[int]chan struct{}
}

// Watch returns a channel that gets a value after changes to the books: at
// least one after each, but several changes may share one. Whoever gets it
// looks at Events. stop ends it.
func (b *Books) Watch() (wake <-chan struct{}, stop func()) {
	return b.watchers.add()
}

func (w *watchers) add() (<-chan struct{}, func()) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.all == nil {
		w.all = map[int]chan struct{}{}
	}
	id, wake := w.next, make(chan struct{}, 1)
	w.next++
	w.all[id] = wake
	return wake, func() { w.remove(id) }
}

func (w *watchers) remove(id int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	delete(w.all, id)
}

// wake never waits: who has not looked since the last wake is woken already.
func (w *watchers) wake() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, wake := range w.all {
		select {
		case wake <- struct{}{}:
		default:
		}
	}
}
