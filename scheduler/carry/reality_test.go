package carry_test

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"pgregory.net/rapid"

	"blankwright/scheduler"
	"blankwright/scheduler/carry"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A made is a random shop and a plan of it.
type made struct {
	shop *shop.Shop
	plan *plan.Plan
}

// plans returns some random shops, without work that they had released before,
// each with a plan that keeps all rules.
var plans = sync.OnceValue(func() []made {
	var out []made
	for seed := uint64(0); len(out) < 8; seed++ {
		s := shoptest.Make(seed, shoptest.Size{Pieces: 20 + int(seed)*5})
		s.Released = nil
		s = shoptest.Accepted(s)
		r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Seed: seed + 1, Effort: 60})
		if err != nil {
			panic(err)
		}
		if len(r.Plan.Loads) > 2 {
			out = append(out, made{s, r.Plan})
		}
	}
	return out
})

// releasedBy returns the loads of a plan whose first task starts before an
// instant, with all of their tasks.
func releasedBy(p *plan.Plan, until int64) carry.Work {
	first := map[string]int64{}
	for _, t := range p.Tasks {
		if at, any := first[t.Load]; !any || t.Start.Minute < at {
			first[t.Load] = t.Start.Minute
		}
	}
	var w carry.Work
	for _, l := range p.Loads {
		if first[l.ID] < until {
			w.Loads = append(w.Loads, carry.Load{Planned: l})
		}
	}
	for _, t := range p.Tasks {
		if first[t.Load] < until {
			w.Tasks = append(w.Tasks, carry.Task{Planned: t})
		}
	}
	return w
}

// A day is how a shop floor does its work: by what is carried on, but each
// event is held up, and pieces are scrapped, as the dice will have it.
type day struct {
	made
	w       carry.Work
	now     int64
	happens func() bool   // whether an event comes as expected, or is held up
	scraps  func(int) int // how many of so many pieces are scrapped
}

// shopAt returns the shop at an instant, as yet without what is carried on.
func (d *day) shopAt(now int64) *shop.Shop {
	s := *d.shop
	s.Now = shop.InstantIn(now, s.Zone())
	return &s
}

// until lets time pass up to a minute, in steps.
func (d *day) until(end, step int64) {
	for d.now < end {
		next := min(d.now+step, end)
		d.pass(next)
		d.now = next
	}
}

// pass reports what the carried work says for the time up to next, if it
// happens and if what comes before it has happened.
func (d *day) pass(next int64) {
	stand := carry.On(d.shopAt(d.now), d.w)
	order := make([]int, len(d.w.Tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(stand.Tasks[a].Start.Minute - stand.Tasks[b].Start.Minute) })
	for _, i := range order {
		if t := &d.w.Tasks[i]; t.Planned.Stage < shop.Pull {
			d.work(t, stand.Tasks[i], next)
		}
	}
	for i := range d.w.Loads {
		d.cook(&d.w.Loads[i], stand.Loads[i], next)
	}
	for _, i := range order {
		if t := &d.w.Tasks[i]; t.Planned.Stage >= shop.Pull {
			d.work(t, stand.Tasks[i], next)
		}
	}
}

func (d *day) work(t *carry.Task, times carry.TaskTimes, next int64) {
	if t.Done != nil || times.Pieces == 0 && t.Begun == nil {
		return
	}
	if t.Begun == nil {
		if times.Start.Minute >= next || !d.ready(t) || !d.happens() {
			return
		}
		t.Begun = new(times.Start)
	}
	// Scrap since the step began may have lowered what the task has.
	count := d.count(t)
	if times.End.Minute > next || !d.happens() {
		return
	}
	t.Done = new(times.End)
	t.Scrapped = d.scraps(count.Live)
	t.Good, t.Dead = count.Live-t.Scrapped, count.Pieces-count.Live
}

func (d *day) count(t *carry.Task) carry.Count {
	for i, count := range carry.Pieces(d.w) {
		if &d.w.Tasks[i] == t {
			return count
		}
	}
	panic("no such task")
}

// ready reports whether a task's position is free, and its pieces have come.
func (d *day) ready(t *carry.Task) bool {
	if t.Planned.Stage == shop.Pull {
		for i := range d.w.Loads {
			if d.w.Loads[i].Planned.ID == t.Planned.Load && d.w.Loads[i].Out == nil {
				return false
			}
		}
	}
	come, need := map[string]int{}, d.count(t).Live
	counts := carry.Pieces(d.w)
	for i := range d.w.Tasks {
		o := &d.w.Tasks[i]
		same := o.Planned.Load == t.Planned.Load && o.Planned.Section == t.Planned.Section
		switch {
		case o == t:
		case o.Planned.Stage == t.Planned.Stage && o.Planned.Position == t.Planned.Position:
			earlier := o.Planned.Start.Minute < t.Planned.Start.Minute && counts[i].Pieces > 0
			if o.Begun != nil && o.Done == nil || earlier && o.Done == nil {
				return false
			}
		}
		if same && o.Planned.Stage == t.Planned.Stage && o.Planned.Prepreg == t.Planned.Prepreg && o.Begun != nil {
			need += counts[i].Live
		}
		if same && o.Planned.Stage == t.Planned.Stage-1 {
			come[o.Planned.Prepreg] += o.Good
		}
	}
	for _, n := range come {
		if n < need && t.Planned.Stage != shop.Pull {
			return false
		}
	}
	return true
}

func (d *day) cook(l *carry.Load, times carry.LoadTimes, next int64) {
	hung := true
	counts := carry.Pieces(d.w)
	for i := range d.w.Tasks {
		t := &d.w.Tasks[i]
		if t.Planned.Load == l.Planned.ID && t.Planned.Stage == shop.Wrap && t.Done == nil && counts[i].Pieces > 0 {
			hung = false
		}
	}
	for i := range d.w.Loads {
		o := &d.w.Loads[i]
		before := o.Planned.Oven == l.Planned.Oven && o.Planned.In.Minute < l.Planned.In.Minute
		if before && o.Out == nil {
			hung = false
		}
	}
	if l.In == nil && hung && times.In.Minute < next && d.happens() {
		l.In = new(times.In)
	}
	if l.In != nil && l.Out == nil && times.Out.Minute <= next && d.happens() {
		l.Out = new(times.Out)
	}
}

// How much of a plan is released: the whole, or what begins within some days.
const (
	whole = 365 * 1440
	part  = 0
)

// someDay draws a day: a shop, how much of its plan is released, how far time
// has gone on, and how often something is held up or scrapped.
func someDay(t *rapid.T, until int64) *day {
	m := rapid.SampledFrom(plans()).Draw(t, "shop")
	now := m.shop.Now.Minute
	d := &day{made: m, now: now}
	if until == part {
		until = rapid.Int64Range(60, 4*1440).Draw(t, "released")
	}
	d.w = releasedBy(m.plan, now+until)
	held := rapid.IntRange(0, 60).Draw(t, "held up in 100")
	scrap := rapid.SampledFrom([]int{0, 5, 30, 90}).Draw(t, "scrapped in 100")
	dice := rapid.IntRange(0, 99)
	d.happens = func() bool { return dice.Draw(t, "happens") >= held }
	d.scraps = func(n int) int {
		out := 0
		for range n {
			if dice.Draw(t, "scraps") < scrap {
				out++
			}
		}
		return out
	}
	d.until(now+rapid.Int64Range(0, 6*1440).Draw(t, "passed"), rapid.Int64Range(200, 1500).Draw(t, "step"))
	return d
}

// asPlanned reports events as they were planned, up to a minute.
func asPlanned(w carry.Work, now int64) carry.Work {
	for i := range w.Tasks {
		t := &w.Tasks[i]
		if t.Planned.Start.Minute < now {
			t.Begun = new(t.Planned.Start)
		}
		if t.Planned.End.Minute <= now {
			t.Done, t.Good = new(t.Planned.End), t.Planned.Pieces
		}
	}
	for i := range w.Loads {
		l := &w.Loads[i]
		if l.Planned.In.Minute < now {
			l.In = new(l.Planned.In)
		}
		if l.Planned.Out.Minute <= now {
			l.Out = new(l.Planned.Out)
		}
	}
	return w
}

func describe(t *carry.Task) string {
	return fmt.Sprintf("%s %s %s/%d from %s", t.Planned.Load, t.Planned.Section, t.Planned.Stage, t.Planned.Position, t.Planned.Start)
}
