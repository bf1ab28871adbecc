package scheduler

import (
	"blankwright/scheduler/bound"
	"blankwright/scheduler/instance"
)

// A proving is a bound while it is being proven, beside the first answers: nobody
// should wait for it to have one of these.
type proving struct {
	done  chan struct{}
	proof bound.Proof // once done is closed
}

func prove(in *instance.Instance) *proving {
	p := &proving{done: make(chan struct{})}
	go func() {
		p.proof = bound.Of(in)
		close(p.done)
	}()
	return p
}

// wait returns the proof.
func (p *proving) wait() bound.Proof {
	<-p.done
	return p.proof
}

// total returns the bound, 0 while it is not proven.
func (p *proving) total() bound.Money {
	select {
	case <-p.done:
		return p.proof.Total()
	default:
		return 0
	}
}
