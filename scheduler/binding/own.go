package binding

import (
	"fmt"
	"slices"

	"blankwright/scheduler/instance"
)

// missing returns what binds the sets of a line that are not planned.
func (r *reporter) missing(f *fate, try bool) []Cause {
	planned := r.setsBefore(f.line.Product, instance.Never)
	needs := r.runsFor(f.line.Product, planned+1)
	var list []Cause
	for _, run := range needs {
		list = append(list, r.rules(run.Section)...)
	}
	for i := 0; len(list) == 0 && i < len(needs); i++ {
		if c, ok := r.stuck(needs[i].Section); ok {
			list = append(list, c)
		}
	}
	if len(list) > 0 {
		return proven(list...)
	}
	if c, ok := r.lacking(r.runsFor(f.line.Product, planned+f.missing)); ok {
		return proven(c)
	}
	if s := r.missingStake(f); s != nil {
		return r.tellOf(s, try)
	}
	return []Cause{r.unknown(f)}
}

// unknown tells that a set's pieces find no way although each seems to have one.
func (r *reporter) unknown(f *fate) Cause {
	product := r.in.Products[f.line.Product].ID
	return Cause{Kind: Time, What: fmt.Sprintf("the pieces of one more set of %s find no load that takes them.", product), How: "No oven took them when they were hung anew."}
}

// late returns what binds the late sets of a line.
func (r *reporter) late(f *fate, try bool) []Cause {
	s, ok := r.lateStake(f)
	if !ok {
		return proven(r.comesIn(f))
	}
	var list []Cause
	soon, days := r.tooSoon(f, r.newSections(s))
	rest := int(f.ready-f.line.Claim) - days
	if days > 0 && rest == 0 {
		return proven(soon)
	}
	list = r.tellOf(s, try)
	switch {
	case days == 0:
	case days >= rest:
		list = append(proven(soon), list...)
	default:
		list = slices.Insert(list, min(1, len(list)), proven(soon)...)
	}
	return list
}

// comesIn tells that a line waits for pieces that no load of the plan makes.
func (r *reporter) comesIn(f *fate) Cause {
	if f.last == 0 {
		return Cause{
			Kind: Time, What: fmt.Sprintf("its last sets are good at once and ship on %s, as soon as any can.", f.ready),
			How: "They are in stock: only finishing and the days on which the shop ships lie between.",
		}
	}
	return Cause{
		Kind: Time, What: fmt.Sprintf("its last sets are good on %s, when pieces come in or released work trims them; they ship on %s.", r.at(f.last), f.ready),
		How: "What comes in covers them, so that the plan makes no pieces in their stead.",
	}
}

// tellOf weighs a stake and tells what binds it.
func (r *reporter) tellOf(s *stake, try bool) []Cause {
	key := fmt.Sprint(try, s.key())
	if list, ok := r.tried[key]; ok {
		return slices.Clone(list)
	}
	w, tried := r.weigh(s, try)
	var list []Cause
	if c, ok := r.atAPrice(w); ok {
		list = append(list, c)
	}
	list = append(list, r.found(w)...)
	if len(list) == 0 {
		list = r.lastMet(w, tried)
	}
	if len(list) == 0 {
		list = []Cause{{Kind: Time, What: fmt.Sprintf("nothing was met that stands in the way of an earlier start: the pieces take their time from %s on.", r.at(s.lots[0].target)), How: "Placed anew in the finished plan, all else as it is."}}
	}
	r.tried[key] = list
	return slices.Clone(list)
}
