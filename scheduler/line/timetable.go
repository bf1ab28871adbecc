package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A Timetable is all that happens in a shop: its released work and the loads
// placed so far.
type Timetable struct {
	in        *instance.Instance
	positions [shop.StageCount][]*position
	crews     []*crew
	racks     []*pool
	mandrels  []*pool
	ovens     []*ovenLine
	ledgers   []*ledger // nil for a prepreg without limit
	setups    [shop.StageCount]int
	minutes   [shop.StageCount]Tick // of work and set-ups
	fixed     []Task
	trail     []change
	desk      *desk
	laid      int      // tasks, ever
	buffers   [][]Task // of loads that were thought better of
	// What a load needs while it is being placed, kept for the next.
	look    outlook
	attempt attempt
}

// New returns the timetable of a shop's released work alone.
func New(in *instance.Instance) *Timetable {
	t := &Timetable{in: in, desk: &desk{}}
	t.openPositions()
	for i := range in.Crews {
		t.crews = append(t.crews, newCrew(&in.Crews[i], in.Horizon))
	}
	for i := range in.Racks {
		t.racks = append(t.racks, newPool(&in.Racks[i]))
	}
	for i := range in.Mandrels {
		t.mandrels = append(t.mandrels, newPool(&in.Mandrels[i]))
	}
	for i := range in.Prepregs {
		var l *ledger
		if in.Prepregs[i].Limited {
			l = &ledger{rows: in.Prepregs[i].Rows}
		}
		t.ledgers = append(t.ledgers, l)
	}
	t.keepReleased()
	for i := range in.Ovens {
		t.ovens = append(t.ovens, newOvenLine(&in.Ovens[i], t.crews))
	}
	return t
}

func (t *Timetable) openPositions() {
	for st := range t.in.Stations {
		station := &t.in.Stations[st]
		for n, calendar := range station.Positions {
			t.positions[st] = append(t.positions[st],
				&position{stage: shop.Stage(st), number: n, calendar: calendar, last: station.Last[n], desk: t.desk})
		}
	}
}

// Instance returns the instance that the timetable is of.
func (t *Timetable) Instance() *instance.Instance { return t.in }

// Setups returns how many set-ups the placed loads need at each stage, without
// the released work's.
func (t *Timetable) Setups() [shop.StageCount]int { return t.setups }

// Minutes returns the working minutes of the placed loads at each stage,
// set-ups included.
func (t *Timetable) Minutes() [shop.StageCount]Tick { return t.minutes }

// Laid returns how many tasks have been laid so far, those taken back included: a
// measure of the time that placing took.
func (t *Timetable) Laid() int { return t.laid }

// SetupCost returns what the set-ups of the placed loads cost.
func (t *Timetable) SetupCost() (sum instance.Money) {
	for st, n := range t.setups {
		sum += instance.Money(n) * t.in.Stations[st].SetupPrice
	}
	return sum
}

// crewOf returns the crew and people of a stage's tasks, nil where it needs
// none.
func (t *Timetable) crewOf(stage shop.Stage) (*crew, int) {
	s := &t.in.Stations[stage]
	if s.Crew == instance.None {
		return nil, 0
	}
	return t.crews[s.Crew], s.People
}

// FreeMandrels returns how many mandrels of a type are free all the time
// between two instants.
func (t *Timetable) FreeMandrels(mandrel int, from, to Tick) int {
	return t.mandrels[mandrel].least(from, to)
}

// Slot returns when an oven can first take a load of so many cure minutes, from
// ready on, as its time stands; ok is false where it cannot before the horizon.
func (t *Timetable) Slot(oven int, ready, cure Tick) (in, out Tick, ok bool) {
	return t.ovens[oven].slot(ready, cure, t.in.Horizon)
}

// Discard takes back the memory of a load that is not placed and that nobody
// will look at again.
func (t *Timetable) Discard(l *Load) {
	if cap(l.Tasks) > 0 {
		t.buffers = append(t.buffers, l.Tasks[:0])
		l.Tasks = nil
	}
}

// tasksFor returns room for n tasks, out of what was discarded where possible.
func (t *Timetable) tasksFor(n int) []Task {
	for i := len(t.buffers) - 1; i >= max(0, len(t.buffers)-4); i-- {
		if b := t.buffers[i]; cap(b) >= n {
			t.buffers = append(t.buffers[:i], t.buffers[i+1:]...)
			return b
		}
	}
	return make([]Task, 0, n)
}
