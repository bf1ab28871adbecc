package line_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shoptest"
)

// A view is all that can be seen of a placed load.
type view struct {
	ID    int
	Oven  [4]line.Tick
	Tasks []taskView
}

type taskView struct {
	Section, Stage, Prepreg, Position, Pieces int
	Setup                                     bool
	Start, End                                line.Tick
}

func viewOf(l *line.Load) view {
	v := view{ID: l.ID, Oven: [4]line.Tick{l.In, l.CureStart, l.CureEnd, l.Out}}
	for _, t := range l.Tasks {
		v.Tasks = append(v.Tasks, taskView{t.Section, int(t.Stage), t.Prepreg, t.Position, t.Pieces, t.Setup, t.Start, t.End})
	}
	return v
}

// A floor is a timetable of a random shop and the loads that stand in it.
type floor struct {
	in    *instance.Instance
	table *line.Timetable
	loads []*line.Load
	next  int
}

// drawFloor draws a shop, some of which have released work.
func drawFloor(t *rapid.T) *floor {
	s := shoptest.Make(rapid.Uint64Range(1, 400).Draw(t, "shop"), shoptest.Size{Products: 4, Pieces: 30, Days: 8})
	in := instance.New(s)
	return &floor{in: in, table: line.New(in)}
}

// draw draws a load that its oven takes, nil where it draws another.
func (f *floor) draw(t *rapid.T) *line.Load {
	section := rapid.IntRange(0, len(f.in.Sections)-1).Draw(t, "section")
	ways := f.in.Ways(section)
	if len(ways) == 0 {
		return nil
	}
	way := rapid.SampledFrom(ways).Draw(t, "way")
	runs := []rack.Run{run(section, rapid.IntRange(1, 6).Draw(t, "pieces"))}
	if other := rapid.IntRange(0, len(f.in.Sections)-1).Draw(t, "other section"); other != section && f.in.Sections[other].Profiles[way.Profile] {
		runs = append(runs, run(other, rapid.IntRange(1, 6).Draw(t, "other pieces")))
	}
	f.next++
	l, ok := line.NewLoad(f.in, f.next, way.Oven, way.Profile, runs)
	if !ok {
		return nil
	}
	l.Target = rapid.IntRange(0, f.in.Horizon).Draw(t, "target")
	l.Patience = rapid.SampledFrom([]line.Tick{0, 60, 480}).Draw(t, "patience")
	l.Eager = rapid.Bool().Draw(t, "eager")
	return l
}

// place places a drawn load, where it finds a place.
func (f *floor) place(t *rapid.T) {
	if l := f.draw(t); l != nil && f.table.Place(l) {
		f.loads = append(f.loads, l)
	}
}

// remove takes a load out, and those that it upsets.
func (f *floor) remove(t *rapid.T) {
	if len(f.loads) == 0 {
		return
	}
	f.table.Remove(rapid.SampledFrom(f.loads).Draw(t, "removed"))
	var left []*line.Load
	for _, l := range f.loads {
		if l.Placed() {
			left = append(left, l)
		}
	}
	f.loads = left
}

// putOff lets a trim task wait, where it finds a place later.
func (f *floor) putOff(t *rapid.T) {
	if task, until := f.drawWait(t); task != nil {
		f.table.PutOff(task, until)
	}
}

// drawWait draws a trim task and an instant after it, nil where there is none.
func (f *floor) drawWait(t *rapid.T) (task *line.Task, until line.Tick) {
	if len(f.loads) == 0 {
		return nil, 0
	}
	trims := f.loads[rapid.IntRange(0, len(f.loads)-1).Draw(t, "load to wait")].Trims()
	task = &trims[rapid.IntRange(0, len(trims)-1).Draw(t, "trim to wait")]
	return task, task.End + rapid.IntRange(1, 4*1440).Draw(t, "wait")
}

// A record is what a floor looks like, and where probes find their places in it.
type record struct {
	Loads  []view
	Setups [7]int
	Cost   instance.Money
	Probes []view
}

func (f *floor) record(probes []*line.Load) record {
	r := record{Setups: f.table.Setups(), Cost: f.table.SetupCost()}
	for _, l := range f.loads {
		r.Loads = append(r.Loads, viewOf(l))
	}
	mark := f.table.Mark()
	for _, probe := range probes {
		if probe = probe.Again(); f.table.Place(probe) {
			r.Probes = append(r.Probes, viewOf(probe))
		}
	}
	f.table.Undo(mark)
	return r
}

// probes draws loads that show what is free.
func (f *floor) probes(t *rapid.T) (list []*line.Load) {
	for range 3 {
		if l := f.draw(t); l != nil {
			list = append(list, l)
		}
	}
	return list
}

// Undo takes back whatever was placed, put off and removed since its mark: tasks,
// set-ups and what is free for others are as they were.
func TestUndo_LeavesNoTrace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFloor(t)
		for range 4 {
			f.place(t)
		}
		probes := f.probes(t)
		before, loads, mark := f.record(probes), f.loads, f.table.Mark()
		for range rapid.IntRange(1, 5).Draw(t, "changes") {
			rapid.SampledFrom([]func(*rapid.T){f.remove, f.place, f.putOff}).Draw(t, "change")(t)
		}
		f.table.Undo(mark)
		f.loads = loads
		for _, l := range loads {
			if !l.Placed() {
				t.Fatalf("load %d is not back", l.ID)
			}
		}
		if diff := cmp.Diff(before, f.record(probes)); diff != "" {
			t.Errorf("undone, the floor differs:\n%s", diff)
		}
	})
}

// A floor from which all loads were removed is as good as new.
func TestRemove_LeavesNoTrace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFloor(t)
		probes := f.probes(t)
		fresh := f.record(probes)
		for range 4 {
			f.place(t)
		}
		for len(f.loads) > 0 {
			f.remove(t)
		}
		f.table.Keep()
		if diff := cmp.Diff(fresh, f.record(probes)); diff != "" {
			t.Errorf("emptied, the floor differs:\n%s", diff)
		}
	})
}

// A load that finds no place leaves no trace of the search for it, and the same
// load finds the same place in the same floor.
func TestPlace_SameFloorSamePlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFloor(t)
		for range 3 {
			f.place(t)
		}
		probes := f.probes(t)
		before := f.record(probes)
		if l := f.draw(t); l != nil {
			l.Latest = l.Target - 1 // no place will do
			if f.table.Place(l) {
				t.Fatalf("load %d went in at %d, later than it may", l.ID, l.In)
			}
		}
		if diff := cmp.Diff(before, f.record(probes)); diff != "" {
			t.Errorf("after a load that found no place, the floor differs:\n%s", diff)
		}
	})
}

// Loads put back as they stood are as they were, in a timetable of their own too.
func TestPutBack_AsTheyStood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFloor(t)
		for range 4 {
			f.place(t)
		}
		probes := f.probes(t)
		before := f.record(probes)
		var starts [][]line.TaskStart
		twins := &floor{in: f.in, table: line.New(f.in)}
		for _, l := range f.loads {
			starts = append(starts, l.Starts())
			twins.loads = append(twins.loads, l.Twin())
		}
		twins.table.PutBack(twins.loads, starts)
		if diff := cmp.Diff(before, twins.record(probes)); diff != "" {
			t.Errorf("in a timetable of their own the loads differ:\n%s", diff)
		}
		f.table.Clear(f.loads)
		f.table.PutBack(f.loads, starts)
		if diff := cmp.Diff(before, f.record(probes)); diff != "" {
			t.Errorf("put back, the loads differ:\n%s", diff)
		}
	})
}
