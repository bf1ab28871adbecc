package scheduler_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler"
	"blankwright/scheduler/answer"
	"blankwright/scheduler/check"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/search/move"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// randomSize returns one of the sizes that random shops come in: up to 60
// products, now and then with more pieces than its days can take, or with
// products that cannot be made.
func randomSize(seed uint64) shoptest.Size {
	size := shoptest.Size{Products: 1 + int(seed*7%60)}
	switch seed % 4 {
	case 1:
		size.Impossible = 0.3
	case 2:
		size.Pieces, size.Days = 150+int(seed%100), 1+int(seed/4%4)
	case 3:
		size.Pieces = 1 + int(seed*13%200)
	}
	return size
}

// Every plan of every random shop keeps all rules.
func TestPlan_RandomShops(t *testing.T) {
	leftOutShort(t)
	const chunks = 8
	shops := thorough.Of[uint64](200, 240)
	for chunk := range uint64(chunks) {
		t.Run(fmt.Sprint(chunk), func(t *testing.T) {
			t.Parallel()
			loads, missing := 0, 0
			for seed := chunk; seed < shops; seed += chunks {
				s := shoptest.Make(seed, randomSize(seed))
				r := planned(t, s, scheduler.Options{Seed: seed + 1, Effort: int(seed % 3 * 40)})
				report := check.Plan(s, r.Plan)
				loads += report.Loads
				missing += report.UnallocatedSets
			}
			if loads < int(shops)/chunks || missing == 0 {
				t.Errorf("%d loads and %d unallocated sets: these shops try little", loads, missing)
			}
		})
	}
}

// Nor does any size, seed and effort give a plan that breaks a rule.
func TestPlan_AnyShop(t *testing.T) {
	thorough.Check(t, 30, func(t *rapid.T) {
		s := shoptest.Make(rapid.Uint64().Draw(t, "shop"), shoptest.Size{
			Products:   rapid.IntRange(0, 20).Draw(t, "products"),
			Lines:      rapid.IntRange(0, 20).Draw(t, "lines"),
			Pieces:     rapid.IntRange(0, 80).Draw(t, "pieces"),
			Days:       rapid.IntRange(0, 20).Draw(t, "days"),
			Impossible: rapid.SampledFrom([]float64{0, 0.2, 1}).Draw(t, "impossible"),
		})
		strain(t, s)
		planned(t, s, scheduler.Options{Seed: rapid.Uint64().Draw(t, "seed"), Effort: rapid.IntRange(0, 60).Draw(t, "effort")})
	})
}

// strain tightens, by chance, what a sensible shop leaves slack.
func strain(t *rapid.T, s *shop.Shop) {
	among := func(name string, field *int, values ...int) {
		if rapid.IntRange(0, 3).Draw(t, "strain "+name) == 0 {
			*field = rapid.SampledFrom(values).Draw(t, name)
		}
	}
	among("green", &s.Policy.MaxGreenMinutes, 0, 5, 60, 240)
	among("transfer", &s.Policy.TransferPieces, 1, 2, 1000)
	among("unplanned", &s.Policy.UnplannedDays, 0, 1000)
	for i := range s.Prepregs {
		among("open", &s.Prepregs[i].MaxOpenMinutes, 0, 60, 400)
	}
	for _, stage := range shop.Stages() {
		among("set-up", &s.Stations.At(stage).SetupMinutes, 0, 60, 600)
	}
	for i := range s.MandrelTypes {
		among("turnaround", &s.MandrelTypes[i].TurnaroundMinutes, 0, 3000)
	}
	for i := range s.Ovens {
		among("load", &s.Ovens[i].LoadMinutes, 1, 200)
		among("bays", &s.Ovens[i].Bays, 1)
	}
	for i := range s.Racks {
		s.Racks[i].BusyUntil = nil
		among("racks", &s.Racks[i].Count, 0, 1)
	}
	if s.Released != nil && rapid.Bool().Draw(t, "late release") {
		delay(s.Released, rapid.Int64Range(0, 60000).Draw(t, "release"))
	}
}

// delay moves released work by so many minutes.
func delay(r *shop.Released, minutes int64) {
	for i := range r.Loads {
		for _, at := range []*shop.Instant{&r.Loads[i].In, &r.Loads[i].CureStart, &r.Loads[i].CureEnd, &r.Loads[i].Out} {
			at.Minute += minutes
		}
	}
	for i := range r.Tasks {
		r.Tasks[i].Start.Minute += minutes
		r.Tasks[i].End.Minute += minutes
	}
}

// Day after day a shop plans again from where its plan has left it: what is
// released stands in the next plan as it was, and all of it keeps the rules.
func TestPlan_Advance(t *testing.T) {
	leftOutShort(t)
	released := 0
	for seed := range thorough.Of[uint64](5, 12) {
		s := shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Pieces: 100, Days: 8}))
		for day := range int64(4) {
			r := planned(t, s, scheduler.Options{Seed: seed + 1, Effort: 40})
			expectReleased(t, s, r.Plan)
			at := s.Now.Minute + 720*(1+(int64(seed)+day)%4) + 37*int64(seed)
			s = shoptest.Accepted(shoptest.Advance(s, r.Plan, shop.InstantIn(at, s.Zone())))
			if s.Released != nil {
				released += len(s.Released.Loads)
			}
		}
	}
	if released < 5 {
		t.Errorf("only %d loads were released", released)
	}
}

// expectReleased expects a shop's released loads and tasks in a plan.
func expectReleased(t *testing.T, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	if s.Released == nil {
		return
	}
	ids := map[string]bool{}
	for _, l := range s.Released.Loads {
		ids[l.ID] = true
	}
	kept := plan.Plan{}
	for _, l := range p.Loads {
		if ids[l.ID] {
			kept.Loads = append(kept.Loads, l)
		}
	}
	for _, task := range p.Tasks {
		if ids[task.Load] {
			kept.Tasks = append(kept.Tasks, task)
		}
	}
	want := plan.Plan{Loads: s.Released.Loads, Tasks: slices.Clone(s.Released.Tasks)}
	// A plan lists tasks by start, a shop as it likes.
	for _, tasks := range [][]shop.Task{kept.Tasks, want.Tasks} {
		slices.SortFunc(tasks, func(a, b shop.Task) int { return bytes.Compare(taskBytes(a), taskBytes(b)) })
	}
	if !bytes.Equal(kept.Encode(), want.Encode()) {
		t.Errorf("%s: released work has changed", s.Name)
	}
}

func taskBytes(t shop.Task) []byte {
	p := plan.Plan{Tasks: []shop.Task{t}}
	return p.Encode()
}

// A bench is an answer that moves are tried on.
type bench struct {
	s *shop.Shop
	a *answer.Answer
}

func drawBench(t *rapid.T) *bench {
	s := shoptest.Accepted(shoptest.Make(rapid.Uint64Range(0, 1000).Draw(t, "shop"), shoptest.Size{Pieces: rapid.IntRange(5, 50).Draw(t, "pieces")}))
	rule := rapid.SampledFrom(slices.Concat(construct.Rules, construct.BusyRules)).Draw(t, "rule")
	return &bench{s: s, a: construct.Build(instance.New(s), rule, nil)}
}

// propose lets one move, drawn with its chance, propose a change.
func (b *bench) propose(which, chance uint64) (answer.Change, bool) {
	moves := move.All()
	return moves[which%uint64(len(moves))].Propose(b.a, rand.New(rand.NewPCG(chance, which)))
}

// again returns a change that has been undone, to be tried anew.
func again(c answer.Change) answer.Change {
	next := answer.Change{Out: c.Out, InTurn: c.InTurn}
	for _, l := range c.In {
		next.In = append(next.In, l.Again())
	}
	return next
}

// A state is all of an answer that shows.
type state struct {
	plan  string
	cost  answer.Cost
	spare string
}

func (b *bench) state() state {
	return state{string(b.a.Plan().Encode()), b.a.Cost(), fmt.Sprint(b.a.Spare)}
}

// recount compares the answer's cost with the checker's, of a plan that must be
// valid.
func (b *bench) recount(t *rapid.T) {
	p := b.a.Plan()
	if p.Cost.Total > 0 {
		p.Bound.Gap = 1 // of the bound 0
	}
	report := check.Plan(b.s, p)
	for _, breach := range report.Breaches {
		t.Errorf("%s", breach)
	}
	if !equalCost(report.Cost.Total, p.Cost.Total) {
		t.Errorf("cost %g, recounted %g", p.Cost.Total, report.Cost.Total)
	}
}

// A change that is tried and undone, or that finds no place, leaves everything as
// it was: tried again, it comes out the same. A change that is kept costs what a
// recount of its plan says.
func TestAnswer_TryUndoKeep(t *testing.T) {
	leftOutShort(t)
	thorough.Check(t, 30, func(t *rapid.T) {
		b := drawBench(t)
		for range 12 {
			which, chance := rapid.Uint64Range(0, 99).Draw(t, "move"), rapid.Uint64().Draw(t, "chance")
			c, ok := b.propose(which, chance)
			if !ok {
				continue
			}
			before := b.state()
			if !b.a.Try(c) {
				if b.state() != before {
					t.Fatalf("a change that finds no place leaves a trace")
				}
				continue
			}
			tried := b.state()
			b.a.Undo()
			if b.state() != before {
				t.Fatalf("undo leaves a trace")
			}
			if !b.a.Try(again(c)) || b.state() != tried {
				t.Fatalf("undone and tried again, a change comes out otherwise")
			}
			b.a.Keep()
		}
		b.recount(t)
	})
}

// Restore goes back to a snapshot, and a copy of one is like it; both go on as
// the answer did then.
func TestAnswer_SnapshotRestoreCopy(t *testing.T) {
	leftOutShort(t)
	thorough.Check(t, 30, func(t *rapid.T) {
		b := drawBench(t)
		keep := func(b *bench, chance uint64) {
			for i := range uint64(10) {
				if c, ok := b.propose(chance+i, chance); ok && b.a.Try(c) {
					b.a.Keep()
				}
			}
		}
		keep(b, rapid.Uint64Range(0, 1000).Draw(t, "before"))
		snapshot, before := b.a.Snapshot(), b.state()
		chance := rapid.Uint64Range(0, 1000).Draw(t, "after")
		keep(b, chance)
		after := b.state()
		copied := &bench{s: b.s, a: b.a.CopyOf(snapshot)}
		if copied.state() != before {
			t.Fatalf("a copy of a snapshot is unlike it")
		}
		if b.state() != after {
			t.Fatalf("copying changes the answer")
		}
		b.a.Restore(snapshot)
		if b.state() != before {
			t.Fatalf("restored, an answer is unlike its snapshot")
		}
		keep(b, chance)
		keep(copied, chance)
		b.recount(t)
		copied.recount(t)
	})
}
