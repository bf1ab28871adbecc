package answer_test

import (
	"math/rand/v2"
	"testing"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/search"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// improved returns what a short search makes of a shop.
func improved(s *shop.Shop, effort int) *answer.Answer {
	in := instance.New(s)
	first := construct.Build(in, construct.RulesFor(in)[0], nil)
	a, _ := search.Improve([]*answer.Answer{first}, search.Options{Seed: 1, Effort: effort})
	return a
}

// proposals returns changes of an answer as the moves propose them, each move in
// its turn.
func proposals(a *answer.Answer, n int) (changes []answer.Change) {
	r := rand.New(rand.NewPCG(1, 2))
	moves := move.All()
	for i := 0; len(changes) < n; i++ {
		if c, ok := moves[i%len(moves)].Propose(a, r); ok {
			changes = append(changes, c)
		}
	}
	return changes
}

// tryAndUndo tries a change, asks what it would cost, and takes it back. It
// reports whether the timetable had room for it.
func tryAndUndo(a *answer.Answer, c answer.Change) bool {
	if !a.Try(c) {
		return false
	}
	_ = a.Cost().Total()
	a.Undo()
	return true
}

// Trying a change and taking it back allocates nothing, but for a load that it
// upsets, which is placed again as another.
func TestTry_Allocations(t *testing.T) {
	a := improved(shoptest.Accepted(shoptest.Grow(500, 1)), 300)
	changes := proposals(a, 400)
	for _, c := range changes { // so that all memory that serves try after try is there
		tryAndUndo(a, c)
	}
	total := 0.0
	for _, c := range changes {
		total += testing.AllocsPerRun(1, func() { tryAndUndo(a, c) })
	}
	if perTry := total / float64(len(changes)); perTry > mostAllocations {
		t.Errorf("%g allocations a try, want %g at most", perTry, mostAllocations)
	}
}

// mostAllocations is how many allocations a try may take in the mean: some upset
// loads, most do not.
const mostAllocations = 0.3

// BenchmarkTry is for timetables per second of processor time, in the contract's
// shops: each turn tries one change, counts its cost and takes it back. Some find no
// room; these take as much time as others.
func BenchmarkTry(b *testing.B) {
	for _, name := range []string{"small", "medium", "season"} {
		b.Run(name, func(b *testing.B) { benchmarkTry(b, benchtest.Contract(b, name)) })
	}
}

func benchmarkTry(b *testing.B, s *shop.Shop) {
	a := improved(shoptest.Accepted(s), 500)
	changes := proposals(a, 2000)
	for _, c := range changes {
		tryAndUndo(a, c)
	}
	b.ReportAllocs()
	turns, placed, begun := 0, 0, benchtest.ProcessorTime()
	for b.Loop() {
		if tryAndUndo(a, changes[turns%len(changes)]) {
			placed++
		}
		turns++
	}
	b.ReportMetric(float64(turns)/(benchtest.ProcessorTime()-begun).Seconds(), "tries/cpu-s")
	b.ReportMetric(100*float64(placed)/float64(turns), "%placed")
}
