package answer

import "blankwright/scheduler/line"

// Copy returns an answer like a that shares nothing with it that changes.
func (a *Answer) Copy() *Answer { return a.CopyOf(a.Snapshot()) }

// CopyOf returns an answer like a was at a snapshot.
func (a *Answer) CopyOf(s Snapshot) *Answer {
	c := New(a.In)
	c.nextID = a.nextID
	own := Snapshot{starts: s.starts}
	for _, l := range s.loads {
		own.loads = append(own.loads, l.Twin())
	}
	c.Table.PutBack(own.loads, own.starts)
	c.Loads = append([]*line.Load(nil), own.loads...)
	for _, l := range c.Loads {
		c.book.Add(l)
		c.count(l, 1)
	}
	c.Keep()
	return c
}
