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
func (o *Oven) ponder(runs []Run, kg float64, pegs int) ([]Rack, bool) {
	p := &puzzle{hanger: o.hanger, runs: runs, kg: kg, need: pegs}
	for left := maxPonder; left > 0; left -= maxTries - p.tries {
		if !p.next(o) {
			break
		}
		if p.tries = min(left, maxTries); p.place(0) {
			return filled(p.combo.kinds, p.bars, p.hangs()), true
		}
	}
	return nil, false
}

// A puzzle is one set of racks being filled by trial.
type puzzle struct {
	hanger *Hanger
	runs   []Run
	kg     float64
	need   int // pegs, at the least
	seen   int // sets of racks
	combo  *combo
	bars   []bar
	free   []float64 // by rack: kg
	first  []int     // by run: the first bar that takes it; so do all behind
	least  []int     // by run: the fewest pegs that a piece takes on any of them
	count  []int     // by run, then bar: pieces hung
	tries  int       // left
}

// next sets up the next set of racks for which no count of pegs and weights
// rules a solution out; false after the last.
func (p *puzzle) next(o *Oven) bool {
	for p.seen < len(o.combos) {
		p.combo = &o.combos[p.seen]
		p.seen++
		if p.need <= p.combo.pegs && p.kg+p.combo.tare <= o.MaxKg+epsilon && p.setUp() && p.hopeful(0) {
			p.count = make([]int, len(p.runs)*len(p.bars))
			return true
		}
	}
	return false
}

// setUp empties the racks; it reports false where a run hangs nowhere on them.
func (p *puzzle) setUp() bool {
	p.bars, p.free = append(p.bars[:0], p.combo.bars...), p.free[:0]
	for _, k := range p.combo.kinds {
		p.free = append(p.free, k.MaxKg)
	}
	p.first, p.least = p.first[:0], p.least[:0]
	for _, run := range p.runs {
		first, least := len(p.bars), 0
		for b := len(p.bars) - 1; b >= 0; b-- {
			if pegs := p.pegs(run, b); pegs > 0 {
				first = b
				if least == 0 || pegs < least {
					least = pegs
				}
			}
		}
		if least == 0 {
			return false
		}
		p.first, p.least = append(p.first, first), append(p.least, least)
	}
	return true
}

func (p *puzzle) pegs(run Run, b int) int { return p.hanger.pegs[run.Section][p.bars[b].level.id] }

// hopeful reports whether weights and pegs leave room for the runs from the
// i-th on: on all racks, and on the levels that clear the longer of them.
func (p *puzzle) hopeful(i int) bool {
	kg := 0.0
	for _, free := range p.free {
		kg += free + 2*epsilon
	}
	var space [64]int
	need := append(space[:0], make([]int, len(p.bars))...)
	for ; i < len(p.runs); i++ {
		need[p.first[i]] += p.runs[i].Pieces * p.least[i]
		kg -= float64(p.runs[i].Pieces) * p.hanger.pieces[p.runs[i].Section].Kg
	}
	pegs := 0
	for b := len(p.bars) - 1; b >= 0 && pegs >= 0; b-- {
		pegs += p.bars[b].free - need[b]
	}
	return kg >= 0 && pegs >= 0
}

// place hangs the runs from the i-th on.
func (p *puzzle) place(i int) bool {
	if i == len(p.runs) {
		return true
	}
	return p.hopeful(i) && p.share(i, p.first[i], p.runs[i].Pieces)
}

// share hangs what is left of the i-th run on the bars from b on, as many
// pieces as will go on each at first.
func (p *puzzle) share(i, b, left int) bool {
	if left == 0 {
		return p.place(i + 1)
	}
	if b == len(p.bars) {
		return false
	}
	pegs, kg := p.pegs(p.runs[i], b), p.hanger.pieces[p.runs[i].Section].Kg
	most := min(left, p.bars[b].free/pegs, bear(p.free[p.bars[b].rack], kg), p.twin(i, b))
	for n := max(0, most); n >= 0; n-- {
		if p.tries--; p.tries < 0 {
			return false
		}
		p.move(i, b, n)
		if p.share(i, b+1, left-n) {
			return true
		}
		p.move(i, b, -n)
	}
	return false
}

// at returns the count of the i-th run's pieces on a bar.
func (p *puzzle) at(i, b int) *int { return &p.count[i*len(p.bars)+b] }

func (p *puzzle) move(i, b, n int) {
	*p.at(i, b) += n
	p.bars[b].free -= n * p.pegs(p.runs[i], b)
	p.free[p.bars[b].rack] -= float64(n) * p.hanger.pieces[p.runs[i].Section].Kg
}

// twin returns how many pieces of the i-th run hang on the bar whose like b is:
// the one just before it, of another rack that holds the same so far. More on b
// would be the same again with the racks changed about.
func (p *puzzle) twin(i, b int) int {
	if b == 0 || p.bars[b].level != p.bars[b-1].level || len(p.combo.kinds[p.bars[b].rack].Levels) > 1 {
		return p.runs[i].Pieces
	}
	for j := range i {
		if *p.at(j, b) != *p.at(j, b-1) {
			return p.runs[i].Pieces
		}
	}
	return *p.at(i, b-1)
}

func (p *puzzle) hangs() (list []hung) {
	for i, run := range p.runs {
		for b := range p.bars {
			if n := *p.at(i, b); n > 0 {
				list = append(list, hung{b, Run{run.Section, n}})
			}
		}
	}
	return list
}
