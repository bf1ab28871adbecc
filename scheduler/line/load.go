package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A Tick is an instant or a span in minutes; see instance.Tick.
type Tick = instance.Tick

// A Load is one oven charge: what the search decides of it, what follows from
// that, and, once it is placed, when everything happens. What is decided does
// not change after New; a changed load is another Load.
type Load struct {
	ID       int
	Oven     int
	Profile  int
	Runs     []rack.Run // in the order in which they go through the shop
	Target   Tick       // it does not go in before
	Latest   Tick       // it does not go in after
	Tries    int        // how many oven starts are tried for it
	Patience Tick       // how much earlier a task may start to save a set-up, when there is time
	Eager    bool       // it is worked as early as it can be before the oven, not as late
	Haste    Tick       // the same when there is none; at most Patience
	Strides  bool       // where short steps find no start for it, longer ones pass over minutes
	Cuts     CutOrder   // in which order its prepregs are cut, where all of one are cut at once

	Racks []rack.Rack // those that Pack finds, or others where these are out
	Kg    float64     // with mandrels and racks
	Cure  Tick        // minutes

	In, CureStart, CureEnd, Out Tick
	Tasks                       []Task
	rackFrom, rackTo            Tick
	placed                      bool
	starts                      []TaskStart   // as they stand; nil since one of them moved
	ways                        [][]rack.Rack // to hang it, of which Racks is one; nil as long as none but that was wanted
}

// A CutOrder is an order of a shop's prepregs: from one on, up or down, and round. What
// is laid backwards from the oven start is laid in it, so that the first is cut last.
type CutOrder struct {
	First int
	Down  bool
}

// at returns the i-th of n prepregs.
func (o CutOrder) at(i, n int) int {
	if o.Down {
		i = n - i
	}
	return (o.First + i) % n
}

// A Task is some pieces of one run at one stage. Once it is placed, its End moves
// only where it is put off; its Start moves with its set-up.
type Task struct {
	Load     *Load // nil for released work
	Section  int
	Stage    shop.Stage
	Prepreg  int // None but at cut
	Position int
	Pieces   int
	Setup    bool
	Start    Tick
	End      Tick

	key    int
	work   Tick // working minutes without set-up
	origin Tick // its start with a set-up, as far as its load leaves room for one
	serial int  // its place in its load
	ticket int32
	back   Tick // at tack: when its mandrels are free again
}

// NewLoad returns a load, or ok false where its oven's racks do not take it or
// there are fewer mandrels than it holds at once.
func NewLoad(in *instance.Instance, id, oven, profile int, runs []rack.Run) (l *Load, ok bool) {
	if !enoughMandrels(in, runs) {
		return nil, false
	}
	racks, ok := in.Ovens[oven].Room.Pack(runs)
	if !ok {
		return nil, false
	}
	l = &Load{ID: id, Oven: oven, Profile: profile, Runs: runs, Racks: racks, Latest: instance.Never, Haste: usualHaste, Tries: usualTries}
	l.Kg = in.Hanger.Kg(runs) + rack.Tare(racks)
	l.Cure = in.CureMinutes(oven, profile, l.Kg)
	return l, true
}

// What a new load has unless it is said otherwise: a set-up is worth a short wait
// even when time presses; and as each failure moves an oven start by what was
// missing, most loads need few tries.
const (
	usualHaste = 15
	usualTries = 30
)

// Fits reports whether an oven takes runs as one load.
func Fits(in *instance.Instance, oven int, runs []rack.Run) bool {
	return enoughMandrels(in, runs) && in.Ovens[oven].Room.Fits(runs)
}

// enoughMandrels reports whether the shop has the mandrels that runs hold while
// they are in the oven.
func enoughMandrels(in *instance.Instance, runs []rack.Run) bool {
	for i, r := range runs {
		m, need := in.Sections[r.Section].Mandrel, r.Pieces
		for _, other := range runs[:i] {
			if in.Sections[other.Section].Mandrel == m {
				need += other.Pieces
			}
		}
		if need > in.Mandrels[m].Total {
			return false
		}
	}
	return true
}

// Pieces returns how many pieces of a section a load carries.
func (l *Load) Pieces(section int) int {
	for _, r := range l.Runs {
		if r.Section == section {
			return r.Pieces
		}
	}
	return 0
}

// Placed reports whether a load stands in its timetable.
func (l *Load) Placed() bool { return l.placed }

// LateAtMost returns how much later than meant a load may go in when it or others
// change: what comes to stand later than that is not worth counting. Where cures take
// days, so does the wait for some of them.
func (l *Load) LateAtMost() Tick { return max(leastLate, lateCures*l.Cure) }

const (
	leastLate = 1440
	lateCures = 3
)

// Again returns a copy of what was decided of a load, not placed.
func (l *Load) Again() *Load {
	c := *l
	c.Tasks, c.starts, c.placed, c.Tries = nil, nil, false, usualTries
	return &c
}

// Trims returns the trim tasks of a placed load, which are its last.
func (l *Load) Trims() []Task {
	first := len(l.Tasks)
	for first > 0 && l.Tasks[first-1].Stage == shop.Trim {
		first--
	}
	return l.Tasks[first:]
}
