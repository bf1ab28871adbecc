package explain

import (
	"math"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/search"
)

// An aim is a line that is to ship sooner, if that does not make the plan dearer.
type aim struct {
	line     int
	concerns func(product int) bool // what it needs to ship
}

// aimAt returns the aim of one line: it needs its own product, and those of its
// order where that ships complete.
func aimAt(in *instance.Instance, line int) *aim {
	products := map[int]bool{}
	for _, l := range together(in, line) {
		products[in.Lines[l].Product] = true
	}
	return &aim{line, func(product int) bool { return products[product] }}
}

// together returns the lines that ship with a line, itself among them.
func together(in *instance.Instance, line int) []int {
	if o := in.Lines[line].Order; o != instance.None {
		return in.Orders[o].Lines
	}
	return []int{line}
}

// hold lowers the cost of an answer in which the line ships no later.
func (m *aim) hold(a *answer.Answer, tries int, only func(answer.Change) bool) int {
	latest, least := m.last(a), answer.Money(math.MaxInt64)
	measure := func() int64 {
		total := a.Cost().Total()
		if total >= least {
			return total // not worth asking how late the line is
		}
		if m.last(a) > latest {
			return math.MaxInt64
		}
		least = total
		return total
	}
	return search.Descend(a, search.Descent{Tries: tries, Only: only, Measure: measure})
}

// pull brings the line forward in an answer that costs no more than a limit.
func (m *aim) pull(a *answer.Answer, tries int, limit answer.Money) int {
	measure := func() int64 {
		if a.Cost().Total() > limit {
			return math.MaxInt64
		}
		return m.last(a)
	}
	moves := func(c answer.Change) bool {
		return carries(c, func(section int) bool { return m.concerns(a.In.Sections[section].Product) })
	}
	return search.Descend(a, search.Descent{Tries: tries, Concerns: m.concerns, Only: moves, Measure: measure})
}

// last returns when the last set for the line, or for a line with which it ships,
// ships and is good: of two dates of shipping the earlier is less, whatever the
// hour.
func (m *aim) last(a *answer.Answer) (last int64) {
	for _, l := range together(a.In, m.line) {
		last = max(last, lastOf(a, l))
	}
	return last
}

// lastOf returns when a line's last planned set ships and is good; more than
// that where sets are missing, and the more of them the more.
func lastOf(a *answer.Answer, line int) int64 {
	missing, last := int64(0), int64(0)
	for _, s := range a.Shares(a.In.Lines[line].Product) {
		switch {
		case s.Line != line:
		case s.Missing:
			missing += int64(s.Sets)
		default:
			last = max(last, int64(s.Ship-a.In.Shop.Today())<<30|int64(s.At))
		}
	}
	return min(missing, mostMissing)<<50 | last
}

// mostMissing is how many missing sets are told apart. Dates and instants take
// the bits below, where a century of either has room.
const mostMissing = 1000

// carries reports whether a change puts in a load with a section.
func carries(c answer.Change, which func(section int) bool) bool {
	for _, l := range c.In {
		for _, run := range l.Runs {
			if which(run.Section) {
				return true
			}
		}
	}
	return false
}
