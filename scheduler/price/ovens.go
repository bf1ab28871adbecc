package price

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// ovens limits pegs: the loads whose pieces can be trimmed by the end of a day
// hold no more on levels that clear a height than these have pegs. Sections that
// some ovens alone can cure have those to themselves.
func (s *survey) ovens() {
	loads := make([][]int, len(s.in.Ovens)) // by oven, then day
	for o := range loads {
		loads[o] = s.loadsBy(o)
	}
	homes := s.homes()
	var sets []uint64
	for _, i := range s.sections {
		if home := homes[i]; home != 0 && !slices.Contains(sets, home) {
			sets = append(sets, home)
		}
	}
	for _, set := range sets {
		for _, clear := range s.clears() {
			s.pegs(set, homes, clear, loads)
		}
	}
}

// homes returns, by section, the ovens that can cure it, as a set of bits; more
// than 64 ovens count as one set.
func (s *survey) homes() []uint64 {
	homes := make([]uint64, len(s.in.Sections))
	for _, i := range s.sections {
		for _, c := range s.walks[i].Cures {
			homes[i] |= 1 << min(c.Oven, 63)
		}
	}
	return homes
}

// clears returns the clear heights that some wanted section needs, the lowest
// first.
func (s *survey) clears() (list []float64) {
	for _, i := range s.sections {
		need := math.Inf(1)
		for _, k := range s.in.Hanger.Kinds {
			for n := range k.Levels {
				if s.in.Hanger.Pegs(i, k, n) > 0 {
					need = min(need, k.Levels[n].Clear)
				}
			}
		}
		if !math.IsInf(need, 1) && !slices.Contains(list, need) {
			list = append(list, need)
		}
	}
	slices.Sort(list)
	return list
}

// pegs limits the pegs that clear a height in a set of ovens.
func (s *survey) pegs(set uint64, homes []uint64, clear float64, loads [][]int) {
	l := s.limit("oven", "")
	some := false
	for _, i := range s.sections {
		if homes[i]&^set == 0 && homes[i] != 0 {
			if n := s.fewestPegs(i, clear); n > 0 {
				l.bySection[i] = float64(float64(n) * s.perSet(i))
				some = true
			}
		}
	}
	if !some {
		s.limits = s.limits[:len(s.limits)-1]
		return
	}
	for o := range s.in.Ovens {
		if set&(1<<min(o, 63)) == 0 {
			continue
		}
		l.ID += " " + s.in.Ovens[o].ID
		most := mostPegs(s.in.Ovens[o].Room, clear)
		for d := range l.room {
			l.room[d] += float64(most * loads[o][d])
		}
	}
}

// fewestPegs returns the fewest pegs that a piece takes; 0 where it also hangs on
// a level lower than a clear height.
func (s *survey) fewestPegs(section int, clear float64) int {
	fewest := 0
	for _, k := range s.in.Hanger.Kinds {
		for n := range k.Levels {
			pegs := s.in.Hanger.Pegs(section, k, n)
			if pegs > 0 && k.Levels[n].Clear < clear {
				return 0
			}
			if pegs > 0 && (fewest == 0 || pegs < fewest) {
				fewest = pegs
			}
		}
	}
	return fewest
}

// mostPegs returns how many pegs that clear a height an oven can have at once.
func mostPegs(o *rack.Oven, clear float64) (sum int) {
	best := map[int]*rack.Kind{}
	var order []int
	pegs := func(k *rack.Kind) (n int) {
		for _, l := range k.Levels {
			if l.Clear >= clear {
				n += l.Pegs
			}
		}
		return n
	}
	for _, k := range o.Kinds {
		if best[k.Rack] == nil {
			order = append(order, k.Rack)
		}
		if best[k.Rack] == nil || pegs(k) > pegs(best[k.Rack]) {
			best[k.Rack] = k
		}
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(pegs(best[b]), pegs(best[a])), cmp.Compare(a, b))
	})
	left := o.Bays
	for _, r := range order {
		n := min(left, best[r].Count)
		sum += n * pegs(best[r])
		left -= n
	}
	return sum
}

// loadsBy returns how many loads of an oven can have pieces that are trimmed by
// the end of each day: one after the other, each as quick as any can be.
func (s *survey) loadsBy(oven int) []int {
	by := make([]int, len(s.days))
	at := instance.Never
	cures := map[int]instance.Tick{}
	for _, i := range s.sections {
		for _, c := range s.walks[i].Cures {
			if c.Oven == oven {
				at = min(at, s.paths[i].Ends[shop.Wrap])
			}
		}
	}
	for _, p := range s.in.Ovens[oven].Profiles {
		cures[p] = s.leastCure(instance.Way{Oven: oven, Profile: p})
	}
	for d, n := 0, 0; d < len(by) && at < instance.Never; n++ {
		out, done := instance.Never, instance.Never
		for _, p := range s.in.Ovens[oven].Profiles {
			if cures[p] < instance.Never {
				_, end := alone.Cured(s.in, oven, cures[p], at)
				out, done = min(out, end), min(done, s.trimmed(end, instance.Way{Oven: oven, Profile: p}))
			}
		}
		for d < len(by) && s.days[d].last < done {
			by[d] = n
			d++
		}
		at = out
	}
	return by
}
