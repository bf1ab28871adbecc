package instance_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// release adds a released load to a bare shop, in its oven from now to minute
// 200, with the given tasks.
func release(s *shop.Shop, tasks ...shop.Task) {
	s.Released = &shop.Released{Tasks: tasks, Loads: []shop.Load{{
		ID: "R1", Oven: "oven", Profile: "cure", In: tick(s, 0), CureStart: tick(s, 10), CureEnd: tick(s, 190), Out: tick(s, 200),
		Racks: []shop.RackUse{{Rack: "rack", Setup: "one level", Levels: [][]shop.Hang{{{Section: "S", Pieces: 9}}}}},
	}}}
}

// task returns a task of the released load, from a minute to another.
func task(s *shop.Shop, stage shop.Stage, from, to int64) shop.Task {
	return shop.Task{Load: "R1", Section: "S", Stage: stage, Position: 1, Pieces: 3, Start: tick(s, from), End: tick(s, to)}
}

// trimTask returns a released trim task of some pieces that ends at a minute.
func trimTask(s *shop.Shop, pieces int, end int64) shop.Task {
	t := task(s, shop.Trim, end-5, end)
	t.Pieces = pieces
	return t
}

// Released loads block their oven and take their racks from the first wrap task
// to the last pull task, and without such tasks while they are in the oven.
func TestNew_ReleasedLoadTakesOvenAndRacks(t *testing.T) {
	cases := []struct {
		name        string
		tasks       func(*shop.Shop) []shop.Task
		start, till instance.Tick
	}{
		{"no tasks", func(*shop.Shop) []shop.Task { return nil }, 0, 200},
		{"wrapped before", func(s *shop.Shop) []shop.Task {
			return []shop.Task{task(s, shop.Wrap, -40, -10), task(s, shop.Wrap, -90, -60), task(s, shop.Roll, -200, -100)}
		}, -90, 200},
		{"pulled after", func(s *shop.Shop) []shop.Task {
			return []shop.Task{task(s, shop.Pull, 260, 300), task(s, shop.Pull, 220, 250), task(s, shop.Trim, 400, 500)}
		}, 0, 300},
		{"wrapped later than in", func(s *shop.Shop) []shop.Task { return []shop.Task{task(s, shop.Wrap, 5, 10)} }, 5, 200},
		{"pulled before out", func(s *shop.Shop) []shop.Task { return []shop.Task{task(s, shop.Pull, 100, 150)} }, 0, 150},
	}
	for _, c := range cases {
		in := compile(func(s *shop.Shop) { release(s, c.tasks(s)...) })
		load := in.Released.Loads[0]
		if load.Start != c.start || load.Until != c.till || !cmp.Equal(load.Racks, []int{0}) {
			t.Errorf("%s: racks %v from %d to %d, want %d to %d", c.name, load.Racks, load.Start, load.Until, c.start, c.till)
		}
		if want := []instance.Span{{From: 0, To: 200}}; !cmp.Equal(in.Ovens[0].Blocked, want) {
			t.Errorf("%s: the oven is blocked %v, want %v", c.name, in.Ovens[0].Blocked, want)
		}
	}
}

// Released tasks are kept in the file's order, on indices.
func TestNew_ReleasedTasks(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		cut, pull := task(s, shop.Cut, -30, -20), task(s, shop.Pull, 210, 240)
		cut.Prepreg, cut.Setup, pull.Position = "prepreg", true, 2
		release(s, pull, cut)
	})
	want := []instance.FixedTask{
		{Position: 1, Pieces: 3, Stage: shop.Pull, Prepreg: instance.None, Start: 210, End: 240},
		{Position: 0, Pieces: 3, Stage: shop.Cut, Prepreg: 0, Setup: true, Start: -30, End: -20},
	}
	if got := in.Released.Tasks; !cmp.Equal(got, want) {
		t.Errorf("tasks %+v, want %+v", got, want)
	}
}

// Of released trim tasks, those that end after now add pieces, in order of time.
func TestNew_ReleasedTrims(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		release(s, trimTask(s, 4, 300), trimTask(s, 2, 0), trimTask(s, 3, 250), trimTask(s, 5, 1), task(s, shop.Strip, 220, 230))
	})
	want := []instance.Good{{At: 1, Pieces: 5}, {At: 250, Pieces: 3}, {At: 300, Pieces: 4}}
	if got := in.Sections[0].Trimmed; !cmp.Equal(got, want) {
		t.Errorf("trimmed %v, want %v", got, want)
	}
}

// What is incoming comes in order of time, the past's at now.
func TestNew_Incoming(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Incoming = []shop.Incoming{{Section: "S", Pieces: 2, At: tick(s, 50)}, {Section: "S", Pieces: 1, At: tick(s, -70)}, {Section: "S", Pieces: 4, At: tick(s, 20)}}
	})
	want := []instance.Good{{At: 0, Pieces: 1}, {At: 20, Pieces: 4}, {At: 50, Pieces: 2}}
	if got := in.Sections[0].Incoming; !cmp.Equal(got, want) {
		t.Errorf("incoming %v, want %v", got, want)
	}
}

// Released work costs its cures, from cure_start to cure_end, and the set-ups
// that it states.
func TestReleasedCost(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Ovens[0].RunCost, s.Ovens[0].HourCost, s.Policy.LabourCost = 5, 8, 0.5
		s.Stations.Cut.SetupMinutes, s.Stations.Wrap.SetupMinutes = 6, 9
		cut, wrap, other := task(s, shop.Cut, -30, -20), task(s, shop.Wrap, -10, -1), task(s, shop.Wrap, -20, -10)
		cut.Prepreg, cut.Setup, wrap.Setup = "prepreg", true, true
		release(s, cut, wrap, other)
	})
	got := in.ReleasedCost()
	// 5 + 8 × 180/60 = 29, and (6 + 9) × 0.5 = 7.5
	if !near(in.Price(got.Oven), 29) || !near(in.Price(got.Setup), 7.5) {
		t.Errorf("ovens cost %g and set-ups %g, want 29 and 7.5", in.Price(got.Oven), in.Price(got.Setup))
	}
}

// A mandrel type's turns are the pieces to start over the mandrels there are.
func TestNew_MandrelTurns(t *testing.T) {
	in := compile(func(s *shop.Shop) {
		s.Mandrels = s.Mandrels[:4]
		s.Products[0].Sections[0].Yield = 0.9
		shoptest.AddLine(s, "P", 9, 5, 1) // 10 pieces
	})
	if got := in.Mandrels[0].Turns; got != 3 {
		t.Errorf("the mandrels go round %d times, want 3", got)
	}
}
