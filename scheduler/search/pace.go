package search

import "sync/atomic"

// A pace says how far a search is, by the iterations done or, where that is further
// on, by the time spent: a search whose time ends first so cools down in it, too, and
// does not break off while it is hot.
type pace struct {
	spent   func() float64 // the share of its time, from 0 to 1; nil where that is not limited
	begun   float64        // what was spent before the search
	from    float64        // where in the whole search the heat at hand begins and ends
	to      float64
	hurried atomic.Bool // the time was further on somewhere
}

func newPace(spent func() float64) *pace {
	p := &pace{spent: spent}
	if spent != nil {
		p.begun = spent()
	}
	return p
}

// next goes on to a heat that takes a share of the whole search.
func (p *pace) next(share float64) { p.from, p.to = p.to, p.to+share }

// lead is by how much of the whole search the time may be further on and count for
// nothing: one that ends in good time is the same as without a limit.
const lead = 0.1

// of returns how far the heat is of whose iterations a part is done.
func (p *pace) of(done float64) float64 {
	if p.spent == nil {
		return done
	}
	time := 1.0
	if p.begun < 1 {
		time = (p.spent() - p.begun) / (1 - p.begun)
	}
	if time = (time - lead - p.from) / (p.to - p.from); time <= done {
		return done
	}
	p.hurried.Store(true)
	return time
}

// rest returns how far a heat is that has all the time left, but for that of what comes
// after the search, and no iterations to go by.
func (p *pace) rest() func(int) float64 {
	from := p.spent()
	return func(int) float64 {
		if from >= filled {
			return 1
		}
		return (p.spent() - from) / (filled - from)
	}
}

// filled is the share of the time that a search fills.
const filled = 0.9
