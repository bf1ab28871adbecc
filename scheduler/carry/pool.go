package carry

import (
	"math"
	"sort"
)

// A pool counts things of one type over time: the mandrels of a type, or the
// racks.
type pool struct {
	changes []change // by time
}

// A change is how many more, or fewer, are free from a minute on.
type change struct {
	at   int64
	more int
}

// ever is a minute before all others.
const ever = math.MinInt64

// add notes a change.
func (p *pool) add(at int64, more int) {
	i := sort.Search(len(p.changes), func(i int) bool { return p.changes[i].at > at })
	p.changes = append(p.changes, change{})
	copy(p.changes[i+1:], p.changes[i:])
	p.changes[i] = change{at, more}
}

// from returns the first minute, not before one, from which n are free for
// good, as far as is known; false where they never are.
func (p *pool) from(minute int64, n int) (int64, bool) {
	left := p.last()
	if left < n {
		return 0, false
	}
	for i := len(p.changes) - 1; i >= 0; i-- {
		c := p.changes[i]
		if left -= c.more; left < n {
			return max(minute, c.at), true
		}
	}
	return minute, true
}

// last returns how many are free in the end.
func (p *pool) last() int {
	n := 0
	for _, c := range p.changes {
		n += c.more
	}
	return n
}
