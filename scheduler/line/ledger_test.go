package line

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/instance"
)

// A ledger that goes on from its notes finds what one without them finds, after
// any changes and questions.
func TestLedger_GoesOnFromItsNotes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := &ledger{}
		for range rapid.IntRange(1, 3).Draw(t, "rows") {
			l.rows = append(l.rows, instance.Supply{
				Area: float64(rapid.IntRange(0, 120).Draw(t, "supply")),
				From: rapid.IntRange(0, 40).Draw(t, "from"), Expires: rapid.IntRange(20, 80).Draw(t, "expires"),
			})
		}
		var tasks []*Task
		for serial := range rapid.IntRange(0, 150).Draw(t, "steps") {
			switch {
			case len(tasks) > 0 && rapid.IntRange(0, 3).Draw(t, "remove") == 0:
				i := rapid.IntRange(0, len(tasks)-1).Draw(t, "which")
				l.remove(tasks[i])
				tasks = slices.Delete(tasks, i, i+1)
			default:
				task := &Task{Load: &Load{}, Start: rapid.IntRange(0, 50).Draw(t, "start"), serial: serial}
				tasks = append(tasks, task)
				l.add(newDraw(task, float64(rapid.IntRange(0, 3).Draw(t, "area")), task.Start+rapid.IntRange(0, 20).Draw(t, "until cure")))
			}
			if rapid.IntRange(0, 4).Draw(t, "ask") > 0 {
				continue
			}
			fresh := &ledger{rows: l.rows}
			for i := range l.draws.len() {
				fresh.draws.insert(i, *l.draws.at(i))
			}
			if got, want := l.lacking(), fresh.lacking(); got != want {
				t.Fatalf("after %d steps lacking %t, want %t", serial, got, want)
			}
		}
	})
}
