package binding

import (
	"cmp"
	"slices"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A stake is what a line waits for: a good set of its product, and the pieces
// that would have to come sooner for it.
type stake struct {
	product int
	sets    int           // the so-manieth good set
	good    instance.Tick // when the plan has it; Never where it does not
	due     shop.Date
	lots    []lot
}

// A lot is pieces for one load: runs of the product that stand in a load from
// which they would be taken, or that no load carries.
type lot struct {
	from           *line.Load
	runs           []rack.Run
	target, latest instance.Tick
}

// A cast is one way to place a stake anew: loads out, loads of their pieces and
// what is left of the old loads in.
type cast struct {
	out, rest []*line.Load
	jobs      []job
}

// A job is runs to be placed as a load in one of several ways.
type job struct {
	runs           []rack.Run
	ways           []instance.Way
	target, latest instance.Tick
	patience       instance.Tick
}

// An outcome is what came of a try.
type outcome struct {
	good  instance.Tick // when the stake's set is good; Never where there was no place
	loads []*line.Load  // as placed, to read from: they are undone
	cast  *cast
}

// restLate is how much later what is left of a load, or one that had to make
// way, may go in.
const restLate = 1440

// casts returns the ways to place a stake: whole loads sooner, and, where the
// loads carry other products too, the product's runs as loads of their own.
func (r *reporter) casts(s *stake) []*cast {
	whole, own := &cast{}, &cast{}
	for _, lot := range s.lots {
		j := job{runs: lot.runs, target: lot.target, latest: lot.latest, ways: r.ways(lot.runs, lot.from)}
		own.jobs = append(own.jobs, j)
		if lot.from == nil {
			continue
		}
		own.out = append(own.out, lot.from)
		j.runs, j.patience = lot.from.Runs, lot.from.Patience
		if rest := without(lot.from.Runs, lot.runs); len(rest) > 0 {
			j.ways = []instance.Way{{Oven: lot.from.Oven, Profile: lot.from.Profile}}
			own.rest = append(own.rest, r.left(lot.from, rest))
		}
		whole.jobs = append(whole.jobs, j)
	}
	whole.out = own.out
	switch {
	case len(own.rest) == 0:
		return []*cast{own}
	case slices.Contains(own.rest, nil):
		return []*cast{whole}
	}
	return []*cast{whole, own}
}

// left returns the load that is left of another at its place; nil where its
// runs cannot be hung anew.
func (r *reporter) left(from *line.Load, rest []rack.Run) *line.Load {
	l, ok := line.NewLoad(r.in, r.a.NewID(), from.Oven, from.Profile, rest)
	if !ok {
		return nil
	}
	l.Target, l.Latest, l.Patience = from.In, from.In+restLate, from.Patience
	return l
}

// ways returns how runs can be cured: in each oven the shortest profile that
// qualifies for all, in a load's own oven the load's.
func (r *reporter) ways(runs []rack.Run, from *line.Load) (ways []instance.Way) {
	for o := range r.in.Ovens {
		best := instance.None
		for _, p := range r.in.Ovens[o].Profiles {
			fits := !slices.ContainsFunc(runs, func(run rack.Run) bool { return !r.in.Sections[run.Section].Profiles[p] })
			if fits && (best == instance.None || r.in.CureMinutes(o, p, 0) < r.in.CureMinutes(o, best, 0)) {
				best = p
			}
		}
		if from != nil && from.Oven == o {
			best = from.Profile
		}
		if best != instance.None {
			ways = append(ways, instance.Way{Oven: o, Profile: best})
		}
	}
	return ways
}

// without returns runs less others.
func without(runs, less []rack.Run) (rest []rack.Run) {
	for _, run := range runs {
		for _, l := range less {
			if l.Section == run.Section {
				run.Pieces -= l.Pieces
			}
		}
		if run.Pieces > 0 {
			rest = append(rest, run)
		}
	}
	return rest
}

// tryAll places a stake anew in the finished plan, all else as it is: once for
// each lift, which is some limits lifted together. It returns the best outcomes,
// in the order of the lifts, and leaves no trace.
func (r *reporter) tryAll(s *stake, casts []*cast, lifts [][]limit, watch *line.Watch) []outcome {
	best := make([]outcome, len(lifts))
	for i := range best {
		best[i].good = instance.Never
	}
	for _, c := range casts {
		mark := r.a.Table.Mark()
		if others, ok := r.makeRoom(c); ok {
			for i, lift := range lifts {
				if o := r.play(s, c, others, lift, watch); o.good < best[i].good {
					best[i] = o
				}
			}
		}
		r.a.Table.Undo(mark)
	}
	return best
}

// play lifts limits, places a cast's jobs where room is made for them, and takes
// all that back.
func (r *reporter) play(s *stake, c *cast, others []*line.Load, lift []limit, watch *line.Watch) outcome {
	for _, l := range lift {
		defer r.a.Table.Relax(l.kind, l.index)()
	}
	mark := r.a.Table.Mark()
	defer r.a.Table.Undo(mark)
	o := outcome{good: instance.Never, cast: c}
	for i := range c.jobs {
		l := r.placeBest(&c.jobs[i], lift, watch)
		if l == nil {
			return o
		}
		o.loads = append(o.loads, l)
	}
	o.good = r.goodAt(s, append(slices.Clone(others), o.loads...))
	return o
}

// makeRoom takes a cast's loads out and puts back what is left of them, and what
// had to go with them, where it was.
func (r *reporter) makeRoom(c *cast) (others []*line.Load, ok bool) {
	for _, l := range r.a.Table.Remove(c.out...) {
		again := l.Again()
		again.Tries = manyTries
		again.Target, again.Latest = l.In, l.In+restLate
		others = append(others, again)
	}
	for _, l := range c.rest {
		others = append(others, l.Again())
	}
	slices.SortStableFunc(others, func(x, y *line.Load) int { return cmp.Compare(x.Target, y.Target) })
	for _, l := range others {
		if !r.a.Table.Place(l) {
			return nil, false
		}
	}
	return others, true
}

// manyTries is how many oven starts a trial looks at, more than a search does:
// what it does not find, it says that there is not.
const manyTries = 80

// placeBest places a job in the way that has its pieces trimmed first; nil where
// there is none. A lifted oven is the one to try.
func (r *reporter) placeBest(j *job, lift []limit, watch *line.Watch) *line.Load {
	var best *line.Load
	done := instance.Never
	for _, w := range j.ways {
		if slices.ContainsFunc(lift, func(l limit) bool { return l.kind == line.OvenBusy && l.index != w.Oven }) {
			continue
		}
		l, ok := line.NewLoad(r.in, r.a.NewID(), w.Oven, w.Profile, j.runs)
		if !ok {
			continue
		}
		l.Target, l.Latest, l.Patience, l.Tries = j.target, j.latest, j.patience, manyTries
		mark := r.a.Table.Mark()
		if r.place(l, watch) && trimmed(l) < done {
			best, done = l, trimmed(l)
		}
		r.a.Table.Undo(mark)
	}
	if best == nil {
		return nil
	}
	again := best.Again()
	again.Tries = manyTries
	again.Target = best.In
	if !r.a.Table.Place(again) {
		return nil
	}
	return again
}

// mostRounds is how often a load is placed anew from where the timetable had
// tried enough starts.
const mostRounds = 6

// place places a load and tells watch what stood in its way. That it has come
// past its latest start is not the oven's doing.
func (r *reporter) place(l *line.Load, watch *line.Watch) (ok bool) {
	for range mostRounds {
		var met line.Watch
		ok = r.a.Table.PlaceWhere(l, &met)
		r.spent += len(met.Obstacles) + 1
		for _, o := range met.Obstacles {
			if watch != nil && (o.Kind != line.OvenBusy || o.At <= l.Latest) {
				watch.Obstacles = append(watch.Obstacles, o)
			}
		}
		if ok || met.Stopped == 0 {
			break
		}
		l.Target = met.Stopped
	}
	return ok
}

// trimmed returns when the last piece of a load is trimmed.
func trimmed(l *line.Load) (t instance.Tick) {
	for i := range l.Tasks {
		t = max(t, l.Tasks[i].End)
	}
	return t
}

// goodAt returns when a stake's set is good, as the timetable stands with other
// loads beside the answer's own.
func (r *reporter) goodAt(s *stake, others []*line.Load) instance.Tick {
	var trims []cost.Trim
	for _, l := range r.loads[s.product] {
		if l.Placed() {
			trims = cost.Trims(r.in, l, s.product, trims)
		}
	}
	for _, l := range others {
		trims = cost.Trims(r.in, l, s.product, trims)
	}
	sets := 0
	for _, u := range cost.Sets(r.in, s.product, trims, r.in.Wanted(s.product)) {
		if sets += u.Sets; sets >= s.sets {
			return u.At
		}
	}
	return instance.Never
}

// ship returns when a stake's set that is good at an instant ships.
func (r *reporter) ship(s *stake, good instance.Tick) shop.Date {
	if good >= instance.Never {
		return r.in.Products[s.product].Never
	}
	return r.in.Products[s.product].Ship[r.in.Day(good)]
}
