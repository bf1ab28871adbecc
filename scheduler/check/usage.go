package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// forever is an instant after all others.
const forever = math.MaxInt64

// A usage says over time how many there are of something, and how many of
// these the released and the other work have.
type usage struct{ changes []change }

// A change is what changes at one instant.
type change struct {
	at                     int64
	there, released, other int
	where                  string // the other work that takes
}

// supply adds units that are there for a span.
func (u *usage) supply(s span, units int) {
	if s.from < s.to {
		u.changes = append(u.changes, change{at: s.from, there: units}, change{at: s.to, there: -units})
	}
}

// take adds units that some work has for a span.
func (u *usage) take(s span, units int, released bool, where string) {
	switch {
	case s.from >= s.to:
	case released:
		u.changes = append(u.changes, change{at: s.from, released: units}, change{at: s.to, released: -units})
	default:
		u.changes = append(u.changes, change{at: s.from, other: units, where: where}, change{at: s.to, other: -units})
	}
}

// An excess is a stretch of time in which other work has more than the
// released work leaves.
type excess struct {
	at                     int64  // its first minute
	there, released, other int    // at that minute
	where                  string // the work that took last before or at it
}

// left says how many units the released work leaves, for a message.
func (e *excess) left() string {
	if e.released == 0 {
		return fmt.Sprintf("%d are there", e.there)
	}
	return fmt.Sprintf("released work leaves %d (has %d of %d)", max(0, e.there-e.released), e.released, e.there)
}

// excesses returns the stretches from a minute on in which the released work
// leaves less than the other work has. What ends at an instant is free for
// what begins there.
func (u *usage) excesses(from int64) []excess {
	slices.SortStableFunc(u.changes, func(a, b change) int { return cmp.Compare(a.at, b.at) })
	var found []excess
	var state excess
	within := false
	for i, ch := range u.changes {
		state.at = max(ch.at, from)
		state.there += ch.there
		state.released += ch.released
		state.other += ch.other
		if ch.where != "" {
			state.where = ch.where
		}
		last := i+1 == len(u.changes)
		if !last && max(u.changes[i+1].at, from) == state.at {
			continue
		}
		over := state.other > max(0, state.there-state.released)
		if over && !within {
			found = append(found, state)
		}
		within = over
	}
	return found
}
