package answer

import "blankwright/scheduler/line"

// A Snapshot is an answer at one time, to go back to. It is cheap to take.
type Snapshot struct {
	loads  []*line.Load
	starts [][]line.TaskStart
}

// Snapshot takes down the loads and where their tasks stand.
func (a *Answer) Snapshot() Snapshot {
	s := Snapshot{loads: append([]*line.Load(nil), a.Loads...)}
	for _, l := range s.loads {
		s.starts = append(s.starts, l.Starts())
	}
	return s
}

// Restore goes back to a snapshot of this answer.
func (a *Answer) Restore(s Snapshot) {
	for _, l := range a.Loads {
		a.book.Drop(l)
		a.count(l, -1)
	}
	a.Table.Clear(a.Loads)
	a.Table.PutBack(s.loads, s.starts)
	a.Loads = append([]*line.Load(nil), s.loads...)
	for _, l := range a.Loads {
		a.book.Add(l)
		a.count(l, 1)
	}
	a.Keep()
}
