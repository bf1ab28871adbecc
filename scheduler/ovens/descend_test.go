package ovens

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Where a descent ends, no other turn of a load and no change of places by two is
// cheaper; it never goes up, and what it says of the cost is as counted from nothing.
// It takes no more steps than it has.
func TestDescent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawState(t)
		before := s.total
		short := descent{newAnnealing(s, Options{Seed: 1}), rapid.IntRange(1, 50).Draw(t, "steps")}
		for short.round() {
		}
		if short.left < 0 || s.total > before || short.least != s.total {
			t.Fatalf("%d steps left; costs %d, before %d, best %d", short.left, s.total, before, short.least)
		}
		whole := descent{short.annealing, 1 << 30}
		for whole.round() {
		}
		if diff := cmp.Diff(pictureOf(anew(s)), pictureOf(s)); diff != "" {
			t.Fatalf("want, got: %s", diff)
		}
		for o := range s.turns {
			for i := range s.turns[o] {
				for j := range s.turns[o] {
					dearer(t, s, i == j || s.reinsert(o, i, j))
				}
				for q := range s.turns {
					for j := range s.turns[q] {
						dearer(t, s, s.swap(s.turns[o][i], s.turns[q][j]))
					}
				}
			}
		}
	})
}

// dearer fails where what was drafted, if anything was, is cheaper than a state.
func dearer(t *rapid.T, s *state, drafted bool) {
	defer s.discard()
	if !drafted {
		return
	}
	if total := s.total; s.try() < total {
		t.Errorf("costs %d, a change of it %d", total, s.total)
	}
	s.undo()
}
