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
	// Fill has the search go on for the rest of its time where its effort is spent before
	// that. What it then finds hangs on the clock. Without Spent it says nothing.
	Fill bool
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

const fewTurns = 400

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
	plan := heatsFor(o.Effort, starts[0])
	for _, h := range plan {
		if s.over() {
			break
		}
		s.run(h)
	}
	if o.Fill && o.Spent != nil && !s.over() {
		s.fill(plan[len(plan)-1])
	}
	return s.tidied(), s.trace()
}

// over reports whether no other heat begins.
func (s *search) over() bool { return s.stop.Load() || s.islands[0].best <= s.o.Enough }

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
	filled  bool
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

// run lets the best islands, as many as the heat has, anneal side by side, and at
// fixed iterations go on from what the best of them has found.
func (s *search) run(h heat) {
	s.begin(h)
	s.pace.next(h.share)
	n := int(float64(s.o.Effort) * h.share / float64(len(s.islands)))
	rounds := h.rounds(n)
	for r := range rounds {
		if r > 0 {
			s.merge()
		}
		s.anneal(span{n * r / rounds, n * (r + 1) / rounds, max(1, n/pointsPerHeat), func(k int) float64 {
			return s.pace.of(float64(k) / float64(n))
		}})
	}
}

// fill spends what time is left on one more heat, which cools down with the time
// alone.
func (s *search) fill(h heat) {
	s.begin(h)
	left := s.pace.rest()
	for !s.stop.Load() && left(0) < 1 {
		s.filled = true
		s.anneal(span{0, fillRound, fillRound, left})
		s.merge()
	}
}

// rounds returns in how many rounds islands that do n iterations each meet: beginnings
// stay apart, for what they shall tell is which of them is good.
func (h heat) rounds(n int) int {
	if h.islands == Starts {
		return 1
	}
	return max(1, min(mostRounds, n/leastRound))
}

// A heat is in at most mostRounds rounds, none of them shorter than leastRound
// iterations of an island: it takes time to copy an answer, and islands that go on from
// each other's too often are one. A round that fills time is fillRound long.
const (
	mostRounds = 20
	leastRound = 256
	fillRound  = 2048
)

// begin lets the best islands, as many as a heat has, begin it.
func (s *search) begin(h heat) {
	s.islands = s.islands[:min(h.islands, len(s.islands))]
	for _, is := range s.islands {
		is.heat(h.hot)
	}
}

// merge lets all islands go on from the best answer of them.
func (s *search) merge() {
	for _, is := range s.islands[1:] {
		is.adopt(s.islands[0])
	}
}

// A span is some iterations of a heat, for each island.
type span struct {
	from, to int
	points   int                 // as many lie between two points of the trace
	progress func(k int) float64 // of the heat, by its k-th iteration
}

// anneal has all islands do some iterations, side by side.
func (s *search) anneal(part span) {
	var all sync.WaitGroup
	for i, is := range s.islands {
		all.Go(func() { s.annealOne(i, is, part) })
	}
	all.Wait()
	s.rank()
}

func (s *search) annealOne(i int, is *island, part span) {
	for k := part.from; k < part.to && !s.stop.Load(); k++ {
		if k%reportEvery == 0 {
			s.note(i, is.best)
		}
		if k%part.points == 0 {
			is.point()
		}
		if s.o.Yield != nil {
			s.o.Yield()
		}
		progress := part.progress(k)
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
