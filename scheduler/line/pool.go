package line

import "blankwright/scheduler/instance"

// A pool is how many of some interchangeable things are free over time, as a
// step function: free[i] from from[i] up to from[i+1].
type pool struct {
	from []Tick
	free []int
}

func newPool(p *instance.Pool) *pool {
	return &pool{from: append([]Tick(nil), p.From...), free: append([]int(nil), p.Count...)}
}

// step returns the index of the step that holds t, 0 for anything earlier.
func (p *pool) step(t Tick) int {
	low, high := 0, len(p.from)-1
	for low < high {
		if mid := (low + high + 1) / 2; p.from[mid] <= t {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return low
}

// freeFrom returns the earliest instant from which at least n are free all the
// time up to to.
func (p *pool) freeFrom(n int, to Tick) Tick {
	for i := p.step(to - 1); i >= 0; i-- {
		if p.free[i] < n {
			if i+1 == len(p.from) {
				return instance.Never
			}
			return p.from[i+1]
		}
	}
	return 0
}

// least returns how many are free all the time between from and to.
func (p *pool) least(from, to Tick) int {
	n := p.free[p.step(from)]
	for i := p.step(from) + 1; i < len(p.from) && p.from[i] < to; i++ {
		n = min(n, p.free[i])
	}
	return n
}

// take lowers what is free between from and to by n; a negative n gives back.
func (p *pool) take(from, to Tick, n int) {
	if from = max(from, 0); from >= to {
		return
	}
	first := p.cut(from)
	last := p.cut(to)
	for i := first; i < last; i++ {
		p.free[i] -= n
	}
	p.join(last)
	p.join(first)
}

// cut makes a step begin at t and returns its index.
func (p *pool) cut(t Tick) int {
	i := p.step(t)
	if p.from[i] == t {
		return i
	}
	i++
	p.from = append(p.from, 0)
	p.free = append(p.free, 0)
	copy(p.from[i+1:], p.from[i:])
	copy(p.free[i+1:], p.free[i:])
	p.from[i], p.free[i] = t, p.free[i-1]
	return i
}

// join removes step i where it is like the one before it.
func (p *pool) join(i int) {
	if i == 0 || i >= len(p.from) || p.free[i] != p.free[i-1] {
		return
	}
	p.from = append(p.from[:i], p.from[i+1:]...)
	p.free = append(p.free[:i], p.free[i+1:]...)
}

// reserve takes released work's share out of a pool: what it leaves is never
// less than nothing, however much it takes.
func (p *pool) reserve(uses []use) {
	held := &pool{from: []Tick{0}, free: []int{0}}
	for _, u := range uses {
		held.take(u.from, u.to, -u.n)
	}
	left := &pool{}
	for i, j := 0, 0; i < len(p.from) || j < len(held.from); {
		t := instance.Never
		if i < len(p.from) {
			t = p.from[i]
		}
		if j < len(held.from) {
			t = min(t, held.from[j])
		}
		for i < len(p.from) && p.from[i] <= t {
			i++
		}
		for j < len(held.from) && held.from[j] <= t {
			j++
		}
		left.from = append(left.from, t)
		left.free = append(left.free, max(0, p.free[i-1]-held.free[j-1]))
	}
	*p = *left
}

// A use is n of something between from and to.
type use struct {
	from, to Tick
	n        int
}
