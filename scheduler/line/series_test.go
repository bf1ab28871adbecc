package line

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A series holds what a plain list holds after the same changes, wherever its
// hole is.
func TestSeries_LikeAList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s series[int]
		var list []int
		for step := range rapid.IntRange(0, 80).Draw(t, "steps") {
			if i := rapid.IntRange(0, len(list)).Draw(t, "at"); i < len(list) && rapid.Bool().Draw(t, "remove") {
				s.remove(i)
				list = slices.Delete(list, i, i+1)
			} else {
				s.insert(i, step)
				list = slices.Insert(list, i, step)
			}
			if s.len() != len(list) {
				t.Fatalf("%d are there, want %d", s.len(), len(list))
			}
			for i, want := range list {
				if got := *s.at(i); got != want {
					t.Fatalf("the %d-th is %d, want %v", i, got, list)
				}
			}
		}
	})
}

// Slots are found by their start and by their end from wherever the last change
// was.
func TestPosition_Finds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &position{desk: &desk{}}
		at := 0
		var tasks []*Task
		for range rapid.IntRange(0, 60).Draw(t, "tasks") {
			at += rapid.IntRange(0, 2).Draw(t, "idle")
			task := &Task{Start: at, End: at + rapid.IntRange(1, 3).Draw(t, "long")}
			at = task.End
			tasks = append(tasks, task)
			p.insert(task)
		}
		if len(tasks) > 0 { // the hole goes elsewhere
			again := rapid.SampledFrom(tasks).Draw(t, "again")
			p.remove(again)
			p.insert(again)
		}
		for now := range at + 2 {
			after := slices.IndexFunc(tasks, func(x *Task) bool { return x.Start >= now })
			ends := slices.IndexFunc(tasks, func(x *Task) bool { return x.End > now })
			if got := p.after(now); got != after && (after >= 0 || got != len(tasks)) {
				t.Fatalf("first to start at or after %d: %d, want %d", now, got, after)
			}
			if got := p.endsAfter(now); got != ends && (ends >= 0 || got != len(tasks)) {
				t.Fatalf("first to end after %d: %d, want %d", now, got, ends)
			}
		}
		for i, task := range tasks {
			if got := p.index(task); got != i {
				t.Fatalf("task %d stands at %d", i, got)
			}
		}
	})
}
