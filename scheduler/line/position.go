package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A position is one workplace: its open time and its tasks in order.
type position struct {
	stage    shop.Stage
	number   int
	calendar *instance.Calendar
	last     int // the key before its first task
	slots    series[slot]
	desk     *desk
}

// A slot is where a task stands on its position. It holds no pointer, so that
// making room for another costs a plain move of memory.
type slot struct {
	from, to int32 // Ticks; a century of them fits
	key      int32
	ticket   int32 // of its task at the desk
	setup    bool
	released bool
}

func (s *slot) start() Tick { return Tick(s.from) }

func (s *slot) end() Tick { return Tick(s.to) }

// A desk knows the task of each slot by its ticket.
type desk struct {
	tasks []*Task
	spare []int32
}

// hand gives a task its ticket.
func (d *desk) hand(t *Task) {
	if n := len(d.spare); n > 0 {
		t.ticket = d.spare[n-1]
		d.spare = d.spare[:n-1]
		d.tasks[t.ticket] = t
		return
	}
	t.ticket = int32(len(d.tasks))
	d.tasks = append(d.tasks, t)
}

// back takes a ticket back.
func (d *desk) back(t *Task) {
	d.tasks[t.ticket] = nil
	d.spare = append(d.spare, t.ticket)
}

// task returns the task of the i-th slot.
func (p *position) task(i int) *Task { return p.desk.tasks[p.slots.at(i).ticket] }

// after returns the index of the first slot that starts at or after t. It looks
// near the last change first, in ever longer steps.
func (p *position) after(t Tick) int {
	low, high := 0, p.slots.len()
	at := min(p.slots.hole, high-1)
	for step := nearby; low < high; step *= 2 {
		if p.slots.at(at).start() < t {
			low = at + 1
			at += step
		} else {
			high = at
			at -= step
		}
		if at < low || at >= high {
			break
		}
	}
	for low < high {
		if mid := (low + high) / 2; p.slots.at(mid).start() < t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}

// nearby is about how many slots away from the last change the next mostly is.
const nearby = 8

// endsAfter returns the index of the first slot that ends after t.
func (p *position) endsAfter(t Tick) int {
	i := p.after(t)
	for i > 0 && p.slots.at(i-1).end() > t {
		i--
	}
	return i
}

// index returns where a task stands. Mostly it is the last that came, or next to
// the last that went.
func (p *position) index(task *Task) int {
	if i := p.slots.hole - 1; i >= 0 && p.slots.at(i).ticket == task.ticket {
		return i
	}
	if i := p.slots.hole; i < p.slots.len() && p.slots.at(i).ticket == task.ticket {
		return i
	}
	i := p.after(task.Start)
	for p.slots.at(i).ticket != task.ticket {
		i++
	}
	return i
}

func (p *position) insert(task *Task) {
	p.desk.hand(task)
	p.slots.insert(p.after(task.Start+1),
		slot{int32(task.Start), int32(task.End), int32(task.key), task.ticket, task.Setup, task.Load == nil})
}

func (p *position) remove(task *Task) {
	p.slots.remove(p.index(task))
	p.desk.back(task)
}

// keyBefore returns the key that stands set up before the i-th slot.
func (p *position) keyBefore(i int) int {
	if i == 0 {
		return p.last
	}
	return int(p.slots.at(i - 1).key)
}

// freeFrom returns when the position is free for a task before the i-th slot.
func (p *position) freeFrom(i int) Tick {
	if i == 0 {
		return 0
	}
	return max(0, p.slots.at(i-1).end())
}

// A gap is room on a position for one task, with what its set-up means for
// itself and for the task behind it.
type gap struct {
	position   *position
	index      int // before which task
	start, end Tick
	origin     Tick // its start if it needs, or came to need, a set-up
	setup      bool
	behind     effect // on the task behind it
	extra      int    // set-ups that it adds in all
}

// An effect is what a task in a gap means for the set-up of the one behind.
type effect int8

const (
	unchanged effect = iota
	relieved         // it loses its set-up
	burdened         // it comes to need one
)

// latestEnd bounds from above where a task in the gap before the i-th can end.
func (p *position) latestEnd(i int, due Tick) Tick {
	if i < p.slots.len() {
		return min(due, p.slots.at(i).end())
	}
	return due
}

// A want is what a task asks of a gap.
type want struct {
	key    int
	work   Tick
	setup  Tick // minutes of one set-up of the station
	crew   *crew
	people int
}

// latest finds the latest start in the gap before the i-th task that ends by
// limit and adds fewer than below set-ups. The gap is refused where the task
// behind would need a set-up for which it has no room.
func (p *position) latest(w *want, i int, limit Tick, below int) (g gap, ok bool) {
	if limit-p.freeFrom(i) < w.work || i < p.slots.len() && p.tight(w, i) {
		return g, false
	}
	if g = p.gap(w, i); g.extra >= below {
		return g, false
	}
	if i < p.slots.len() {
		room, ok := p.roomBefore(w, &g)
		if !ok {
			return g, false
		}
		limit = min(limit, room)
	}
	return p.fitBack(g, w, limit)
}

// gap returns the gap before the i-th task with the set-ups that a task in it
// means, for itself and for the task behind.
func (p *position) gap(w *want, i int) gap {
	g := gap{position: p, index: i}
	if w.key == instance.None {
		return g
	}
	if w.key != p.keyBefore(i) {
		g.setup, g.extra = true, 1
	}
	if i == p.slots.len() || p.slots.at(i).released {
		return g
	}
	behind := p.slots.at(i)
	switch same := int(behind.key) == w.key; {
	case behind.setup && same:
		g.behind, g.extra = relieved, g.extra-1
	case !behind.setup && !same:
		g.behind, g.extra = burdened, g.extra+1
	}
	return g
}

// tight reports at a glance that the gap before the i-th slot is too small.
func (p *position) tight(w *want, i int) bool {
	behind := p.slots.at(i)
	room := behind.start()
	if behind.setup && int(behind.key) == w.key {
		room = behind.end()
	}
	return room-p.freeFrom(i) < w.work
}

// roomBefore returns where the task behind a gap will start.
func (p *position) roomBefore(w *want, g *gap) (Tick, bool) {
	switch g.behind {
	case relieved:
		task := p.task(g.index)
		return p.startOf(task, task.work), true
	case burdened:
		return p.roomFor(w, p.task(g.index))
	}
	return p.slots.at(g.index).start(), true
}

// roomFor returns where a task would start with a set-up that it does not have;
// ok is false where there is no room for it.
func (p *position) roomFor(w *want, task *Task) (start Tick, ok bool) {
	start = p.startOf(task, task.work+w.setup)
	if start < task.origin {
		return 0, false
	}
	if w.crew != nil {
		if _, short := p.lacking(w.crew, start, task.Start, w.people); short {
			return 0, false
		}
	}
	return start, true
}

// startOf returns where a task would start if it needed so many minutes.
func (p *position) startOf(t *Task, minutes Tick) Tick {
	start, _, ok := p.calendar.Back(t.End, max(1, minutes))
	if !ok {
		return -1
	}
	return start
}

// fitBack moves the end back until the working minutes fit the gap and its
// crew.
func (p *position) fitBack(g gap, w *want, limit Tick) (gap, bool) {
	free := p.freeFrom(g.index)
	minutes := max(1, w.work)
	if g.setup {
		minutes = max(1, w.work+w.setup)
	}
	for {
		start, end, ok := p.calendar.Back(limit, minutes)
		if !ok || start < free {
			return g, false
		}
		if w.crew != nil {
			if at, short := p.lackingLast(w.crew, start, end, w.people); short {
				limit = at
				continue
			}
		}
		g.start, g.end, g.origin = start, end, start
		if w.key != instance.None && !g.setup {
			if g.origin, _, ok = p.calendar.Back(end, max(1, w.work+w.setup)); !ok {
				return g, false
			}
		}
		return g, true
	}
}

// lacking returns the first working minute between start and end in which a
// crew has fewer than n people free.
func (p *position) lacking(c *crew, start, end Tick, n int) (Tick, bool) {
	for i := p.calendar.At(start); i < len(p.calendar.Spans) && p.calendar.Spans[i].From < end; i++ {
		s := p.calendar.Spans[i]
		if at, short := c.lack(max(s.From, start), min(s.To, end), n); short {
			return at, true
		}
	}
	return 0, false
}

// lackingLast returns where the last stretch between start and end begins in
// which a crew has fewer than n people free.
func (p *position) lackingLast(c *crew, start, end Tick, n int) (Tick, bool) {
	for i := min(p.calendar.At(end), len(p.calendar.Spans)-1); i >= 0 && p.calendar.Spans[i].To > start; i-- {
		s := p.calendar.Spans[i]
		if at, short := c.lackLast(max(s.From, start), min(s.To, end), n); short {
			return at, true
		}
	}
	return 0, false
}

// occupy takes a crew's people in the working minutes between start and end; a
// negative n gives them back.
func (p *position) occupy(c *crew, start, end Tick, n int) {
	for i := p.calendar.At(start); i < len(p.calendar.Spans) && p.calendar.Spans[i].From < end; i++ {
		s := p.calendar.Spans[i]
		c.take(max(s.From, start), min(s.To, end), n)
	}
}

// earliest finds the earliest start at or after ready, for a stage without
// set-ups.
func (p *position) earliest(w *want, ready, horizon Tick) (g gap, ok bool) {
	i := p.endsAfter(ready)
	minutes := max(1, w.work)
	for at := ready; ; {
		start := p.calendar.Next(max(at, p.freeFrom(i)))
		end := p.calendar.Ahead(start, minutes)
		if end > horizon {
			return g, false
		}
		if i < p.slots.len() && end > p.slots.at(i).start() {
			i++
			continue
		}
		if w.crew != nil {
			if lack, short := p.lacking(w.crew, start, end, w.people); short {
				at = w.crew.back(lack, w.people)
				for i < p.slots.len() && p.slots.at(i).end() <= at {
					i++
				}
				continue
			}
		}
		return gap{position: p, index: i, start: start, end: end, origin: start}, true
	}
}
