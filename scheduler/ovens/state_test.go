// Tests from within: that a state counts as it should and forgets nothing shows
// only between its moves.
package ovens

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shoptest"
)

// setsOf claims each wanted set of a shop by itself, those of an order together.
func setsOf(in *instance.Instance) (claims []Claim) {
	ofOrder := map[int]int{}
	for l := range in.Lines {
		line := &in.Lines[l]
		for range line.Quantity {
			k, ok := ofOrder[line.Order]
			if line.Order == instance.None || !ok {
				k = len(claims)
				ofOrder[line.Order], claims = k, append(claims, Claim{})
			}
			c := &claims[k]
			c.Shares = append(c.Shares, Share{l, 1})
			for _, section := range in.Products[line.Product].Sections {
				c.Lots = append(c.Lots, rack.Run{Section: section, Pieces: 1})
			}
		}
	}
	return claims
}

// drawState draws a shop of some dozen pieces with a first state.
func drawState(t *rapid.T) *state {
	size := shoptest.Size{Pieces: 30, Impossible: rapid.SampledFrom([]float64{0, 0.2}).Draw(t, "impossible")}
	in := instance.New(shoptest.Accepted(shoptest.Make(rapid.Uint64Range(1, 4000).Draw(t, "shop"), size)))
	p := New(in, setsOf(in))
	if rapid.Bool().Draw(t, "packed") {
		s := newState(p)
		s.hangPacked(1, 20000)
		return s
	}
	return p.begin(1, 2000)
}

// A picture is all of a state that counts.
type picture struct {
	Turns [][]string
	Times [][]Tick
	Ship  []int
	Cost  []Money
	Total Money
}

func pictureOf(s *state) (p picture) {
	p.Total, p.Cost = s.total, slices.Clone(s.cost)
	for _, ship := range s.ship {
		p.Ship = append(p.Ship, int(ship))
	}
	for _, turns := range s.turns {
		var names []string
		var times []Tick
		for _, l := range turns {
			names, times = append(names, fmt.Sprint(l.profile, s.p.runs(l.lots))), append(times, l.in, l.out)
		}
		p.Turns, p.Times = append(p.Turns, names), append(p.Times, times)
	}
	return p
}

// anew returns a state that was given the same loads from nothing.
func anew(s *state) *state {
	fresh := newState(s.p)
	fresh.placed = s.placed
	turns := s.all()
	for o := range turns {
		for i, l := range turns[o] {
			clone := *l
			clone.in, clone.out = 0, 0
			turns[o][i] = &clone
		}
	}
	fresh.restore(turns)
	return fresh
}

// Whatever was tried, kept and undone, a state is as if it had been given its
// loads from nothing; what is undone leaves no trace, and every lot stays in one
// load.
func TestState_CountsAsFromNothing(t *testing.T) {
	moved := make([]int, len(moves))
	rapid.Check(t, func(t *rapid.T) {
		s := drawState(t)
		if len(s.placed) == 0 {
			return
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for range 60 {
			before := pictureOf(s)
			m := r.IntN(len(moves))
			switch {
			case !moves[m](s, r):
				s.discard()
			case r.IntN(2) == 0:
				s.try()
				s.undo()
			default:
				s.try()
				s.keep()
				before = pictureOf(anew(s))
				moved[m]++
			}
			if diff := cmp.Diff(before, pictureOf(s)); diff != "" {
				t.Fatalf("move %d: want, got: %s", m, diff)
			}
		}
		homeless := len(s.placed)
		for _, turns := range s.turns {
			for _, l := range turns {
				for _, lot := range l.lots {
					if homeless--; s.home[lot] != l {
						t.Fatalf("lot %d is in a load that is not its home", lot)
					}
				}
			}
		}
		if homeless != 0 {
			t.Errorf("%d lots are in no load", homeless)
		}
	})
	for m, n := range moved {
		if n == 0 {
			t.Errorf("move %d never changed anything", m)
		}
	}
}

// A tail tells on which day a piece is done, as following it through the shop does.
func TestTail_Day(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := instance.New(shoptest.Accepted(shoptest.Make(rapid.Uint64Range(1, 4000).Draw(t, "shop"), shoptest.Size{})))
		section := rapid.IntRange(0, len(in.Sections)-1).Draw(t, "section")
		profile := rapid.IntRange(0, len(in.Profiles)-1).Draw(t, "profile")
		tail := newTails(in).of(section, profile)
		for range 20 {
			out := rapid.IntRange(1, in.Horizon).Draw(t, "out")
			want := in.Day(in.Horizon) + 1
			if done := alone.Finished(in, section, profile, out); done <= in.Horizon {
				want = in.Day(done)
			}
			if got := tail.day(out); got != want {
				t.Fatalf("out at %d, done on day %d, want %d", out, got, want)
			}
		}
	})
}
