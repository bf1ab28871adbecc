package check_test

import (
	"math"
	"time"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// This file lays the plan of testdata/mutations/tern, the invented yard by
// which the checker is tested: the loads and their times are chosen by hand,
// and each task goes to the first working minute of the first free position.
// It reads the calendar minute by minute, and knows only this one shop.

// A layer lays tasks at Tern Point.
type layer struct {
	zone  *time.Location
	shop  *shop.Shop
	tasks []shop.Task
	free  map[place]int64  // from when a position has no task
	keys  map[place]string // what is set up on a position
}

type place struct {
	stage    shop.Stage
	position int
}

func newLayer(s *shop.Shop) *layer {
	l := &layer{zone: s.Zone(), shop: s, free: map[place]int64{}, keys: map[place]string{}}
	l.keys[place{shop.Cut, 1}], l.keys[place{shop.Tack, 1}] = "carbon", "m-tip"
	return l
}

// at returns a minute of October 2026, as "23 13:00".
func (l *layer) at(text string) int64 {
	t, err := time.ParseInLocation("2006-01 02 15:04", "2026-10 "+text, l.zone)
	if err != nil {
		panic(err)
	}
	return t.Unix() / 60
}

func (l *layer) instant(minute int64) shop.Instant { return shop.InstantIn(minute, l.zone) }

// open reports whether a position works in a minute: the floor's windows less
// the three downtimes.
func (l *layer) open(p place, minute int64) bool {
	t := time.Unix(minute*60, 0).In(l.zone)
	clock := t.Hour()*60 + t.Minute()
	switch {
	case t.Weekday() == time.Saturday || t.Weekday() == time.Sunday:
		return false
	case p.stage == shop.Roll && minute >= l.at("22 11:00") && minute < l.at("22 11:20"):
		return false
	case p == place{shop.Tack, 2} && minute < l.at("22 09:00"):
		return false
	}
	return clock >= 7*60 && clock < 11*60+30 || clock >= 12*60 && clock < 16*60
}

// lay adds one task, not before a minute, and returns its end.
func (l *layer) lay(t shop.Task, key string, minutes float64, from int64) int64 {
	best := place{t.Stage, 1}
	if t.Stage == shop.Tack && l.start(place{shop.Tack, 2}, from) < l.start(best, from) {
		best.position = 2
	}
	start := l.start(best, from)
	if t.Setup = key != "" && l.keys[best] != key; t.Setup {
		minutes += map[shop.Stage]float64{shop.Cut: 6, shop.Tack: 2, shop.Wrap: 8}[t.Stage]
	}
	end := start
	for left := max(1, math.Ceil(minutes-1e-6)); left > 0; end++ {
		if l.open(best, end) {
			left--
		}
	}
	l.free[best], l.keys[best] = end, key
	t.Position, t.Start, t.End = best.position, l.instant(start), l.instant(end)
	l.tasks = append(l.tasks, t)
	return end
}

// start returns the first minute at which a position can begin a task.
func (l *layer) start(p place, from int64) int64 {
	minute := max(from, l.free[p])
	for !l.open(p, minute) {
		minute++
	}
	return minute
}

// run lays the tasks of a run's pieces at some stages, from a minute on: each
// task's pieces go on together, four at most.
func (l *layer) run(load, section string, pieces int, from int64, stages ...shop.Stage) {
	s := l.section(section)
	for ; pieces > 0; pieces -= 4 {
		task := shop.Task{Load: load, Section: section, Pieces: min(4, pieces)}
		ready := from
		for _, stage := range stages {
			task.Stage = stage
			if stage == shop.Cut {
				ready = l.cut(task, s, from)
				continue
			}
			key := map[shop.Stage]string{shop.Tack: s.Mandrel, shop.Wrap: s.Tape}[stage]
			ready = l.lay(task, key, float64(task.Pieces)*s.Minutes.At(stage), ready)
		}
	}
}

// cut lays one cut task for each prepreg, and returns when the last ends.
func (l *layer) cut(t shop.Task, s *shop.Section, from int64) int64 {
	minutes := map[string]float64{}
	var order []string
	for _, flag := range s.Flags {
		if minutes[flag.Prepreg] == 0 {
			order = append(order, flag.Prepreg)
		}
		minutes[flag.Prepreg] += flag.CutMinutes
	}
	ready := from
	for _, t.Prepreg = range order {
		ready = max(ready, l.lay(t, t.Prepreg, float64(t.Pieces)*minutes[t.Prepreg], from))
	}
	return ready
}

func (l *layer) section(id string) *shop.Section {
	for i := range l.shop.Products {
		for j := range l.shop.Products[i].Sections {
			if s := &l.shop.Products[i].Sections[j]; s.ID == id {
				return s
			}
		}
	}
	panic("no section " + id)
}

// load returns a load by its oven, profile, and its four times.
func (l *layer) load(id, oven, profile string, times [4]string, racks ...shop.RackUse) shop.Load {
	at := func(i int) shop.Instant { return l.instant(l.at(times[i])) }
	return shop.Load{ID: id, Oven: oven, Profile: profile, In: at(0), CureStart: at(1), CureEnd: at(2), Out: at(3), Racks: racks}
}

func rackOf(rack, setup string, levels ...[]shop.Hang) shop.RackUse {
	return shop.RackUse{Rack: rack, Setup: setup, Levels: levels}
}

func hang(section string, pieces int) []shop.Hang {
	return []shop.Hang{{Section: section, Pieces: pieces}}
}

var (
	before = []shop.Stage{shop.Cut, shop.Tack, shop.Roll, shop.Wrap}
	after  = []shop.Stage{shop.Pull, shop.Strip, shop.Trim}
)

// layReleased lays the released work: R-1 waits in the oven at now, R-2 is cut
// in part.
func (l *layer) layReleased() *shop.Released {
	r := &shop.Released{Loads: []shop.Load{
		// 28 + 10 + 20 + 65 + 40 minutes of fast, 0.08 * (20 + 4 * 0.68) of lag.
		l.load("R-1", "big", "fast", [4]string{"21 16:00", "21 16:10", "21 18:55", "22 07:00"}, rackOf("long", "one", hang("one", 4))),
		// 66.667 + 100 + 35 minutes of slow, 0.08 * (20 + 4 * 0.23) of lag.
		l.load("R-2", "big", "slow", [4]string{"22 10:00", "22 10:10", "22 13:34", "22 13:44"}, rackOf("long", "two", hang("tip", 4))),
	}}
	l.run("R-1", "one", 4, l.at("21 08:00"), before...)
	l.run("R-2", "tip", 4, l.at("21 15:54"), before...)
	l.run("R-1", "one", 4, l.at("22 07:20"), shop.Pull)
	l.run("R-1", "one", 3, l.at("22 07:30"), shop.Strip, shop.Trim) // one was scrapped
	l.run("R-2", "tip", 4, l.at("22 14:00"), after...)
	r.Tasks = l.tasks
	return r
}

// tern lays the plan for the shop of testdata/mutations/tern, and gives that
// shop its released work, which is laid the same way.
func tern(s *shop.Shop) *plan.Plan {
	l := newLayer(s)
	s.Released = l.layReleased()
	p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now}
	p.Loads = append(p.Loads, s.Released.Loads...)
	for _, w := range []struct {
		load        shop.Load
		begin, rest string // when its work may begin before and after the oven
	}{
		// fast as above, 0.08 * (20 + 5 * 0.68) of lag; over night.
		{l.load("L-1", "big", "fast", [4]string{"22 16:40", "22 16:50", "22 19:35", "23 06:40"}, rackOf("long", "one", hang("one", 5))), "22 13:00", "23 07:00"},
		// fast without lag, in the attended oven.
		{l.load("L-2", "small", "fast", [4]string{"23 10:00", "23 10:05", "23 12:48", "23 12:53"}, rackOf("short", "one", hang("one", 3))), "23 07:30", "23 13:13"},
		// slow as above, 0.08 * (20 + 6 * 0.23 + 6 * 0.46) of lag; butts take two pegs.
		{l.load("L-3", "big", "slow", [4]string{"23 13:00", "23 13:10", "23 16:34", "23 16:50"}, rackOf("long", "two", hang("tip", 6), hang("butt", 6))), "23 09:30", "26 07:00"},
		// fast, 0.08 * (40 + 4 * 0.46 + 3 * 0.68) of lag; after the clocks go back.
		{l.load("L-4", "big", "fast", [4]string{"26 11:00", "26 11:10", "26 13:57", "26 14:10"}, rackOf("long", "one", hang("one", 3)), rackOf("long", "two", nil, hang("butt", 4))), "26 07:30", "26 14:30"},
	} {
		l.hung(w.load, l.at(w.begin), before)
		l.hung(w.load, l.at(w.rest), after)
		p.Loads = append(p.Loads, w.load)
	}
	p.Tasks = l.tasks
	p.Allocations = l.allocations()
	// late: D1 3 * 6 * 2 days (ORD-1 ships on the 29th, the 28th is closed), D4
	// 6 * 2 * 6 * 1, D6 6 * 18 and D7 2 * 6 * 14 (D6 is not allocated, so ORD-3
	// counts as not); hold: D2 and D3 2 * 0.5 * 1 each; oven: three times 14 and
	// 8.5 * 165, 204, 204 and 167 / 60, 9 + 6 * 163 / 60; setup: 94 minutes.
	p.Cost = plan.Cost{Late: 384, Hold: 2, Oven: 223.508333, Setup: 51.7, Total: 661.208333}
	p.Bound = plan.Bound{Total: 100, Gap: 0.848762}
	return p
}

// allocations gives each set to a line as it becomes good. One-piece blanks
// come with the trims of R-1, L-1, L-2 and L-4, three, four, one, three and
// three, the last of which no line needs. Of two-piece blanks one is in stock
// and one follows with the incoming butt; L-3's first butts make three more,
// its last two, and D6 is left out.
func (l *layer) allocations() []plan.Allocation {
	var list []plan.Allocation
	for _, a := range []struct {
		line string
		sets int
		done string
	}{
		{"D1", 1, "22 06:00"},
		{"D4", 3, "22 07:34"},
		{"D1", 1, "22 10:00"},
		{"D4", 4, "23 07:06"},
		{"D2", 1, "23 07:07"},
		{"D2", 1, "23 13:19"},
		{"D4", 2, "23 13:19"},
		{"D1", 1, "26 07:10"},
		{"D3", 2, "26 07:10"},
		{"D5", 2, "26 07:11"},
		{"D7", 2, "26 14:36"},
	} {
		list = append(list, plan.Allocation{Line: a.line, Sets: a.sets, DoneAt: l.instant(l.at(a.done))})
	}
	return list
}

// hung lays the tasks of all that hangs in a load.
func (l *layer) hung(load shop.Load, from int64, stages []shop.Stage) {
	for _, rack := range load.Racks {
		for _, level := range rack.Levels {
			for _, h := range level {
				l.run(load.ID, h.Section, h.Pieces, from, stages...)
			}
		}
	}
}
