package binding

import (
	"cmp"
	"fmt"
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
)

// A finding is what a stake would have with some limits lifted together.
type finding struct {
	lift []limit
	outcome
}

// A weighing is what came of trying a stake with one limit after the other
// lifted.
type weighing struct {
	*stake
	casts    []*cast
	base     outcome // with none lifted
	met      []line.Obstacle
	all      bool      // the limits that were not met were lifted too, and two at a time
	findings []finding // those that ship sooner than base, the soonest first
}

// mostStarts is how many oven starts a reporter tries in all before no more limits are
// lifted: it bounds the time that a report takes.
const mostStarts = 6000

// weigh tries a stake as the plan stands, then with each limit lifted that stood
// in its way; where none of these helps, with each other one, and last with two
// at a time. tried is false where no limits were lifted.
func (r *reporter) weigh(s *stake, try bool) (w *weighing, tried bool) {
	w = &weighing{stake: s, casts: r.casts(s)}
	tried = try && r.spent < mostStarts
	if !tried {
		w.casts = []*cast{w.casts[0].near()}
	}
	var watch line.Watch
	w.base = r.tryAll(s, w.casts, [][]limit{nil}, &watch)[0]
	if len(watch.Obstacles) == 0 {
		// No room could be made: what stands in the way of the load beside itself
		// tells the most.
		r.play(s, w.casts[0], nil, nil, &watch)
	}
	w.met = watch.Obstacles
	if !tried {
		return w, false
	}
	met := r.limitsMet(w)
	others := r.limitsLeft(w, met)
	for i, lifts := range [][][]limit{singles(met), singles(others), pairs(met, others)} {
		if len(w.findings) == 0 && (i == 0 || r.spent < mostStarts) {
			r.lift(w, lifts)
			w.all = i == 2
		}
	}
	return w, true
}

// near returns a cast that looks no farther than a day ahead, and at no other
// oven: enough to see what stood last in its way.
func (c *cast) near() *cast {
	n := &cast{out: c.out, rest: c.rest}
	for i, j := range c.jobs {
		if i < len(c.out) {
			j.target = max(j.target, c.out[i].In-1440)
			j.ways = []instance.Way{{Oven: c.out[i].Oven, Profile: c.out[i].Profile}}
		}
		n.jobs = append(n.jobs, j)
	}
	return n
}

// soonest returns when the set is good without lifting anything: in the plan, or
// as tried.
func (w *weighing) soonest() instance.Tick { return min(w.good, w.base.good) }

func singles(limits []limit) (lifts [][]limit) {
	for _, l := range limits {
		lifts = append(lifts, []limit{l})
	}
	return lifts
}

// pairs returns each two of the limits met, and each of them with each other.
func pairs(met, others []limit) (lifts [][]limit) {
	for i, l := range met {
		for _, m := range append(slices.Clone(met[i+1:]), others...) {
			lifts = append(lifts, []limit{l, m})
		}
	}
	return lifts
}

// lift notes the lifts with which the stake ships sooner than without any.
func (r *reporter) lift(w *weighing, lifts [][]limit) {
	var found []finding
	for i, o := range r.tryAll(w.stake, w.casts, lifts, nil) {
		if r.ship(w.stake, o.good) < r.ship(w.stake, w.soonest()) {
			r.verify(w, &o)
			found = append(found, finding{lifts[i], o})
		}
	}
	for _, f := range found {
		if r.ship(w.stake, f.good) < r.ship(w.stake, w.soonest()) {
			w.findings = append(w.findings, f)
		}
	}
	slices.SortStableFunc(w.findings, func(x, y finding) int {
		return cmp.Or(cmp.Compare(r.ship(w.stake, x.good), r.ship(w.stake, y.good)), cmp.Compare(x.good, y.good))
	})
}

// verify tries without any lift the very oven starts that one led to: those are
// passed over where the timetable, coming from the target, takes longer steps.
// What does without the lift is no finding but a better base.
func (r *reporter) verify(w *weighing, found *outcome) {
	c := &cast{out: found.cast.out, rest: found.cast.rest}
	for i, l := range found.loads {
		way := []instance.Way{{Oven: l.Oven, Profile: l.Profile}}
		c.jobs = append(c.jobs, job{runs: found.cast.jobs[i].runs, ways: way, target: l.In, latest: l.In, patience: l.Patience})
	}
	if o := r.tryAll(w.stake, []*cast{c}, [][]limit{nil}, nil)[0]; o.good < w.base.good {
		w.base = o
	}
}

// limitsMet returns the limits that stood in a stake's way, each once, by kind
// and index. Where a station had no room, its crew may be why; where the plan
// lets pieces wait after the oven, the stations there.
func (r *reporter) limitsMet(w *weighing) (limits []limit) {
	for _, o := range w.met {
		limits = append(limits, limit{o.Kind, o.Index})
		switch o.Kind {
		case line.StationBusy:
			limits = append(limits, limit{line.CrewBusy, r.in.Stations[o.Index].Crew})
		case line.OvenBusy:
			limits = append(limits, limit{line.CrewBusy, r.in.Ovens[o.Index].Crew})
		}
	}
	for _, lot := range w.lots {
		if lot.from != nil {
			limits = append(limits, r.waits(lot.from)...)
		}
	}
	return sorted(limits)
}

// waits returns the stations after the oven at which a load's pieces wait, and
// their crews.
func (r *reporter) waits(l *line.Load) (limits []limit) {
	ready := map[int]instance.Tick{}
	for _, stage := range []shop.Stage{shop.Pull, shop.Strip, shop.Trim} {
		for i := range l.Tasks {
			t := &l.Tasks[i]
			if t.Stage != stage {
				continue
			}
			from := max(ready[t.Section], l.Out+r.in.Profiles[l.Profile].Rest)
			if t.Start > r.in.Stations[stage].Calendar.Next(from) {
				limits = append(limits, limit{line.StationBusy, int(stage)}, limit{line.CrewBusy, r.in.Stations[stage].Crew})
			}
		}
		for i := range l.Tasks {
			if t := &l.Tasks[i]; t.Stage == stage {
				ready[t.Section] = min(t.End, orNever(ready[t.Section]))
			}
		}
	}
	return limits
}

func orNever(t instance.Tick) instance.Tick {
	if t == 0 {
		return instance.Never
	}
	return t
}

// limitsLeft returns the other limits that a stake could have.
func (r *reporter) limitsLeft(w *weighing, met []limit) []limit {
	all := []limit{{line.GreenTime, 0}}
	for stage := range r.in.Stations {
		all = append(all, limit{line.StationBusy, stage}, limit{line.CrewBusy, r.in.Stations[stage].Crew})
	}
	for _, lot := range w.lots {
		for _, way := range r.ways(lot.runs, lot.from) {
			all = append(all, limit{line.OvenBusy, way.Oven}, limit{line.CrewBusy, r.in.Ovens[way.Oven].Crew})
		}
		for _, run := range lot.runs {
			section := &r.in.Sections[run.Section]
			all = append(all, limit{line.MandrelsOut, section.Mandrel})
			for _, cut := range section.Cuts {
				all = append(all, limit{line.NoMaterial, cut.Prepreg}, limit{line.OpenTime, cut.Prepreg})
			}
		}
	}
	for i := range r.in.Racks {
		all = append(all, limit{line.RacksOut, i})
	}
	return slices.DeleteFunc(sorted(all), func(l limit) bool { return slices.Contains(met, l) })
}

// sorted returns limits by kind and index, each once, without those that name
// no resource.
func sorted(limits []limit) []limit {
	limits = slices.DeleteFunc(limits, func(l limit) bool {
		return l.index == instance.None || l.kind == line.Horizon || l.kind == line.Now
	})
	for i := range limits {
		if limits[i].kind == line.GreenTime {
			limits[i].index = 0 // one limit for all sections
		}
	}
	slices.SortFunc(limits, func(x, y limit) int {
		return cmp.Or(cmp.Compare(x.kind, y.kind), cmp.Compare(x.index, y.index))
	})
	return slices.Compact(limits)
}

// price returns by how much the plan would cost more if a stake were placed as
// in an outcome; ok is false where it cannot be said.
func (r *reporter) price(o *outcome) (more answer.Cost, ok bool) {
	before := r.a.Cost()
	c := answer.Change{Out: o.cast.out}
	for _, l := range o.loads {
		again := l.Again()
		again.Target = l.In
		c.In = append(c.In, again)
	}
	for _, l := range o.cast.rest {
		c.In = append(c.In, l.Again())
	}
	if !r.a.Try(c) {
		return more, false
	}
	after := r.a.Cost()
	r.a.Undo()
	return answer.Cost{
		Late: after.Late - before.Late, Hold: after.Hold - before.Hold,
		Oven: after.Oven - before.Oven, Setup: after.Setup - before.Setup,
	}, true
}

// key names what a weighing depends on, so that lines of like stakes share it.
func (s *stake) key() string {
	text := fmt.Sprint(s.product, s.sets, s.good, s.due)
	for _, l := range s.lots {
		if l.from != nil {
			text += fmt.Sprint(" ", l.from.ID)
		}
		text += fmt.Sprint(l.runs, l.target)
	}
	return text
}
