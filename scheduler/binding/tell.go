package binding

import (
	"fmt"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
)

// found tells of the limits that a weighing found to bind: each alone, the best
// of its kind, or two together where none does alone.
func (r *reporter) found(w *weighing) (list []Cause) {
	for i := range w.findings {
		f := &w.findings[i]
		if len(f.lift) == 1 && hasKind(list, kinds[f.lift[0].kind]) {
			continue
		}
		for k, l := range f.lift {
			how := foundHow
			if len(f.lift) > 1 {
				how = fmt.Sprintf(togetherHow, r.name(f.lift[1-k]))
			}
			list = append(list, Cause{Kind: kinds[l.kind], ID: r.id(l), What: r.limitText(w, l, f.loads) + r.gain(w, f), How: how})
		}
	}
	return list
}

func hasKind(list []Cause, kind string) bool {
	return slices.ContainsFunc(list, func(c Cause) bool { return c.Kind == kind })
}

const (
	foundHow    = "Tried on the finished plan: the pieces placed anew, all else as it is, with this one without limit."
	togetherHow = "Tried on the finished plan: the pieces placed anew, all else as it is. No single resource alone, without limit, would make it sooner; this one and %s together would."
)

// gain says what a lift would bring.
func (r *reporter) gain(w *weighing, f *finding) string {
	ship := r.ship(w.stake, f.good)
	limits := "this limit"
	if len(f.lift) > 1 {
		limits = fmt.Sprintf("the limits of %s and %s", r.name(f.lift[0]), r.name(f.lift[1]))
	}
	if w.soonest() >= instance.Never {
		return fmt.Sprintf(". Without %s %s could be good by %s and ship on %s; as it is, they find no place before the horizon ends %s.",
			limits, r.setsText(w), r.at(f.good), ship, r.at(r.in.Horizon))
	}
	was := r.ship(w.stake, w.soonest())
	rest := "in time"
	if days := int(ship - w.due); days > 0 {
		rest = "still " + counted(days, "day") + " late"
	}
	return fmt.Sprintf(". Without %s %s would go into the oven %s%s and ship on %s instead of %s: %s sooner, %s.",
		limits, loadsText(f.loads), r.ins(f.loads), r.insteadOf(w), ship, was, counted(int(was-ship), "day"), rest)
}

// setsText prints how many missing sets a stake is about.
func (r *reporter) setsText(w *weighing) string {
	return counted(w.sets-r.setsBefore(w.product, instance.Never), "set")
}

// insteadOf prints when the last of a stake's loads goes in as the plan stands.
func (r *reporter) insteadOf(w *weighing) string {
	var loads []*line.Load
	for _, lot := range w.lots {
		if lot.from == nil {
			return ""
		}
		loads = append(loads, lot.from)
	}
	return " instead of " + r.ins(loads)
}

func loadsText(loads []*line.Load) string {
	if len(loads) == 1 {
		return "the load"
	}
	return fmt.Sprintf("the last of %d loads", len(loads))
}

// ins prints when the last of some loads goes in.
func (r *reporter) ins(loads []*line.Load) string {
	last := instance.Tick(0)
	for _, l := range loads {
		last = max(last, l.In)
	}
	return r.at(last)
}

// atAPrice tells that a stake could be sooner without lifting anything, and what
// that would cost; ok is false where it could not.
func (r *reporter) atAPrice(w *weighing) (c Cause, ok bool) {
	if r.ship(w.stake, w.base.good) >= r.ship(w.stake, w.good) {
		return Cause{}, false
	}
	more, ok := r.price(&w.base)
	if !ok {
		return Cause{}, false
	}
	what := "the pieces could be"
	if w.good >= instance.Never {
		what = r.setsText(w) + " could still be"
	}
	l := w.base.loads[len(w.base.loads)-1]
	text := fmt.Sprintf("no one resource stands in the way: %s in oven %s on %s and ship on %s, %s",
		what, r.in.Ovens[l.Oven].ID, r.at(l.In), r.ship(w.stake, w.base.good), r.priceText(more.Total()))
	text += fmt.Sprintf(" (late %s, hold %s, oven %s, set-up %s).",
		r.signed(more.Late), r.signed(more.Hold), r.signed(more.Oven), r.signed(more.Setup))
	return Cause{Kind: Oven, ID: r.in.Ovens[l.Oven].ID, What: text, How: "Tried on the finished plan: the pieces placed anew, all else as it is, and the cost counted."}, true
}

func (r *reporter) priceText(more instance.Money) string {
	if more > 0 {
		return fmt.Sprintf("but the plan would cost %.2f more", r.in.Price(more))
	}
	return fmt.Sprintf("and the plan would cost %.2f less: a longer search would come to it", r.in.Price(-more))
}

func (r *reporter) signed(m instance.Money) string { return fmt.Sprintf("%+.2f", r.in.Price(m)) }

// lastMet tells of the last obstacles, where no limit was found to bind.
func (r *reporter) lastMet(w *weighing, tried bool) (list []Cause) {
	how := "No single resource alone, nor this with any other, without limit, would make it sooner; this was among the last in its way when the pieces were placed anew in the finished plan."
	switch {
	case !tried:
		how = "Among the last in its way when the pieces were placed anew in the finished plan. Only for the dearest lines are resources tried one by one; this line is not among them."
	case !w.all:
		how = "None of what stood in its way would alone, without limit, make it sooner; this was among the last when the pieces were placed anew in the finished plan."
	}
	loads := w.loadsAsked(r)
	for i := len(w.met) - 1; i >= 0 && len(list) < mostCauses; i-- {
		l := sorted([]limit{{w.met[i].Kind, w.met[i].Index}})
		if len(l) == 0 || hasKind(list, kinds[l[0].kind]) {
			continue
		}
		list = append(list, Cause{Kind: kinds[l[0].kind], ID: r.id(l[0]), What: r.limitText(w, l[0], loads) + ".", How: how})
	}
	return list
}

// loadsAsked returns the loads that a weighing tried to place, of what it tried
// first.
func (w *weighing) loadsAsked(r *reporter) (loads []*line.Load) {
	for _, j := range w.casts[0].jobs {
		for _, way := range j.ways {
			if l, ok := line.NewLoad(r.in, r.a.NewID(), way.Oven, way.Profile, j.runs); ok {
				l.Tries = manyTries
				loads = append(loads, l)
				break
			}
		}
	}
	return loads
}
