package line

import "blankwright/scheduler/instance"

// spare is the area that a draw may lack: half the contract's tolerance.
const spare = 5e-7

// A ledger is what the cut tasks draw of one prepreg (rule R12).
type ledger struct {
	rows  []instance.Supply
	draws series[draw]
	known int       // so many draws from the first on were replayed as they stand, and lack nothing
	pages []float64 // what each row had left before every page-th of those draws
	left  []float64 // the same while it is replayed
}

// page is how many draws lie between two notes of what is left.
const page = 32

// A draw is one cut task's area. A released one is not judged. It holds no
// pointer, so that making room for another costs a plain move of memory.
type draw struct {
	area             float64
	start, cureStart int32 // Ticks; a century of them fits
	load, serial     int32 // load is released for released work
}

// released stands for the load of released work, which comes before all others.
const released = -1

func newDraw(t *Task, area float64, cureStart Tick) draw {
	d := draw{start: int32(t.Start), cureStart: int32(cureStart), area: area, load: released, serial: int32(t.serial)}
	if t.Load != nil {
		d.load = int32(t.Load.ID)
	}
	return d
}

// before is the order in which draws come; a plan lists its cut tasks in it.
func (a *draw) before(b *draw) bool {
	if a.start != b.start {
		return a.start < b.start
	}
	if a.load != b.load {
		return a.load < b.load
	}
	return a.serial < b.serial
}

// Before orders tasks that start at the same instant: released work first,
// then by load, then as in their load.
func Before(a, b *Task) bool {
	x, y := newDraw(a, 0, 0), newDraw(b, 0, 0)
	x.start = y.start
	return x.before(&y)
}

// at returns the index of the first draw that does not come before d.
func (l *ledger) at(d *draw) int {
	low, high := 0, l.draws.len()
	for low < high {
		if mid := (low + high) / 2; l.draws.at(mid).before(d) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}

func (l *ledger) add(d draw) {
	i := l.at(&d)
	l.draws.insert(i, d)
	l.known = min(l.known, i)
}

func (l *ledger) remove(t *Task) draw {
	d := newDraw(t, 0, 0)
	i := l.at(&d)
	d = *l.draws.at(i)
	l.draws.remove(i)
	l.known = min(l.known, i)
	return d
}

// lacking reports whether a draw lacks area. It replays all from the first that
// changed.
func (l *ledger) lacking() bool {
	for i := l.open(); i < l.draws.len(); i++ {
		if i%page == 0 {
			l.pages = append(l.pages[:i/page*len(l.rows)], l.left...)
		}
		d := l.draws.at(i)
		if need := l.draw(d); need > spare && d.load != released {
			l.known = i
			return true
		}
	}
	l.known = l.draws.len()
	return false
}

// Supplied reports whether no cut task lacks material. A task that came to need a
// set-up begins sooner, where there may be less.
func (t *Timetable) Supplied() bool {
	for _, l := range t.ledgers {
		if l != nil && l.lacking() {
			return false
		}
	}
	return true
}

// open goes back to the last note of what was left, and returns the draw to go on
// with.
func (l *ledger) open() int {
	if l.known == l.draws.len() {
		return l.known
	}
	first := max(0, l.known-1) / page // the page of the last draw that is known
	if first == 0 {
		l.left = l.left[:0]
		for _, r := range l.rows {
			l.left = append(l.left, r.Area)
		}
		return 0
	}
	l.left = append(l.left[:0], l.pages[first*len(l.rows):(first+1)*len(l.rows)]...)
	return first * page
}

// draw takes a draw's area out of what is left, and returns what it lacks.
func (l *ledger) draw(d *draw) (need float64) {
	need = d.area
	for r := range l.rows {
		if need <= 0 {
			break
		}
		if row := &l.rows[r]; row.From <= Tick(d.start) && row.Expires >= Tick(d.cureStart) {
			n := min(need, l.left[r])
			l.left[r] -= n
			need -= n
		}
	}
	return need
}

// more returns the first instant after t at which more of the prepreg comes.
func (l *ledger) more(t Tick) Tick {
	next := instance.Never
	for _, r := range l.rows {
		if r.From > t && r.Area > 0 {
			next = min(next, r.From)
		}
	}
	return next
}
