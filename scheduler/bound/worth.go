package bound

import (
	"math"

	"blankwright/scheduler/instance"
)

// loadsByWorth gives each piece a worth such that no load holds pieces worth more
// than it costs. So whatever the loads are, they cost at least what all pieces
// are worth. The worths come from a linear programme and are then proven.
func loadsByWorth(in *instance.Instance) makeBound {
	l := newLoadProgramme(in)
	l.solve()
	l.prove()
	b := newMakeBound(in)
	b.worth = l.best
	for s, n := range l.need {
		b.add(in, s, n, l.best[s]+lagCost(in, s))
	}
	return b
}

// A loadProgramme seeks the worths of pieces that add up to most. Loads that are
// worth more than they cost become columns of a cover, which tells new worths.
// These swing; between them and the best so far the swing dies down.
type loadProgramme struct {
	in      *instance.Instance
	kinds   []loadKind
	need    []int
	filler  *filler
	rows    []int // the sections that count
	cover   *cover
	columns []column
	best    []Money // by section: of a piece, as good as proven
	value   float64 // of all pieces by them
}

// A column is a load: how many pieces it holds, by row.
type column struct {
	pieces []float64
	price  float64
}

func newLoadProgramme(in *instance.Instance) *loadProgramme {
	kinds, h := loadKinds(in)
	need := wantedPieces(in)
	return &loadProgramme{in: in, kinds: kinds, need: need, filler: newFiller(in, h, lotsOf(need), need), best: make([]Money, len(need))}
}

// The programme ends after so many rounds, or once it is so near to its optimum.
const (
	maxRounds = 200
	near      = 0.0005
)

// calm is how far from the best worths to the cover's a round goes.
const calm = 0.3

func (l *loadProgramme) solve() {
	l.begin()
	swing := 1.0
	for range maxRounds {
		switch {
		case l.cover.value()-l.value <= near*l.value:
			return
		case l.round(swing):
			l.settle()
			swing = calm
		case swing == 1:
			return
		default:
			swing = 1
		}
	}
}

// anyWorth is what a piece may be worth where it is alone.
const anyWorth = Money(1e9)

// begin covers each section by loads of its own.
func (l *loadProgramme) begin() {
	var need, covers, price []float64
	worth := make([]Money, len(l.need))
	for s, n := range l.need {
		if n == 0 {
			continue
		}
		worth[s] = anyWorth
		l.filler.set(worth)
		pieces, cost := l.alone(s)
		worth[s] = 0
		if pieces > 0 {
			l.rows = append(l.rows, s)
			need, covers, price = append(need, float64(n)), append(covers, pieces), append(price, cost)
		}
	}
	l.cover = newCover(need, covers, price)
}

// alone returns the load that holds only a section's pieces and is cheapest by
// piece.
func (l *loadProgramme) alone(section int) (pieces, cost float64) {
	for i := range l.kinds {
		k := &l.kinds[i]
		l.filler.most(k.racks, k.way.Profile)
		if n := l.filler.amount[section]; n > 0 && (pieces == 0 || float64(k.price)*pieces < cost*n) {
			pieces, cost = n, float64(k.price)
		}
	}
	return pieces, cost
}

// round tries worths between the best and the cover's. Loads that are worth more
// than they cost by them become columns, the best of each way. It reports whether
// any is worth more than it costs by the cover's, too.
func (l *loadProgramme) round(swing float64) (found bool) {
	worth := make([]Money, len(l.need))
	for row, s := range l.rows {
		best := float64(l.best[s])
		worth[s] = Money(max(0, best+swing*(l.cover.price[row]-best)))
	}
	l.filler.set(worth)
	by := 1.0
	for first, next := 0, 0; first < len(l.kinds); first = next {
		var c column
		gain := Money(0)
		for ; next < len(l.kinds) && l.kinds[next].way == l.kinds[first].way; next++ {
			k := &l.kinds[next]
			most := l.filler.most(k.racks, k.way.Profile)
			if most-k.price > gain {
				gain, c.price, c.pieces = most-k.price, float64(k.price), l.held(c.pieces)
			}
			if most > k.price {
				by = min(by, float64(k.price)/float64(most))
			}
		}
		if gain > 0 && l.cover.gain(c.pieces, c.price) > 0 {
			l.columns = append(l.columns, c)
			found = true
		}
	}
	l.keep(worth, by)
	return found
}

// held returns the pieces of the filler's last load, by row.
func (l *loadProgramme) held(room []float64) []float64 {
	room = room[:0]
	for _, s := range l.rows {
		room = append(room, l.filler.amount[s])
	}
	return room
}

// keep keeps worths, lowered so far that no load holds more than it costs, if
// they are the best.
func (l *loadProgramme) keep(worth []Money, by float64) {
	value := 0.0
	for s, n := range l.need {
		value += by * float64(worth[s]) * float64(n)
	}
	if value > l.value {
		l.value, l.best = value, lowered(worth, by)
	}
}

func lowered(worth []Money, by float64) []Money {
	low := make([]Money, len(worth))
	for s, w := range worth {
		low[s] = Money(math.Floor(float64(w) * by * (1 - 1e-12)))
	}
	return low
}

// settle brings the cover to the optimum of the columns known.
func (l *loadProgramme) settle() {
	for range 20 * len(l.rows) {
		best, gain := -1, 0.0
		for i := range l.columns {
			if g := l.cover.gain(l.columns[i].pieces, l.columns[i].price); g > gain {
				best, gain = i, g
			}
		}
		entered := best >= 0 && l.cover.enter(l.columns[best].pieces, l.columns[best].price)
		if !l.cover.drop() && !entered {
			return
		}
	}
}

// prove lowers the best worths until no load holds more than it costs.
func (l *loadProgramme) prove() {
	l.filler.set(l.best)
	for i := range l.kinds {
		if k := &l.kinds[i]; k.price == 0 {
			l.filler.most(k.racks, k.way.Profile)
			for s, n := range l.filler.amount {
				if n > 0 {
					l.best[s] = 0
				}
			}
		}
	}
	for by := l.least(); by < 1; by = l.least() {
		l.best = lowered(l.best, by)
	}
}

// least returns the least share of its pieces' worth that a load costs, at most 1.
func (l *loadProgramme) least() float64 {
	by := 1.0
	l.filler.set(l.best)
	for i := range l.kinds {
		k := &l.kinds[i]
		if most := l.filler.most(k.racks, k.way.Profile); most > k.price {
			by = min(by, float64(k.price)/float64(most))
		}
	}
	return by
}
