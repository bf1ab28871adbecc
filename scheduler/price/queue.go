package price

import (
	"math"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A queue is pieces of some sections, all of one mandrel type, on their way through
// the shop, as if nothing else were made. It tells when the n-th of them can be done
// at the earliest, whichever they are and however they are ordered: the n-th to be
// tacked waits for as many mandrels, and no stage has done more of them by an instant
// than had come to it by any earlier one and it could work off since.
type queue struct {
	walks    []*alone.Walk
	cleaning *instance.Calendar
	turn     instance.Tick // working minutes to clean a mandrel
	stages   [shop.StageCount]server
	before   []server        // the crews, at what is worked from tack to wrap
	after    []server        // the crews, at what is worked after the oven
	first    []instance.Tick // when the mandrels are there that no piece has yet had
	back     []instance.Tick // when those are there again that no later piece has had
}

func (s *survey) queue(sections []int) *queue {
	mandrel := s.in.Sections[sections[0]].Mandrel
	q := &queue{cleaning: s.in.Cleaning, turn: s.in.Shop.MandrelTypes[mandrel].TurnaroundMinutes, first: firstOf(&s.in.Mandrels[mandrel])}
	for _, i := range sections {
		q.walks = append(q.walks, s.walks[i])
	}
	for _, stage := range shop.Stages() {
		each := leastOf(sections, func(i int) float64 { return minutesOf(s.in, stage, i) })
		q.stages[stage] = server{supply: s.open[stage], each: each}
	}
	for c, people := range s.hands {
		q.before = append(q.before, server{supply: people, each: s.hand(sections, s.workedBy(c, before[1:]))})
		q.after = append(q.after, server{supply: people, each: s.hand(sections, s.workedBy(c, after))})
	}
	return q
}

// hand returns the least minutes of one person that a piece of some sections takes at
// some stages.
func (s *survey) hand(sections []int, stages []shop.Stage) float64 {
	return leastOf(sections, func(i int) (sum float64) {
		for _, stage := range stages {
			sum += float64(minutesOf(s.in, stage, i) * float64(s.in.Stations[stage].People))
		}
		return sum
	})
}

func leastOf(sections []int, of func(section int) float64) float64 {
	least := math.Inf(1)
	for _, i := range sections {
		least = min(least, of(i))
	}
	return least
}

// firstOf returns when the mandrels of a pool are there, each by itself.
func firstOf(pool *instance.Pool) (list []instance.Tick) {
	for n, count := range pool.Count {
		for len(list) < count {
			list = append(list, pool.From[n])
		}
	}
	return list
}

// next returns when the next piece can be done.
func (q *queue) next() instance.Tick {
	ready := max(q.mandrel(), q.stages[shop.Cut].pass(0))
	quickest := q.soonest(func(w *alone.Walk) alone.Path { return w.Quickest(ready) })
	wrapped := max(quickest.wrapped, q.tackToWrap(ready))
	later := q.soonest(func(w *alone.Walk) alone.Path { return w.Wrapped(wrapped) })
	if later.rested >= instance.Never {
		return instance.Never
	}
	pulled := q.stages[shop.Pull].pass(later.rested)
	q.back = append(q.back, max(quickest.back, later.back, q.cleaning.Ahead(pulled, q.turn), ready+1))
	return max(quickest.done, later.done, q.pullToTrim(later.rested, pulled))
}

// mandrel returns when the next piece can have a mandrel.
func (q *queue) mandrel() (at instance.Tick) {
	from := &q.first
	if len(q.first) == 0 || len(q.back) > 0 && q.back[0] < q.first[0] {
		from = &q.back
	}
	if len(*from) == 0 {
		return instance.Never
	}
	at, *from = (*from)[0], (*from)[1:]
	return at
}

// tackToWrap returns when the next piece can be wrapped that has its mandrel and
// flags at an instant.
func (q *queue) tackToWrap(ready instance.Tick) instance.Tick {
	at := ready
	for _, stage := range before[1:] {
		at = q.stages[stage].pass(at)
	}
	return max(at, passAll(q.before, ready))
}

// pullToTrim returns when the next piece can be trimmed that can be pulled at one
// instant, and is at another.
func (q *queue) pullToTrim(rested, pulled instance.Tick) instance.Tick {
	at := pulled
	for _, stage := range after[1:] {
		at = q.stages[stage].pass(at)
	}
	return max(at, passAll(q.after, rested))
}

// legs is when a piece can be somewhere at the earliest, whatever its section: each by
// itself, for another may be the quickest to each.
type legs struct{ wrapped, rested, back, done instance.Tick }

func (q *queue) soonest(path func(*alone.Walk) alone.Path) legs {
	l := legs{instance.Never, instance.Never, instance.Never, instance.Never}
	for _, w := range q.walks {
		p := path(w)
		l.wrapped, l.rested = min(l.wrapped, p.Ends[shop.Wrap]), min(l.rested, p.Rested)
		l.back, l.done = min(l.back, p.Back), min(l.done, p.Trimmed())
	}
	return l
}

// A server works off pieces in the order in which they come.
type server struct {
	supply *supply
	each   float64 // what a piece takes of it
	busy   float64 // so much of the supply is over, or taken, once it has done all so far
}

// pass returns when a piece is done, at the earliest, that comes at an instant, no
// sooner than those before it.
func (v *server) pass(ready instance.Tick) instance.Tick {
	if ready >= instance.Never {
		return instance.Never
	}
	v.busy = max(v.busy, float64(v.supply.before(ready))) + v.each
	return max(ready, v.supply.when(int(math.Ceil(v.busy*(1-1e-12)-tolerance))))
}

// passAll returns when the last of some servers is done that all work off the same.
func passAll(servers []server, ready instance.Tick) (at instance.Tick) {
	for i := range servers {
		if servers[i].each > 0 {
			at = max(at, servers[i].pass(ready))
		}
	}
	return at
}
