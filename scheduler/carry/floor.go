package carry

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// A floor is one call of On: the work, and what it needs of the shop.
type floor struct {
	s     *shop.Shop
	w     Work
	now   int64
	diary *diary

	loads  []*load
	tasks  []*task // by index in the work; nil where the load or the section is none
	queues []queue

	taken    map[place]int64      // until when a position has known work
	full     map[*shop.Oven]int64 // until when an oven has known loads
	crews    map[string]*crew
	mandrels map[string]*pool // by type
	racks    map[string]*pool // by type
	cleaning hours
	troubles []Trouble
}

// A load is one oven charge on its way.
type load struct {
	*Load
	index                  int
	oven                   *shop.Oven
	open                   hours // its oven's calendar
	rest                   int64
	tasks                  []*task
	racks                  map[string]int // how many of each type
	in, cure, cureEnd, out int64
	known                  bool  // its times are
	racked                 bool  // it has its racks
	hung                   int64 // from this minute on
	over                   bool
	sought                 int64 // before this minute it cannot go in
}

// A task is some pieces at one stage on their way.
type task struct {
	*Task
	Count
	index      int
	load       *load
	run        *run
	section    *shop.Section
	station    *shop.Station
	hours      hours
	setup      bool
	start, end int64
	known      bool // its times are
	// Before sought there is too few people for it, if it has all else at from.
	from, sought int64
}

func newFloor(s *shop.Shop, w Work) *floor {
	f := &floor{
		s: s, w: w, now: s.Now.Minute, taken: map[place]int64{}, full: map[*shop.Oven]int64{},
		crews: map[string]*crew{}, mandrels: map[string]*pool{}, racks: map[string]*pool{},
	}
	f.diary = newDiary(s, f.earliest())
	f.cleaning = f.diary.calendar(s.Stations.Pull.Calendar, nil)
	for i := range s.Crews {
		f.crews[s.Crews[i].ID] = newCrew(f.diary, &s.Crews[i])
	}
	f.addTools()
	f.addLoads()
	f.addTasks()
	f.moveSetups()
	f.queues = f.makeQueues()
	return f
}

// earliest returns the first minute at which anything of the work is.
func (f *floor) earliest() int64 {
	first := f.now
	for i := range f.w.Tasks {
		first = min(first, f.w.Tasks[i].Planned.Start.Minute)
		if begun := f.w.Tasks[i].Begun; begun != nil {
			first = min(first, begun.Minute)
		}
	}
	for i := range f.w.Loads {
		first = min(first, f.w.Loads[i].Planned.In.Minute)
	}
	return first
}

// addTools fills the pools with what the shop has.
func (f *floor) addTools() {
	for i := range f.s.MandrelTypes {
		f.mandrels[f.s.MandrelTypes[i].ID] = &pool{}
	}
	for _, m := range f.s.Mandrels {
		switch {
		case m.State != shop.Ready:
		case m.ReadyAt != nil:
			f.mandrels[m.Type].add(m.ReadyAt.Minute, 1)
		default:
			f.mandrels[m.Type].add(ever, 1)
		}
	}
	for i := range f.s.Racks {
		r := &f.s.Racks[i]
		f.racks[r.ID] = &pool{}
		f.racks[r.ID].add(ever, r.Count-len(r.BusyUntil))
		for _, until := range r.BusyUntil {
			f.racks[r.ID].add(until.Minute, 1)
		}
	}
}

func (f *floor) addLoads() {
	ovens, rests := map[string]*shop.Oven{}, map[string]int{}
	for i := range f.s.Ovens {
		ovens[f.s.Ovens[i].ID] = &f.s.Ovens[i]
	}
	for _, p := range f.s.Profiles {
		rests[p.ID] = p.RestMinutes
	}
	for i := range f.w.Loads {
		l := &load{Load: &f.w.Loads[i], index: i, racks: map[string]int{}}
		l.oven, l.rest = ovens[l.Planned.Oven], int64(rests[l.Planned.Profile])
		if l.oven == nil {
			continue
		}
		l.open, l.sought = f.diary.calendar(l.oven.Calendar, nil), ever
		for _, use := range l.Planned.Racks {
			if f.racks[use.Rack] != nil {
				l.racks[use.Rack]++
			}
		}
		f.loads = append(f.loads, l)
	}
}

func (f *floor) addTasks() {
	loads, sections := map[string]*load{}, map[string]*shop.Section{}
	for _, l := range f.loads {
		loads[l.Planned.ID] = l
	}
	for i := range f.s.Products {
		for k := range f.s.Products[i].Sections {
			sections[f.s.Products[i].Sections[k].ID] = &f.s.Products[i].Sections[k]
		}
	}
	f.tasks = make([]*task, len(f.w.Tasks))
	hours := map[place]hours{}
	counts := Pieces(f.w)
	for _, r := range runsOf(f.w) {
		l, section := loads[r.load], sections[r.section]
		if l == nil || section == nil {
			continue
		}
		for _, i := range slices.Concat(r.stages[:]...) {
			t := &task{Task: &f.w.Tasks[i], Count: counts[i], index: i, load: l, run: r, section: section, from: ever}
			t.station, t.setup = f.s.Stations.At(t.Planned.Stage), t.Planned.Setup
			at := place{t.Planned.Stage, t.Planned.Position}
			if hours[at] == nil {
				hours[at] = f.diary.position(at.stage, at.position)
			}
			t.hours = hours[at]
			f.tasks[i] = t
			l.tasks = append(l.tasks, t)
		}
	}
}

// A place is one position of one stage.
type place struct {
	stage    shop.Stage
	position int
}

func (t *task) place() place { return place{t.Planned.Stage, t.Planned.Position} }

// empty reports whether nothing is left to do at a task: it has no pieces, and
// has not been begun.
func (t *task) empty() bool { return t.Pieces == 0 && t.Begun == nil && t.Done == nil }

// moveSetups settles anew whether a task needs a set-up where what was to come
// before it on its position has no pieces left.
func (f *floor) moveSetups() {
	for at, tasks := range f.byPlace() {
		var before *string
		if last := f.s.Stations.At(at.stage).LastSetup; at.position >= 1 && at.position <= len(last) {
			before = last[at.position-1]
		}
		gone := false
		for _, t := range tasks {
			key := t.key()
			if t.empty() {
				gone = true
				continue
			}
			if gone && key != "" && t.Begun == nil && t.Done == nil {
				t.setup = before == nil || *before != key
			}
			before, gone = &key, false
		}
	}
}

// byPlace returns the tasks of each position in their planned order.
func (f *floor) byPlace() map[place][]*task {
	out := map[place][]*task{}
	for _, i := range plannedOrder(f.w) {
		if t := f.tasks[i]; t != nil {
			out[t.place()] = append(out[t.place()], t)
		}
	}
	return out
}

// key returns what a task's position is set up for, empty where stages have no
// set-ups (rule R7).
func (t *task) key() string {
	switch t.Planned.Stage {
	case shop.Cut:
		return t.Planned.Prepreg
	case shop.Tack:
		return t.section.Mandrel
	case shop.Wrap:
		return t.section.Tape
	}
	return ""
}

// needs returns the working minutes that a task takes (rule R6).
func (t *task) needs() int64 {
	each := t.section.Minutes.At(t.Planned.Stage)
	if t.Planned.Stage == shop.Cut {
		for _, flag := range t.section.Flags {
			if flag.Prepreg == t.Planned.Prepreg {
				each += flag.CutMinutes
			}
		}
	}
	minutes := float64(t.Pieces) * each
	if t.setup {
		minutes += float64(t.station.SetupMinutes)
	}
	return max(1, int64(math.Ceil(minutes-tolerance)))
}

// tolerance is how much a decimal may lie above a whole number and still be it.
const tolerance = 1e-6

// A queue is what waits for one position, or for one oven, in order.
type queue struct {
	place place
	oven  string
	tasks []*task
	loads []*load
}

// makeQueues returns the queues of all positions and ovens, in a fixed order.
func (f *floor) makeQueues() []queue {
	var out []queue
	for at, tasks := range f.byPlace() {
		tasks = slices.DeleteFunc(tasks, func(t *task) bool { return t.Begun != nil || t.Done != nil || t.empty() })
		if len(tasks) > 0 {
			out = append(out, queue{place: at, tasks: tasks})
		}
	}
	slices.SortFunc(out, func(a, b queue) int {
		return cmp.Or(cmp.Compare(a.place.stage, b.place.stage), cmp.Compare(a.place.position, b.place.position))
	})
	for i := range f.s.Ovens {
		q := queue{oven: f.s.Ovens[i].ID}
		for _, l := range f.loads {
			if l.oven == &f.s.Ovens[i] && l.In == nil && l.Out == nil && !l.hollow() {
				q.loads = append(q.loads, l)
			}
		}
		slices.SortStableFunc(q.loads, func(a, b *load) int { return cmp.Compare(a.Planned.In.Minute, b.Planned.In.Minute) })
		if len(q.loads) > 0 {
			out = append(out, q)
		}
	}
	return out
}
