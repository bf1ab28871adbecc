package carry_test

import (
	"context"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler"
	"blankwright/scheduler/carry"
	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// Where everything came as planned, the work stays as it was planned, and
// nothing is in trouble.
func TestOn_AsPlanned(t *testing.T) {
	thorough.Check(t, 30, func(t *rapid.T) {
		m := rapid.SampledFrom(plans()).Draw(t, "shop")
		w := releasedBy(m.plan, m.shop.Now.Minute+rapid.Int64Range(60, 6*1440).Draw(t, "released"))
		d := day{made: m}
		now := m.shop.Now.Minute + rapid.Int64Range(0, 6*1440).Draw(t, "passed")
		got := carry.On(d.shopAt(now), asPlanned(w, now))
		for _, i := range d.byPlanOf(w) {
			task := w.Tasks[i]
			want := carry.TaskTimes{Count: carry.Count{Pieces: task.Planned.Pieces, Live: task.Planned.Pieces}, Start: task.Planned.Start, End: task.Planned.End, Over: got.Tasks[i].Over}
			if diff := cmp.Diff(want, got.Tasks[i]); diff != "" {
				t.Fatalf("%s %d (-want +got):\n%s", describe(&task), now, diff)
			}
		}
		for i, load := range w.Loads {
			p := load.Planned
			want := carry.LoadTimes{In: p.In, CureStart: p.CureStart, CureEnd: p.CureEnd, Out: p.Out, Over: got.Loads[i].Over}
			if diff := cmp.Diff(want, got.Loads[i]); diff != "" {
				t.Errorf("load %s (-want +got):\n%s", p.ID, diff)
			}
		}
		for _, trouble := range got.Troubles {
			if trouble.Kind != carry.KindMaterial { // the shop's supply was not drawn from
				t.Errorf("trouble: %+v", trouble)
			}
		}
	})
}

// Whatever is held up or scrapped: what is still to come keeps its order, comes
// neither before now nor before its plan, lies apart on positions and in ovens,
// and follows what it works on.
func TestOn_HeldUp(t *testing.T) {
	thorough.Check(t, 30, func(t *rapid.T) {
		d := someDay(t, part)
		got := carry.On(d.shopAt(d.now), d.w)
		d.checkTasks(t, got)
		d.checkOrder(t, got)
		d.checkFlow(t, got)
		d.checkLoads(t, got)
		s := d.shopAt(d.now)
		s.Released, s.Stations = got.Released, got.Stations
		if _, err := shop.Read(s.Encode()); err != nil {
			t.Errorf("a shop with the carried work is refused: %v", err)
		}
	})
}

// What has not been touched yet is carried to where a plan could have put it:
// the checker, who knows nothing of carrying, finds that it keeps all rules but
// those that only a new plan, or what is told as a trouble, can mend.
func TestOn_KeepsRules(t *testing.T) {
	mended := map[string]string{
		"R10": "any", "R12": "any", "R13": "any", "cost": "any", "bound": "any",
		"R5": carry.KindRacks, "R9": carry.KindMandrels, "R14": carry.KindHorizon,
	}
	thorough.Check(t, 30, func(t *rapid.T) {
		d := someDay(t, whole)
		s := d.shopAt(d.now)
		got := carry.On(s, d.w)
		s.Stations = got.Stations
		p := d.untouched(s, got)
		for _, breach := range check.Plan(shoptest.Accepted(s), p).Breaches {
			kind := mended[breach.Rule]
			told := func(trouble carry.Trouble) bool { return trouble.Kind == kind }
			if kind != "any" && !slices.ContainsFunc(got.Troubles, told) {
				t.Errorf("%s", breach)
			}
		}
	})
}

// untouched returns the carried work as a plan, in which that of loads of which
// nothing has begun is free, and leaves the rest to the shop as released.
func (d *day) untouched(s *shop.Shop, got *carry.Standing) *plan.Plan {
	begun := map[string]bool{}
	for i := range d.w.Tasks {
		if t := &d.w.Tasks[i]; t.Begun != nil {
			begun[t.Planned.Load] = true
		}
	}
	p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now}
	if got.Released == nil {
		return p
	}
	p.Loads, p.Tasks = got.Released.Loads, got.Released.Tasks
	s.Released = &shop.Released{
		Loads: slices.DeleteFunc(slices.Clone(p.Loads), func(l shop.Load) bool { return !begun[l.ID] }),
		Tasks: slices.DeleteFunc(slices.Clone(p.Tasks), func(t shop.Task) bool { return !begun[t.Load] }),
	}
	return p
}

// Work that follows no rule, and reports that contradict each other, are carried
// on all the same: all of it has its times, and the shop reads as valid.
func TestOn_Nonsense(t *testing.T) {
	thorough.Check(t, 30, func(t *rapid.T) {
		s := shoptest.Make(rapid.Uint64Range(0, 200).Draw(t, "seed"), shoptest.Size{Pieces: 12, Lines: 3})
		if s.Released == nil {
			return
		}
		now := s.Now.Minute
		reported := func(what string) *shop.Instant {
			if rapid.Bool().Draw(t, what) {
				return nil
			}
			return new(shop.InstantIn(now+rapid.Int64Range(-4000, 4000).Draw(t, what+" at"), s.Zone()))
		}
		var w carry.Work
		for _, l := range s.Released.Loads {
			w.Loads = append(w.Loads, carry.Load{Planned: l, In: reported("in"), Out: reported("out")})
		}
		few := rapid.IntRange(0, 7)
		for _, task := range s.Released.Tasks {
			task.Position = rapid.IntRange(1, 3).Draw(t, "position")
			w.Tasks = append(w.Tasks, carry.Task{
				Planned: task, Begun: reported("begun"), Done: reported("done"),
				Good: few.Draw(t, "good"), Scrapped: few.Draw(t, "scrapped"), Dead: few.Draw(t, "dead"),
			})
		}
		got := carry.On(s, w)
		s.Released, s.Stations = got.Released, got.Stations
		if _, err := shop.Read(s.Encode()); err != nil {
			t.Error(err)
		}
	})
}

// A plan made for a shop with the carried work keeps all rules.
func TestOn_PlansOn(t *testing.T) {
	days := rapid.Custom(func(t *rapid.T) *day { return someDay(t, part) })
	for seed := range 16 {
		d := days.Example(seed)
		s := d.shopAt(d.now)
		got := carry.On(s, d.w)
		s.Released, s.Stations = got.Released, got.Stations
		s = shoptest.Accepted(s)
		r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: 40})
		if err != nil {
			t.Fatal(err)
		}
		for _, breach := range check.Plan(s, r.Plan).Breaches {
			t.Errorf("day %d: %s", seed, breach)
		}
	}
}

// checkTasks judges each task to come by itself.
func (d *day) checkTasks(t *rapid.T, got *carry.Standing) {
	for i := range d.w.Tasks {
		task, times := &d.w.Tasks[i], got.Tasks[i]
		switch start, end := times.Start.Minute, times.End.Minute; {
		case task.Done != nil:
			if end != task.Done.Minute || task.Begun != nil && start > task.Begun.Minute {
				t.Errorf("%s was %v to %v, carried as %v to %v", describe(task), task.Begun, task.Done, times.Start, times.End)
			}
		case task.Begun != nil:
			if start != task.Begun.Minute || end <= d.now {
				t.Errorf("%s begun %v, now %d, carried as %v to %v", describe(task), task.Begun, d.now, times.Start, times.End)
			}
		case times.Over:
		default:
			if start < d.now || start < task.Planned.Start.Minute || end <= start {
				t.Errorf("%s, now %d, carried as %v to %v", describe(task), d.now, times.Start, times.End)
			}
			if need := task.Planned.End.Minute - task.Planned.Start.Minute; times.Pieces == task.Planned.Pieces && end-start < 1 && need > 1 {
				t.Errorf("%s takes %d minutes", describe(task), end-start)
			}
		}
	}
}

// checkOrder judges that tasks to come stay in their order on a position, and
// that no two are there at once.
func (d *day) checkOrder(t *rapid.T, got *carry.Standing) {
	order := d.byPlan()
	for k, i := range order {
		for _, j := range order[:k] {
			a, b := &d.w.Tasks[j], &d.w.Tasks[i]
			waits := b.Begun == nil && b.Done == nil && !got.Tasks[i].Over
			same := a.Planned.Stage == b.Planned.Stage && a.Planned.Position == b.Planned.Position
			if waits && same && !got.Tasks[j].Over && got.Tasks[i].Start.Minute < got.Tasks[j].End.Minute {
				t.Errorf("%s starts %v, before %s ends %v", describe(b), got.Tasks[i].Start, describe(a), got.Tasks[j].End)
			}
		}
	}
}

func (d *day) byPlan() []int { return d.byPlanOf(d.w) }

// byPlanOf returns the tasks of some work by their planned start.
func (d *day) byPlanOf(w carry.Work) []int {
	order := make([]int, len(w.Tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(w.Tasks[a].Planned.Start.Minute - w.Tasks[b].Planned.Start.Minute)
	})
	return order
}

// checkFlow judges that no more pieces start at a stage than have come to it
// (rule R8), and that a run's pull tasks carry what its tack tasks do (R15).
func (d *day) checkFlow(t *rapid.T, got *carry.Standing) {
	type key struct {
		load, section string
		stage         shop.Stage
	}
	total := map[key]int{}
	for i := range d.w.Tasks {
		task, times := &d.w.Tasks[i], got.Tasks[i]
		p := task.Planned
		total[key{p.Load, p.Section, p.Stage}] += times.Pieces
		if task.Begun != nil || times.Over || p.Stage == shop.Cut || p.Stage == shop.Pull {
			continue
		}
		started, come := 0, map[string]int{}
		for j := range d.w.Tasks {
			other, when := &d.w.Tasks[j], got.Tasks[j]
			if other.Planned.Load != p.Load || other.Planned.Section != p.Section {
				continue
			}
			if other.Planned.Stage == p.Stage && when.Start.Minute <= times.Start.Minute && when.Pieces > 0 {
				started += when.Live
			}
			if other.Planned.Stage == p.Stage-1 {
				come[other.Planned.Prepreg] += 0
				if when.End.Minute <= times.Start.Minute && when.Pieces > 0 {
					come[other.Planned.Prepreg] += goesOn(other, when)
				}
			}
		}
		for prepreg, n := range come {
			if n < started {
				t.Errorf("%s: %d started, and %d came %s", describe(task), started, n, prepreg)
			}
		}
	}
	for k, n := range total {
		if k.stage == shop.Pull && n != total[key{k.load, k.section, shop.Tack}] {
			t.Errorf("load %s %s: %d mandrels are pulled, and %d tacked", k.load, k.section, n, total[key{k.load, k.section, shop.Tack}])
		}
	}
}

func goesOn(task *carry.Task, times carry.TaskTimes) int {
	if task.Done != nil {
		return task.Good
	}
	return times.Live
}

// checkLoads judges the ovens: loads apart and in order, after all wrapping,
// before all pulling.
func (d *day) checkLoads(t *rapid.T, got *carry.Standing) {
	hangs := d.hanging()
	for i := range d.w.Loads {
		l, times := &d.w.Loads[i], got.Loads[i]
		if l.In != nil && times.In.Minute != l.In.Minute || l.Out != nil && times.Out.Minute != l.Out.Minute {
			t.Errorf("load %s was in %v to %v, carried as %v to %v", l.Planned.ID, l.In, l.Out, times.In, times.Out)
		}
		if l.Out != nil || times.Over || !hangs[l.Planned.ID] {
			continue
		}
		if times.Out.Minute <= d.now || times.Out.Minute < l.Planned.Out.Minute || l.In == nil && times.In.Minute < d.now {
			t.Errorf("load %s, now %d, carried as %v to %v", l.Planned.ID, d.now, times.In, times.Out)
		}
		for j, other := range d.w.Loads {
			before := other.In != nil && l.In == nil || other.Planned.In.Minute < l.Planned.In.Minute
			if j != i && before && other.Planned.Oven == l.Planned.Oven && !got.Loads[j].Over && hangs[other.Planned.ID] && times.In.Minute < got.Loads[j].Out.Minute {
				t.Errorf("load %s goes in %v, and %s comes out %v", l.Planned.ID, times.In, other.Planned.ID, got.Loads[j].Out)
			}
		}
		d.checkAround(t, got, l, times)
	}
}

// hanging returns the loads of which a piece got a mandrel or still may. No other
// goes into an oven any more, and its times say nothing.
func (d *day) hanging() map[string]bool {
	hangs := map[string]bool{}
	for i, count := range carry.Pieces(d.w) {
		t := &d.w.Tasks[i]
		if t.Planned.Stage >= shop.Tack && (count.Pieces > 0 || t.Begun != nil || t.Done != nil) {
			hangs[t.Planned.Load] = true
		}
	}
	return hangs
}

func (d *day) checkAround(t *rapid.T, got *carry.Standing, l *carry.Load, times carry.LoadTimes) {
	for i := range d.w.Tasks {
		task, when := &d.w.Tasks[i], got.Tasks[i]
		if task.Planned.Load != l.Planned.ID || when.Over || when.Pieces == 0 {
			continue
		}
		if task.Planned.Stage == shop.Wrap && when.End.Minute > times.In.Minute {
			t.Errorf("%s ends %v, and its load goes in %v", describe(task), when.End, times.In)
		}
		if task.Planned.Stage == shop.Pull && when.Start.Minute < times.Out.Minute {
			t.Errorf("%s starts %v, and its load comes out %v", describe(task), when.Start, times.Out)
		}
	}
}
