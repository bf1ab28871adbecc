package price

import (
	"cmp"
	"slices"

	"blankwright/scheduler/instance"
)

// A supply is how much there is of something in each minute: nothing before the
// first of its instants, and from each of them on the rate that stands beside it.
type supply struct {
	at   []instance.Tick
	rate []int
	sum  []int // what there was before each instant
}

// A change is that there is more of something from an instant on, or less.
type change struct {
	at   instance.Tick
	more int
}

// open returns the changes that so much during some spans makes.
func open(spans []instance.Span, more int) (list []change) {
	for _, s := range spans {
		if s.From < s.To {
			list = append(list, change{s.From, more}, change{s.To, -more})
		}
	}
	return list
}

func newSupply(changes []change) *supply {
	slices.SortFunc(changes, func(a, b change) int { return cmp.Compare(a.at, b.at) })
	s := &supply{}
	rate := 0
	for i, c := range changes {
		rate += c.more
		if i+1 == len(changes) || changes[i+1].at > c.at {
			s.add(c.at, rate)
		}
	}
	return s
}

// add lets the rate be another from an instant on, which comes after all others.
func (s *supply) add(at instance.Tick, rate int) {
	sum := 0
	if n := len(s.at); n > 0 {
		sum = s.sum[n-1] + (at-s.at[n-1])*s.rate[n-1]
	}
	s.at, s.rate, s.sum = append(s.at, at), append(s.rate, rate), append(s.sum, sum)
}

// changes returns the changes that make a supply from an instant on.
func (s *supply) changes(from instance.Tick) (list []change) {
	rate := 0
	for i, at := range s.at {
		list = append(list, change{max(at, from), s.rate[i] - rate})
		rate = s.rate[i]
	}
	return list
}

// before returns how much there is in all minutes before an instant.
func (s *supply) before(t instance.Tick) int {
	i, found := slices.BinarySearch(s.at, t)
	if found {
		return s.sum[i]
	}
	if i == 0 {
		return 0
	}
	return s.sum[i-1] + (t-s.at[i-1])*s.rate[i-1]
}

// when returns the first instant before which there has been so much; Never where
// there is never as much.
func (s *supply) when(amount int) instance.Tick {
	if amount <= 0 {
		return 0
	}
	i, _ := slices.BinarySearch(s.sum, amount)
	if i == 0 || s.rate[i-1] <= 0 {
		return instance.Never
	}
	return s.at[i-1] + (amount-s.sum[i-1]+s.rate[i-1]-1)/s.rate[i-1]
}

// between returns how much there is from an instant to another.
func (s *supply) between(from, to instance.Tick) int {
	return max(0, s.before(to)-s.before(from))
}

// with returns the supply that in each minute is f of two others.
func (s *supply) with(other *supply, f func(a, b int) int) *supply {
	to := &supply{}
	for i, j := 0, 0; i < len(s.at) || j < len(other.at); {
		at := instance.Never
		if i < len(s.at) {
			at = s.at[i]
		}
		if j < len(other.at) {
			at = min(at, other.at[j])
		}
		if i < len(s.at) && s.at[i] == at {
			i++
		}
		if j < len(other.at) && other.at[j] == at {
			j++
		}
		to.add(at, f(s.last(i), other.last(j)))
	}
	return to
}

// last returns the rate that the first i instants have led to.
func (s *supply) last(i int) int {
	if i == 0 {
		return 0
	}
	return s.rate[i-1]
}

// less returns what is left of a after b is taken, which is not below nothing.
func less(a, b int) int { return max(0, a-b) }

func least(a, b int) int { return min(a, b) }
