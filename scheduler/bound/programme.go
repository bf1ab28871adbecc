package bound

import (
	"math"
	"slices"
)

// A loadProgramme seeks worths that add up to most: of pieces, by section, and after
// these of loads, by group. Loads that are worth more than their price become
// columns of a cover, which tells new worths. These swing; between them and the best
// so far the swing dies down.
type loadProgramme struct {
	floor   *loadFloor
	price   []Money // by kind of load
	need    []int   // by section, then by group
	filler  *filler
	rows    []int // what of need there is
	cover   *cover
	columns []column
	best    []Money // as need; as good as proven
	value   float64 // of all that is needed by them
}

// A column is a load: what it covers, by row.
type column struct {
	covers []float64
	price  float64
}

// newLoadProgramme returns the programme of loads at a price by kind, of which each
// group takes at least so many.
func newLoadProgramme(f *loadFloor, price []Money, loads []int) *loadProgramme {
	need := append(slices.Clone(f.need), loads...)
	return &loadProgramme{
		floor: f, price: price, need: need, best: make([]Money, len(need)),
		filler: newFiller(f.in, f.heights, lotsOf(f.need), f.need),
	}
}

// solved returns the best worths there are, proven.
func (l *loadProgramme) solved() []Money {
	l.solve()
	l.prove()
	return l.best
}

// piecesOf and loadsOf part what is by section from what is by group.
func (l *loadProgramme) piecesOf(worth []Money) []Money { return worth[:len(l.floor.need)] }
func (l *loadProgramme) loadsOf(worth []Money) []Money  { return worth[len(l.floor.need):] }

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

// begin covers each section by loads of its own, and each group by empty ones.
func (l *loadProgramme) begin() {
	var need, covers, price []float64
	add := func(row int, n, cost float64) {
		l.rows = append(l.rows, row)
		need, covers, price = append(need, float64(l.need[row])), append(covers, n), append(price, cost)
	}
	worth := make([]Money, len(l.floor.need))
	for s, n := range l.floor.need {
		if n == 0 {
			continue
		}
		worth[s] = anyWorth
		l.filler.set(worth)
		pieces, cost := l.alone(s)
		worth[s] = 0
		if pieces > 0 {
			add(s, pieces, cost)
		}
	}
	for g, n := range l.need[len(l.floor.need):] {
		if n > 0 {
			add(len(l.floor.need)+g, 1, float64(l.floor.cheapest(g)))
		}
	}
	l.cover = newCover(need, covers, price)
}

// alone returns the load that holds only a section's pieces and is cheapest by
// piece.
func (l *loadProgramme) alone(section int) (pieces, cost float64) {
	for i := range l.floor.kinds {
		k, price := &l.floor.kinds[i], float64(l.price[i])
		l.filler.most(k.racks, k.way.Profile)
		if n := l.filler.amount[section]; n > 0 && (pieces == 0 || price*pieces < cost*n) {
			pieces, cost = n, price
		}
	}
	return pieces, cost
}

// most returns the most that a load of a kind is worth.
func (l *loadProgramme) most(kind int, worth []Money) Money {
	k, g := &l.floor.kinds[kind], l.floor.groupOf[kind]
	if g < 0 {
		return 0
	}
	most := l.filler.most(k.racks, k.way.Profile)
	if loads := l.loadsOf(worth); len(loads) > 0 {
		most = plus(most, loads[g])
	}
	return most
}

// round tries worths between the best and the cover's. Loads that are worth more
// than they cost by them become columns, the best of each way. It reports whether
// any is worth more than it costs by the cover's, too.
func (l *loadProgramme) round(swing float64) (found bool) {
	worth := make([]Money, len(l.need))
	for row, i := range l.rows {
		best := float64(l.best[i])
		worth[i] = Money(max(0, best+swing*(l.cover.price[row]-best)))
	}
	l.filler.set(l.piecesOf(worth))
	by, kinds := 1.0, l.floor.kinds
	for first, next := 0, 0; first < len(kinds); first = next {
		var c column
		gain := Money(0)
		for ; next < len(kinds) && kinds[next].way == kinds[first].way; next++ {
			most, price := l.most(next, worth), l.price[next]
			if most-price > gain {
				gain, c.price, c.covers = most-price, float64(price), l.held(c.covers, next)
			}
			if most > price {
				by = min(by, float64(price)/float64(most))
			}
		}
		if gain > 0 && l.cover.gain(c.covers, c.price) > 0 {
			l.columns = append(l.columns, c)
			found = true
		}
	}
	l.keep(worth, by)
	return found
}

// held returns what the filler's last load, of some kind, covers.
func (l *loadProgramme) held(room []float64, kind int) []float64 {
	room = room[:0]
	for _, i := range l.rows {
		switch g := i - len(l.floor.need); {
		case g < 0:
			room = append(room, l.filler.amount[i])
		case g == l.floor.groupOf[kind]:
			room = append(room, 1)
		default:
			room = append(room, 0)
		}
	}
	return room
}

// keep keeps worths, lowered so far that no load is worth more than it costs, if
// they are the best.
func (l *loadProgramme) keep(worth []Money, by float64) {
	value := 0.0
	for i, n := range l.need {
		value += by * float64(worth[i]) * float64(n)
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
			if g := l.cover.gain(l.columns[i].covers, l.columns[i].price); g > gain {
				best, gain = i, g
			}
		}
		entered := best >= 0 && l.cover.enter(l.columns[best].covers, l.columns[best].price)
		if !l.cover.drop() && !entered {
			return
		}
	}
}

// prove lowers the best worths until no load is worth more than it costs.
func (l *loadProgramme) prove() {
	for i := range l.floor.kinds {
		if l.price[i] == 0 && l.floor.groupOf[i] >= 0 {
			l.free(i)
		}
	}
	for by := l.least(); by < 1; by = l.least() {
		l.best = lowered(l.best, by)
	}
}

// free makes all that a kind of loads can have worthless.
func (l *loadProgramme) free(kind int) {
	k := &l.floor.kinds[kind]
	for s := range l.floor.need {
		if l.floor.holds(k, s) {
			l.best[s] = 0
		}
	}
	if loads := l.loadsOf(l.best); len(loads) > 0 {
		loads[l.floor.groupOf[kind]] = 0
	}
}

// least returns the least share of its worth that a load costs, at most 1.
func (l *loadProgramme) least() float64 {
	by := 1.0
	l.filler.set(l.piecesOf(l.best))
	for i := range l.floor.kinds {
		if most := l.most(i, l.best); most > l.price[i] {
			by = min(by, float64(l.price[i])/float64(most))
		}
	}
	return by
}
