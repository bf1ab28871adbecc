package check_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/check"
	"blankwright/scheduler/shop"
)

// Numbers and texts out of all range are breaches, not failures, and the same
// plan gives the same report again.
func TestPlan_OfNonsense(t *testing.T) {
	b := readBase(t, "tern")
	numbers := rapid.SampledFrom([]int{math.MinInt, -1 << 40, -1, 0, 1, 2, 1 << 31, 1 << 40, math.MaxInt})
	texts := rapid.SampledFrom([]string{"", "?", "L-1", "R-1", "tip", "one", "big", "small", "fast", "long", "two", "carbon", "D1"})
	decimals := rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300})
	rapid.Check(t, func(t *rapid.T) {
		s, p := b.parse(t)
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			l := &p.Loads[rapid.IntRange(0, len(p.Loads)-1).Draw(t, "load")]
			task := &p.Tasks[rapid.IntRange(0, len(p.Tasks)-1).Draw(t, "task")]
			a := &p.Allocations[rapid.IntRange(0, len(p.Allocations)-1).Draw(t, "allocation")]
			number, text, decimal := numbers.Draw(t, "number"), texts.Draw(t, "text"), decimals.Draw(t, "decimal")
			minute := shop.Instant{Minute: int64(number)}
			[]func(){
				func() { l.ID = text }, func() { l.Oven = text }, func() { l.Profile = text }, func() { l.Racks = nil },
				func() { l.In = minute }, func() { l.CureStart = minute }, func() { l.CureEnd = minute }, func() { l.Out = minute },
				func() { l.Racks[0].Rack = text }, func() { l.Racks[0].Setup = text }, func() { l.Racks[0].Levels = nil },
				func() { l.Racks[0].Levels[0] = []shop.Hang{{Section: text, Pieces: number}} },
				func() { task.Load = text }, func() { task.Section = text }, func() { task.Stage = shop.Stage(number) },
				func() { task.Prepreg = text }, func() { task.Position = number }, func() { task.Pieces = number },
				func() { task.Start = minute }, func() { task.End = minute }, func() { task.Setup = !task.Setup },
				func() { a.Line = text }, func() { a.Sets = number }, func() { a.DoneAt = minute },
				func() { p.Cost.Late = decimal }, func() { p.Cost.Total = decimal }, func() { p.Bound.Total = decimal }, func() { p.Bound.Gap = decimal },
				func() { p.Tasks = p.Tasks[:1] }, func() { p.Now = minute },
			}[rapid.IntRange(0, 29).Draw(t, "field")]()
			if len(l.Racks) == 0 || len(l.Racks[0].Levels) == 0 {
				break
			}
		}
		first, again := check.Plan(s, p), check.Plan(s, p)
		if diff := cmp.Diff(fmt.Sprint(first), fmt.Sprint(again)); diff != "" {
			t.Errorf("the second report differs: %s", diff)
		}
	})
}

// BenchmarkPlan judges a season's size: the planned work of tern 200 times
// over, in more ovens and on more positions than there are.
func BenchmarkPlan(b *testing.B) {
	s, p := readBase(b, "tern").parse(b)
	loads, tasks := p.Loads, p.Tasks
	for copy := range 200 {
		for _, l := range loads {
			l.ID = fmt.Sprintf("%s/%d", l.ID, copy)
			p.Loads = append(p.Loads, l)
		}
		for _, t := range tasks {
			t.Load = fmt.Sprintf("%s/%d", t.Load, copy)
			p.Tasks = append(p.Tasks, t)
		}
	}
	for b.Loop() {
		if check.Plan(s, p).Tasks != len(p.Tasks) {
			b.Fatal("tasks are missing")
		}
	}
}
