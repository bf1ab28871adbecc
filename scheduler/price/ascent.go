package price

// An ascent looks for the tariff that proves most. It is the volume algorithm of
// Barahona and Anbil (Mathematical Programming 87, 2000): prices step along the
// mean of what past choices took beyond the room. That mean of choices comes near
// to the best plan of a shop whose sets can be divided at will.
//
// All this is floating point, of which each product is rounded by itself so that
// every machine takes the same steps. What is proven is not: tariffs are whole
// numbers.
type ascent struct {
	desk   *desk
	flow   *flow
	best   tariff
	proven float64   // by it
	at     []float64 // its prices, of all limits and days in one list
	tried  tariff
	try    []float64
	over   []float64 // what the last choice took beyond the room, in shares
	mean   []float64 // that of all choices, the later the more
	step   float64
	aim    float64 // what steps aim to prove
	poor   int     // tries in a row that proved no more
	lap    lap
	reach  []float64 // how far a step goes, by price
}

func newAscent(m *Model) *ascent {
	n := 0
	a := &ascent{desk: newDesk(m)}
	a.flow = newFlow(a.desk)
	for _, r := range m.rows {
		a.best, a.tried = append(a.best, make([]int64, len(r.room))), append(a.tried, make([]int64, len(r.room)))
		n += len(r.room)
	}
	a.at, a.try, a.over, a.mean = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	a.reach, a.proven = a.reaches(), a.look()
	copy(a.mean, a.over)
	a.flow.mix(1)
	a.aim = a.proven + max(a.proven*ambition, a.worst()/1000)
	return a
}

// A lap is how an ascent goes for a while.
type lap struct {
	patience int     // tries that prove no more before steps get shorter
	fresh    float64 // how much the last choice counts in the mean, at least
}

var laps = []lap{{5, 0.05}, {5, 0.03}}

const (
	firstStep  = 0.1
	longest    = 2.0
	shortest   = 1e-4
	lengthen   = 1.1
	shorten    = 0.8
	ambition   = 0.05 // how far above what is proven to aim
	mostFresh  = 0.2
	negligible = 1e-12
)

// worst returns what leaving everything out costs.
func (a *ascent) worst() (sum float64) {
	for _, l := range a.desk.m.lines {
		sum += float64(float64(l.never) * float64(l.sets))
	}
	for _, o := range a.desk.m.orders {
		sum += float64(o.never)
	}
	return sum
}

// look works out what the tariff that is tried proves, and what its choice takes.
func (a *ascent) look() float64 {
	k := 0
	for r := range a.tried {
		for day := range a.tried[r] {
			a.tried[r][day] = int64(min(a.try[k], float64(mostPaid)))
			k++
		}
	}
	v := a.desk.value(a.tried, wish{})
	a.flow.follow()
	a.flow.beyond(a.over)
	return float64(v.sum())
}

// climb makes so many tries, fewer where no step leads on. Each lap starts anew from
// the best tariff.
func (a *ascent) climb(tries int) {
	for _, l := range laps {
		a.lap = l
		a.restart()
		for range tries / len(laps) {
			if a.step < shortest || a.length() < negligible {
				a.restart()
				if a.length() < negligible {
					return // the best choice takes what there is, and no more
				}
			}
			a.advance()
		}
	}
}

// restart forgets all choices but the last: the mean hides what that still shows.
func (a *ascent) restart() {
	copy(a.mean, a.over)
	a.step, a.poor = firstStep, 0
}

// advance tries the next tariff.
func (a *ascent) advance() {
	size := float64(a.step*(a.aim-a.proven)) / a.length()
	for k, over := range a.mean {
		a.try[k] = max(0, a.at[k]+float64(size*float64(a.reach[k]*over)))
	}
	a.judge(a.look())
	a.blend()
}

// length returns the square of how far a step of size 1 goes.
func (a *ascent) length() (sum float64) {
	for k, over := range a.mean {
		if over > 0 || a.at[k] > 0 {
			sum += float64(a.reach[k] * float64(over*over))
		}
	}
	return sum
}

// judge keeps a better tariff, and sets how long the next step is.
func (a *ascent) judge(proven float64) {
	if proven <= a.proven {
		if a.poor++; a.poor == a.lap.patience {
			a.poor, a.step = 0, a.step*shorten
		}
		return
	}
	if dot(a.over, a.mean) > 0 {
		a.step = min(longest, a.step*lengthen)
	}
	a.poor, a.proven = 0, proven
	a.at, a.try = a.try, a.at
	a.best, a.tried = a.tried, a.best
	a.aim = max(a.aim, proven+max(proven, -proven)*ambition)
}

// blend mixes the last choice into the mean, by the part that makes what is taken
// beyond the room least.
func (a *ascent) blend() {
	square := 0.0
	for k, over := range a.over {
		d := a.mean[k] - over
		square += float64(d * d)
	}
	fresh := mostFresh
	if square > 0 {
		fresh = min(mostFresh, max(a.lap.fresh, (dot(a.mean, a.mean)-dot(a.mean, a.over))/square))
	}
	for k, over := range a.over {
		a.mean[k] += float64(fresh * (over - a.mean[k]))
	}
	a.flow.mix(fresh)
}

func dot(a, b []float64) (sum float64) {
	for k := range a {
		sum += float64(a[k] * b[k])
	}
	return sum
}

// reaches returns how far a step goes, by price: as the square of the part of the
// lines that use its limit, by what a day's delay of them costs. For what few lines
// use cannot be worth what all use.
func (a *ascent) reaches() (list []float64) {
	m := a.desk.m
	day, using, all := make([]float64, len(m.products)), make([]float64, len(m.rows)), 0.0
	for i := range m.in.Lines {
		if l := &m.in.Lines[i]; !l.Free {
			cost := float64(l.LatePrice) * float64(l.Quantity)
			day[l.Product] += cost
			all += cost
		}
	}
	for p := range m.products {
		for _, limit := range m.products[p].limits() {
			using[limit] += day[p]
		}
	}
	for r := range m.rows {
		part := using[r] / all
		for range m.rows[r].room {
			list = append(list, part*part)
		}
	}
	return list
}
