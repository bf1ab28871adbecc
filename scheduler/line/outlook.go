package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// An outlook is what a load needs whenever it goes into the oven. It tells
// early, before any task is placed, that an oven start comes too soon.
type outlook struct {
	work     [shop.StageCount]Tick // minutes, without set-ups
	people   []Tick                // by crew: minutes of one person before the oven
	maxOpen  Tick
	prepreg  int // the one with the least open time
	mandrels []need
	racks    []need
}

// A need is n of the things of one pool; lead is how long before the oven start
// the last of them is taken at the latest, in working minutes.
type need struct {
	index, n int
	lead     Tick
}

// lookAt returns the outlook of a load, until that of the next is asked for.
func (t *Timetable) lookAt(l *Load) *outlook {
	o := &t.look
	*o = outlook{maxOpen: instance.Never, people: o.people[:0], mandrels: o.mandrels[:0], racks: o.racks[:0]}
	for _, run := range l.Runs {
		section := &t.in.Sections[run.Section]
		last := min(run.Pieces, (run.Pieces-1)%t.in.Transfer+1)
		lead := Tick(0)
		for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap} {
			lead += max(1, t.in.Work(stage, run.Section, 0, last))
		}
		o.mandrels = addNeed(o.mandrels, section.Mandrel, run.Pieces, lead)
		for cut := range section.Cuts {
			o.work[shop.Cut] += t.in.Work(shop.Cut, run.Section, cut, run.Pieces)
			if open := t.in.Prepregs[section.Cuts[cut].Prepreg].MaxOpen; open < o.maxOpen {
				o.maxOpen, o.prepreg = open, section.Cuts[cut].Prepreg
			}
		}
		for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap} {
			o.work[stage] += t.in.Work(stage, run.Section, 0, run.Pieces)
		}
	}
	t.addPeople(o)
	for _, r := range l.Racks {
		o.racks = addNeed(o.racks, r.Kind.Rack, 1, 0)
	}
	return o
}

func addNeed(list []need, index, n int, lead Tick) []need {
	for i := range list {
		if list[i].index == index {
			list[i].n += n
			list[i].lead = min(list[i].lead, lead)
			return list
		}
	}
	return append(list, need{index, n, lead})
}

// soon returns what makes an oven start come too soon, with the working minutes
// by which it does, or ok false where nothing does that can be seen at once.
func (t *Timetable) soon(l *Load, o *outlook, in, out Tick) (stop Obstacle, ok bool) {
	worst := Obstacle{}
	raise := func(kind Kind, index, n int, at, delay Tick) {
		if at >= instance.Never {
			worst = Obstacle{Kind: kind, Index: index, Need: n, At: at, fatal: true}
		} else if delay > worst.delay && !worst.fatal {
			worst = Obstacle{Kind: kind, Index: index, Need: n, At: at, delay: delay}
		}
	}
	start := in + t.in.Ovens[l.Oven].Load
	wrap := t.in.Stations[shop.Wrap].Calendar
	for _, n := range o.mandrels {
		at := t.mandrels[n.index].freeFrom(n.n, out)
		raise(MandrelsOut, n.index, n.n, at, wrap.Worked(at)+n.lead-wrap.Worked(in))
	}
	for _, n := range o.racks {
		at := t.racks[n.index].freeFrom(n.n, out)
		raise(RacksOut, n.index, n.n, at, t.crowded(shop.Wrap, o, at, in))
	}
	raise(GreenTime, l.Runs[0].Section, 0, start-t.in.MaxGreen, t.crowded(shop.Wrap, o, start-t.in.MaxGreen, in))
	for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Roll} {
		raise(OpenTime, o.prepreg, 0, start-o.maxOpen, t.crowded(stage, o, start-o.maxOpen, in))
	}
	for c, minutes := range o.people {
		at := max(0, start-o.maxOpen)
		raise(CrewBusy, c, 0, at, t.crews[c].behind(minutes, at, in))
	}
	return worst, worst.fatal || worst.delay > 0
}

// addPeople sums the minutes of people that a load's work before the oven takes
// of each crew.
func (t *Timetable) addPeople(o *outlook) {
	for range t.crews {
		o.people = append(o.people, 0)
	}
	for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Roll, shop.Wrap} {
		if s := &t.in.Stations[stage]; s.Crew != instance.None {
			o.people[s.Crew] += o.work[stage] * s.People
		}
	}
}

// crowded returns by how many minutes all of a load's work at a stage, spread
// evenly over its positions, exceeds what lies between two instants.
func (t *Timetable) crowded(stage shop.Stage, o *outlook, from, to Tick) Tick {
	calendar := t.in.Stations[stage].Calendar
	positions := len(t.positions[stage])
	return (o.work[stage]+positions-1)/positions - (calendar.Worked(to) - calendar.Worked(max(from, 0)))
}
