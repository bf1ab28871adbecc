package binding

import (
	"cmp"
	"slices"
	"sync"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
)

// A Line tells of a line that is late or not wholly planned. A line that ships
// complete with an order counts as not planned when any set of the order is
// not.
type Line struct {
	Line, Order, Product                string
	Quantity                            int
	Due                                 shop.Date
	Ship                                *shop.Date // of its last planned set; nil where it ships nothing
	LateSets, UnallocatedSets, DaysLate int
	Cost                                float64 // of being late or left out
	Binds                               []Cause // the strongest first, at most two
}

// A Cause is one thing that holds a line back: its kind, the id of the
// resource, rule or line where there is one, what it does, with the numbers,
// and how that is known. Proven says that no plan can change it, whatever was
// tried on this one.
type Cause struct {
	Kind, ID, What, How string
	Proven              bool
}

// The kinds of causes. A rule's id is its name in the contract (R1); an order's
// is the line for which the others wait.
const (
	Mandrel  = "mandrel"
	Oven     = "oven"
	Rack     = "rack"
	Station  = "station"
	Crew     = "crew"
	Material = "material"
	Lag      = "lag"
	Time     = "time"
	Rule     = "rule"
	Order    = "order"
)

// mostTried is for how many lines, the dearest, resources are tried one by one.
const mostTried = 60

// Of returns the lines of an answer that are late or not wholly planned, those
// that cost most first.
func Of(a *answer.Answer) []Line {
	fates := fatesOf(a)
	var told []*fate
	for _, f := range fates {
		if f.lateSets > 0 || f.outSets > 0 {
			told = append(told, f)
		}
	}
	slices.SortStableFunc(told, func(x, y *fate) int { return cmp.Compare(y.cost, x.cost) })
	if len(told) == 0 {
		return nil
	}
	lines := make([]Line, len(told))
	var all sync.WaitGroup
	for k := range reporters {
		r := newReporter(a, fates)
		all.Go(func() {
			for i := k; i < len(told); i += reporters {
				lines[i] = told[i].tell(a.In)
				lines[i].Binds = r.causes(told[i], i < mostTried)
			}
		})
	}
	all.Wait()
	return lines
}

// reporters is how many look for causes side by side, of every so-manieth line
// each.
const reporters = 2

// Lines returns what becomes of every line of an answer, in the shop's order,
// without what binds it.
func Lines(a *answer.Answer) []Line {
	lines := make([]Line, len(a.In.Lines))
	for i, f := range fatesOf(a) {
		lines[i] = f.tell(a.In)
	}
	return lines
}

// Causes returns what binds one line, the strongest first: none where it is in
// time.
func Causes(a *answer.Answer, line int) []Cause {
	fates := fatesOf(a)
	if f := fates[line]; f.lateSets > 0 || f.outSets > 0 {
		return newReporter(a, fates).causes(f, true)
	}
	return nil
}

// A reporter looks for causes.
type reporter struct {
	in    *instance.Instance
	a     *answer.Answer // a copy to try things on
	fates []*fate        // by line
	loads [][]*line.Load // by product
	tried map[string][]Cause
	spent int // oven starts tried so far
}

func newReporter(a *answer.Answer, fates []*fate) *reporter {
	r := &reporter{in: a.In, a: a.Copy(), fates: fates, loads: make([][]*line.Load, len(a.In.Products)), tried: map[string][]Cause{}}
	slices.SortFunc(r.a.Loads, func(x, y *line.Load) int { return cmp.Compare(x.ID, y.ID) })
	for _, l := range r.a.Loads {
		for _, run := range l.Runs {
			p := r.in.Sections[run.Section].Product
			if n := len(r.loads[p]); n == 0 || r.loads[p][n-1] != l {
				r.loads[p] = append(r.loads[p], l)
			}
		}
	}
	return r
}

// mostCauses is how many causes are told of a line.
const mostCauses = 2

// causes returns what binds a line. Where resources are not to be tried, the
// last obstacles stand for them.
func (r *reporter) causes(f *fate, try bool) []Cause {
	if f.line.Free {
		return proven(r.notNeeded(f))
	}
	var list []Cause
	switch other := r.waitsFor(f); {
	case other != nil:
		list = proven(r.together(f, other))
		list = append(list, r.own(other, try)...)
	default:
		list = r.own(f, try)
	}
	return list[:min(len(list), mostCauses)]
}

// proven marks causes as proven.
func proven(causes ...Cause) []Cause {
	for i := range causes {
		causes[i].Proven = true
	}
	return causes
}

// own returns what binds a line's own sets.
func (r *reporter) own(f *fate, try bool) []Cause {
	if f.missing > 0 {
		return r.missing(f, try)
	}
	return r.late(f, try)
}
