package line

import (
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// An outlook is what a load needs whenever it goes into the oven. It tells
// early, before any task is placed, that an oven start comes too soon.
type outlook struct {
	work     [shop.StageCount]Tick // minutes, without set-ups
	people   []Tick                // by crew: minutes of one person before the oven
	opens    []openWork
	mandrels []need
	racks    []need
}

// An openWork is the minutes of what must not begin sooner than so long before the
// cure.
type openWork struct {
	open    Tick
	prepreg int // whose open time that is
	work    [shop.StageCount]Tick
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
	*o = outlook{opens: o.opens[:0], people: o.people[:0], mandrels: o.mandrels[:0], racks: o.racks[:0]}
	for _, run := range l.Runs {
		section := &t.in.Sections[run.Section]
		split := t.in.Split(run.Section, run.Pieces)
		last := split[len(split)-1]
		lead := Tick(0)
		for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap} {
			lead += max(1, t.in.Work(stage, run.Section, 0, last))
		}
		o.mandrels = addNeed(o.mandrels, section.Mandrel, run.Pieces, lead)
		for cut := range section.Cuts {
			work := t.in.Work(shop.Cut, run.Section, cut, run.Pieces)
			o.work[shop.Cut] += work
			prepreg := section.Cuts[cut].Prepreg
			o.addOpen(t.in.Prepregs[prepreg].MaxOpen, prepreg, shop.Cut, work)
		}
		for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap} {
			work := t.in.Work(stage, run.Section, 0, run.Pieces)
			o.work[stage] += work
			o.addOpen(section.MaxOpen, section.Cuts[0].Prepreg, stage, work)
		}
	}
	o.sumOpens()
	t.addPeople(o)
	o.addRacks(l)
	return o
}

func (o *outlook) addRacks(l *Load) {
	o.racks = o.racks[:0]
	for _, r := range l.Racks {
		o.racks = addNeed(o.racks, r.Kind.Rack, 1, 0)
	}
}

// addOpen counts minutes of work that an open time limits.
func (o *outlook) addOpen(open Tick, prepreg int, stage shop.Stage, work Tick) {
	i := 0
	for i < len(o.opens) && o.opens[i].open < open {
		i++
	}
	if i == len(o.opens) || o.opens[i].open > open {
		o.opens = slices.Insert(o.opens, i, openWork{open: open, prepreg: prepreg})
	}
	o.opens[i].work[stage] += work
}

// sumOpens counts what must be done within a shorter time as well to what may
// take a longer one.
func (o *outlook) sumOpens() {
	for i := 1; i < len(o.opens); i++ {
		for st, work := range o.opens[i-1].work {
			o.opens[i].work[st] += work
		}
	}
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
	raise := func(stop Obstacle) {
		if stop.At >= instance.Never {
			stop.delay, stop.fatal = 0, true
			worst = stop
		} else if stop.delay > worst.delay && !worst.fatal {
			worst = stop
		}
	}
	start := in + t.in.Ovens[l.Oven].Load
	wrap := t.in.Stations[shop.Wrap].Calendar
	for _, n := range o.mandrels {
		at := t.mandrels[n.index].freeFrom(n.n, out)
		raise(Obstacle{Kind: MandrelsOut, Index: n.index, Need: n.n, At: at, delay: wrap.Worked(at) + n.lead - wrap.Worked(in)})
	}
	for _, n := range o.racks {
		at := t.racks[n.index].freeFrom(n.n, out)
		raise(t.crowded(shop.Wrap, o.work[shop.Wrap], in, Obstacle{Kind: RacksOut, Index: n.index, Need: n.n, At: at}))
	}
	raise(t.crowded(shop.Wrap, o.work[shop.Wrap], in, Obstacle{Kind: GreenTime, Index: l.Runs[0].Section, At: start - t.in.MaxGreen}))
	for k := range o.opens {
		open := &o.opens[k]
		for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Roll, shop.Wrap} {
			raise(t.crowded(stage, open.work[stage], in, Obstacle{Kind: OpenTime, Index: open.prepreg, At: start - open.open}))
		}
	}
	for c, minutes := range o.people {
		at := max(0, start-o.opens[len(o.opens)-1].open)
		raise(Obstacle{Kind: CrewBusy, Index: c, At: at, delay: t.crews[c].behind(minutes, at, in)})
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

// crowded returns by how many working minutes an instant comes too soon, at least,
// for so many minutes of work at a stage to have room between an obstacle's end and
// it. Where there is time enough and other work takes it, the station is the obstacle.
func (t *Timetable) crowded(stage shop.Stage, work, to Tick, stop Obstacle) Obstacle {
	calendar := t.in.Stations[stage].Calendar
	from := max(stop.At, 0)
	open := calendar.Between(from, to) * len(t.positions[stage])
	if stop.At >= instance.Never || open > ample*work {
		return stop
	}
	lacking := work - t.idle(stage, from, to)
	if lacking <= 0 {
		return stop
	}
	if open >= work {
		stop.Kind, stop.Index, stop.Need = StationBusy, int(stage), 0
	}
	stop.delay = calendar.Between(to, t.idleBy(stage, max(from, to), lacking))
	return stop
}

// ample is how many times as much as a load's work a stage's time must be for
// nobody to count how much of it is free.
const ample = 12
