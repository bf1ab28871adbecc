package rack

// maxTries bounds how many placings one set of racks is tried with, and
// maxPonder how many all of them together, so that a load that does not fit
// costs no more than a moment.
const (
	maxTries  = 400
	maxPonder = 1600
)

// ponder searches for a way to hang runs where filling level after level finds
// none: by branch and bound, one set of racks after the other.
func (h *hanging) ponder() bool {
	h.seen = 0
	for left := maxPonder; left > 0 && h.next(); left -= maxTries - h.tries {
		if h.tries = min(left, maxTries); h.place(0) {
			h.note()
			return true
		}
	}
	return false
}

// A puzzle is what ponder needs beside the hanging: one set of racks being filled
// by trial.
type puzzle struct {
	seen  int   // sets of racks
	first []int // by run: the first bar that takes it; so do all behind
	least []int // by run: the fewest pegs that a piece takes on any of them
	count []int // by run, then bar: pieces hung
	need  []int // by bar: pegs that its and longer runs need
	tries int   // left
}

// next sets up the next set of racks for which no count of pegs and weights
// rules a solution out; false after the last.
func (h *hanging) next() bool {
	for h.seen < len(h.oven.combos) {
		h.combo = &h.oven.combos[h.seen]
		h.seen++
		if h.roomy() && h.setUp() && h.hopeful(0) {
			h.count = append(h.count[:0], make([]int, len(h.runs)*len(h.bars))...)
			return true
		}
	}
	return false
}

// setUp empties the racks; it reports false where a run hangs nowhere on them.
func (h *hanging) setUp() bool {
	h.empty()
	h.first, h.least = h.first[:0], h.least[:0]
	for _, run := range h.runs {
		first, least := len(h.bars), 0
		for b := len(h.bars) - 1; b >= 0; b-- {
			if pegs := h.takes(run, b); pegs > 0 {
				first = b
				if least == 0 || pegs < least {
					least = pegs
				}
			}
		}
		if least == 0 {
			return false
		}
		h.first, h.least = append(h.first, first), append(h.least, least)
	}
	return true
}

// takes returns the pegs that a piece of a run takes on a bar, 0 where it hangs
// too long for it.
func (h *hanging) takes(run Run, b int) int {
	return h.oven.hanger.pegs[run.Section][h.bars[b].level.id]
}

// hopeful reports whether weights and pegs leave room for the runs from the
// i-th on: on all racks, and on the levels that clear the longer of them.
func (h *hanging) hopeful(i int) bool {
	kg := 0.0
	for _, free := range h.free {
		kg += free + 2*epsilon
	}
	h.need = append(h.need[:0], make([]int, len(h.bars))...)
	for ; i < len(h.runs); i++ {
		h.need[h.first[i]] += h.runs[i].Pieces * h.least[i]
		kg -= float64(h.runs[i].Pieces) * h.oven.hanger.pieces[h.runs[i].Section].Kg
	}
	pegs := 0
	for b := len(h.bars) - 1; b >= 0 && pegs >= 0; b-- {
		pegs += h.bars[b].free - h.need[b]
	}
	return kg >= 0 && pegs >= 0
}

// place hangs the runs from the i-th on.
func (h *hanging) place(i int) bool {
	if i == len(h.runs) {
		return true
	}
	return h.hopeful(i) && h.share(i, h.first[i], h.runs[i].Pieces)
}

// share hangs what is left of the i-th run on the bars from b on, as many
// pieces as will go on each at first.
func (h *hanging) share(i, b, left int) bool {
	if left == 0 {
		return h.place(i + 1)
	}
	if b == len(h.bars) {
		return false
	}
	pegs, kg := h.takes(h.runs[i], b), h.oven.hanger.pieces[h.runs[i].Section].Kg
	most := min(left, h.bars[b].free/pegs, bear(h.free[h.bars[b].rack], kg), h.twin(i, b))
	for n := max(0, most); n >= 0; n-- {
		if h.tries--; h.tries < 0 {
			return false
		}
		h.move(i, b, n)
		if h.share(i, b+1, left-n) {
			return true
		}
		h.move(i, b, -n)
	}
	return false
}

// at returns the count of the i-th run's pieces on a bar.
func (h *hanging) at(i, b int) *int { return &h.count[i*len(h.bars)+b] }

func (h *hanging) move(i, b, n int) {
	*h.at(i, b) += n
	h.bars[b].free -= n * h.takes(h.runs[i], b)
	h.free[h.bars[b].rack] -= float64(n) * h.oven.hanger.pieces[h.runs[i].Section].Kg
}

// twin returns how many pieces of the i-th run hang on the bar whose like b is:
// the one just before it, of another rack that holds the same so far. More on b
// would be the same again with the racks changed about.
func (h *hanging) twin(i, b int) int {
	if b == 0 || h.bars[b].level != h.bars[b-1].level || len(h.combo.kinds[h.bars[b].rack].Levels) > 1 {
		return h.runs[i].Pieces
	}
	for j := range i {
		if *h.at(j, b) != *h.at(j, b-1) {
			return h.runs[i].Pieces
		}
	}
	return *h.at(i, b-1)
}

// note lists what hangs where.
func (h *hanging) note() {
	h.hangs = h.hangs[:0]
	for i, run := range h.runs {
		for b := range h.bars {
			if n := *h.at(i, b); n > 0 {
				h.hangs = append(h.hangs, hung{b, Run{run.Section, n}})
			}
		}
	}
}
