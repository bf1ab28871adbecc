package binding

import (
	"fmt"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// taken tells how much of the open time between two instants is taken.
func (r *reporter) taken(used, open int, from, to instance.Tick) string {
	return fmt.Sprintf("taken for %s of the %s that it has from %s to %s", hours(used), hours(open), r.at(from), r.at(to))
}

// between returns how much of a calendar lies between two instants.
func between(c *instance.Calendar, from, to instance.Tick) int {
	return max(0, c.Worked(to)-c.Worked(max(from, 0)))
}

// ovenTaken tells how much of an oven's hours loads and downtime take.
func (r *reporter) ovenTaken(oven int, from, to instance.Tick) string {
	o := &r.in.Ovens[oven]
	used := 0
	for _, l := range r.a.Loads {
		if l.Oven == oven {
			used += max(0, min(l.Out, to)-max(l.In, from))
		}
	}
	for _, b := range o.Blocked {
		used += max(0, min(b.To, to)-max(b.From, from))
	}
	open := to - from
	if !o.Unattended {
		open = between(o.Calendar, from, to)
	}
	return r.taken(min(used, open), open, from, to)
}

// stationTaken tells how much of a station's open minutes tasks take.
func (r *reporter) stationTaken(stage shop.Stage, from, to instance.Tick) string {
	used, open := 0, 0
	for _, p := range r.in.Stations[stage].Positions {
		open += between(p, from, to)
	}
	r.tasks(func(st shop.Stage, position int, start, end instance.Tick) {
		if st == stage {
			used += between(r.in.Stations[st].Positions[position], max(start, from), min(end, to))
		}
	})
	return r.taken(used, open, from, to)
}

// crewTaken tells how much of a crew's time tasks and ovens take.
func (r *reporter) crewTaken(crew int, from, to instance.Tick) string {
	used, there := 0, 0
	for _, s := range r.in.Crews[crew].Shifts {
		there += s.People * between(s.Calendar, from, to)
	}
	r.tasks(func(st shop.Stage, position int, start, end instance.Tick) {
		if s := &r.in.Stations[st]; s.Crew == crew {
			used += s.People * between(s.Positions[position], max(start, from), min(end, to))
		}
	})
	for _, l := range r.a.Loads {
		if o := &r.in.Ovens[l.Oven]; o.Crew == crew && l.In >= from && l.Out <= to {
			used += o.People * (o.Load + o.Unload)
		}
	}
	return r.taken(used, there, from, to)
}

// tasks calls f for every task of the answer and of released work that stands
// on a position that there is.
func (r *reporter) tasks(f func(stage shop.Stage, position int, start, end instance.Tick)) {
	for _, l := range r.a.Loads {
		for i := range l.Tasks {
			t := &l.Tasks[i]
			f(t.Stage, t.Position, t.Start, t.End)
		}
	}
	for _, t := range r.in.Released.Tasks {
		if t.Position < len(r.in.Stations[t.Stage].Positions) {
			f(t.Stage, t.Position, t.Start, t.End)
		}
	}
}
