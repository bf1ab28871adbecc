package runs

import (
	"sync"
	"sync/atomic"

	"blankwright/scheduler/plan"
)

// The stages of a run.
const (
	StageWaiting  = "waiting"      // for the run before it
	StageStock    = "taking stock" // of the books
	StagePlanning = "planning"
	StageChecking = "checking" // by the rules
	StageDone     = "done"
	StageFailed   = "failed"
)

// Progress is where a run stands.
type Progress struct {
	Stage      string
	Cost       float64 // of the best plan so far; 0 as long as there is none
	Bound      float64 // no plan costs less; 0 as long as nothing is proven
	Gap        float64 // (cost - bound) / cost; 0 as long as there is no cost
	Iterations int
	Of         int
	Failure    string // why the run failed
}

// Over reports whether the run has ended, one way or the other.
func (p Progress) Over() bool { return p.Stage == StageDone || p.Stage == StageFailed }

// A Run is one plan in the making. Its ID is that of the plan.
type Run struct {
	ID  int64
	Why string

	halt     atomic.Bool // ends the search with what it has
	mu       sync.Mutex
	progress Progress
	watchers map[chan struct{}]bool
	done     chan struct{}
}

func newRun(id int64, why string) *Run {
	return &Run{ID: id, Why: why, progress: Progress{Stage: StageWaiting}, watchers: map[chan struct{}]bool{}, done: make(chan struct{})}
}

// Progress returns where the run stands.
func (r *Run) Progress() Progress {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.progress
}

// Done returns a channel that is closed when the run is over.
func (r *Run) Done() <-chan struct{} { return r.done }

// Stop ends the run's search: the best plan that it has by then is kept.
func (r *Run) Stop() { r.halt.Store(true) }

// Watch returns a channel that gets word after the progress has changed, until stop
// is called. Words that nobody waits for are not kept: look at Progress after each.
func (r *Run) Watch() (wake <-chan struct{}, stop func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	c := make(chan struct{}, 1)
	r.watchers[c] = true
	return c, func() {
		r.mu.Lock()
		defer r.mu.Unlock()
		delete(r.watchers, c)
	}
}

// change changes the progress and wakes whoever watches.
func (r *Run) change(f func(*Progress)) {
	r.mu.Lock()
	defer r.mu.Unlock()
	f(&r.progress)
	for c := range r.watchers {
		select {
		case c <- struct{}{}:
		default: // it has not yet looked after the last word
		}
	}
}

func (r *Run) stage(name string) { r.change(func(p *Progress) { p.Stage = name }) }

// found tells of the plan that the run ends with.
func (r *Run) found(cost plan.Cost, bound plan.Bound) {
	r.change(func(p *Progress) { p.Cost, p.Bound, p.Gap = cost.Total, bound.Total, bound.Gap })
}

// end is the last change.
func (r *Run) end(failure error) {
	r.change(func(p *Progress) {
		p.Stage = StageDone
		if failure != nil {
			p.Stage, p.Failure = StageFailed, failure.Error()
		}
	})
	close(r.done)
}
