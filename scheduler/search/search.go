// Package search improves answers by trying moves and keeping those that pay,
// or that may pay later: simulated annealing, on islands that search side by
// side. Many islands begin; after a short heat the best of them go on, and what
// time there is goes to these.
//
// It is the same for the same answers, seed and effort, whatever the machine
// and its number of processors. It imports answer, move and tidy.
package search

import (
	"slices"
	"sort"
	"sync"
	"sync/atomic"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/tidy"
)

// Options say how long and from which seed to search.
type Options struct {
	Seed   uint64
	Effort int // iterations, of all islands together
	// Report is called now and then, by one goroutine, with the iterations done
	// and the best cost so far; where it returns false the search ends.
	Report func(done int, best answer.Money) bool
	// Spent returns the share of the time for the search that is over, where that is
	// limited; it may be nil. See pace.
	Spent func() float64
	// Yield is called before each iteration, by all islands; it may be nil.
	Yield func()
	// Enough is a cost below which there is no answer: with one that has it, no
	// other heat begins.
	Enough answer.Money
}

// Starts is how many answers a search can begin with.
const Starts = 8

// A heat is one annealing of the islands that are left.
type heat struct {
	islands int
	share   float64 // of the effort, for all of them together
	hot     float64 // the temperature at first, as a share of what a load costs with its late sets
}

var heats = []heat{{Starts, 0.1, 0.05}, {2, 0.9, 0.15}}

// In a large shop, where the effort gives each load fewer than fewTurns, there is
// none to spare for many beginnings.
var shortHeats = []heat{{2, 1, 0.02}}

const fewTurns = 600

// heatsFor returns the heats for an effort and answers like first.
func heatsFor(effort int, first *answer.Answer) []heat {
	if effort < fewTurns*len(first.Loads) {
		return shortHeats
	}
	return heats
}

// StartsFor returns with how many answers like first a search of an effort can
// begin.
func StartsFor(effort int, first *answer.Answer) int { return heatsFor(effort, first)[0].islands }

// Improve searches from the given answers, at most Starts of them, and returns
// the best answer found with how the search went. It keeps none of the answers
// as they were.
func Improve(starts []*answer.Answer, o Options) (*answer.Answer, *Trace) {
	s := newSearch(starts, o)
	for _, h := range heatsFor(o.Effort, starts[0]) {
		if s.stop.Load() || s.islands[0].best <= o.Enough {
			break
		}
		s.run(h)
	}
	return s.tidied(), s.trace()
}

// tidied returns the cheapest of what the islands have found, once all is tidied.
// Those that gave up count as well: what is tidied may be worth more than it was.
func (s *search) tidied() (best *answer.Answer) {
	var all sync.WaitGroup
	for _, is := range s.all {
		all.Go(func() {
			is.a.Restore(is.kept)
			tidy.Answer(is.a)
			if is.neat != nil && is.neat.Cost().Total() < is.a.Cost().Total() {
				is.a = is.neat
			}
		})
	}
	all.Wait()
	for _, is := range s.all {
		if best == nil || is.a.Cost().Total() < best.Cost().Total() {
			best = is.a
		}
	}
	return best
}

type search struct {
	o       Options
	islands []*island // those left, the best first
	all     []*island // by number
	stop    atomic.Bool
	pace    *pace
	done    atomic.Int64
	least   atomic.Int64 // best cost of all islands, for reports only
}

func newSearch(starts []*answer.Answer, o Options) *search {
	s := &search{o: o, pace: newPace(o.Spent)}
	for i, a := range starts {
		s.islands = append(s.islands, newIsland(a, o.Seed, i))
	}
	s.all = slices.Clone(s.islands)
	s.rank()
	s.least.Store(s.islands[0].best)
	return s
}

// run lets the best islands, as many as the heat has, anneal side by side.
func (s *search) run(h heat) {
	s.islands = s.islands[:min(h.islands, len(s.islands))]
	n := int(float64(s.o.Effort) * h.share / float64(len(s.islands)))
	s.pace.next(h.share)
	var all sync.WaitGroup
	for i, is := range s.islands {
		all.Go(func() { s.anneal(i, is, n, h.hot) })
	}
	all.Wait()
	s.rank()
}

// anneal lets one island go on from its best answer for n iterations.
func (s *search) anneal(i int, is *island, n int, hot float64) {
	is.heat(hot)
	for k := 0; k < n && !s.stop.Load(); k++ {
		if k%reportEvery == 0 {
			s.note(i, is.best)
		}
		if k%max(1, n/pointsPerHeat) == 0 {
			is.point()
		}
		if s.o.Yield != nil {
			s.o.Yield()
		}
		progress := s.pace.of(float64(k) / float64(n))
		if progress >= 1 {
			break
		}
		is.step(progress)
		s.done.Add(1)
	}
	is.point()
}

// reportEvery is how many iterations lie between two reports.
const reportEvery = 64

// note brings an island's best to the reports, which the first island makes.
func (s *search) note(i int, best answer.Money) {
	for old := s.least.Load(); best < old && !s.least.CompareAndSwap(old, best); old = s.least.Load() {
	}
	if i == 0 && s.o.Report != nil && !s.o.Report(int(s.done.Load()), s.least.Load()) {
		s.stop.Store(true)
	}
}

// rank puts the islands in the order of their best answers; of equals the one
// that began first comes first.
func (s *search) rank() {
	sort.SliceStable(s.islands, func(i, j int) bool {
		a, b := s.islands[i], s.islands[j]
		if a.best != b.best {
			return a.best < b.best
		}
		return a.number < b.number
	})
}
