package bound

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A wish is sets of a product that are due together: one piece of each of its jobs
// makes a set. Not made, a set costs never.
type wish struct {
	sets  int
	never Money
	jobs  []int
}

// A job is good pieces of one section. A new piece that is done on a day adds late
// to the cost of its set, one that needs no new load adds now.
type job struct {
	section int
	good    int
	now     Money
	late    []Money // by day; forbidden where no set can be done
}

// Wishes are the demand as jobs.
type wishes struct {
	in        *instance.Instance
	all       []wish
	jobs      []job
	bySection [][]int // jobs
}

// newWishes returns what is wanted of an instance. The price of being late lies on
// the sections of a set in equal parts: none of them is done after the set. A set
// that is not made is credited with something, by product.
func newWishes(in *instance.Instance, credit []Money) *wishes {
	type terms struct {
		due   shop.Date
		price Money
	}
	w := &wishes{in: in, bySection: make([][]int, len(in.Sections))}
	for p := range in.Products {
		first := firstNew(in, p)
		known := map[terms]int{}
		for _, l := range in.Products[p].Lines {
			line := &in.Lines[l]
			if line.Free {
				continue
			}
			i, ok := known[terms{line.Due, line.LatePrice}]
			if !ok {
				i = len(w.all)
				known[terms{line.Due, line.LatePrice}] = i
				w.add(line, first, credit[p])
			}
			w.all[i].sets += line.Quantity
			for _, j := range w.all[i].jobs {
				w.jobs[j].good += line.Quantity
			}
		}
	}
	return w
}

// firstNew returns the first day on which a set can be done that needs new pieces;
// noDay where none can.
func firstNew(in *instance.Instance, product int) (first int) {
	for _, s := range in.Products[product].Sections {
		// Sets that find pieces under way need no new one.
		if in.Standing(s) == in.Products[product].Stock {
			first = max(first, firstDay(in, s))
		}
	}
	return first
}

// add adds the wish of a line, as yet without sets.
func (w *wishes) add(line *instance.Line, first int, credit Money) {
	product := &w.in.Products[line.Product]
	price := func(ship shop.Date) Money { return Money(max(0, ship-line.Due)) * line.LatePrice }
	parts := Money(len(product.Sections))
	late := make([]Money, len(product.Ship))
	for d := range late {
		late[d] = forbidden
		if done := max(d, first); done < len(late) {
			late[d] = price(product.Ship[done]) / parts
		}
	}
	var jobs []int
	for _, s := range product.Sections {
		jobs = append(jobs, len(w.jobs))
		w.bySection[s] = append(w.bySection[s], len(w.jobs))
		w.jobs = append(w.jobs, job{section: s, now: price(product.Ship[0]) / parts, late: late})
	}
	w.all = append(w.all, wish{never: price(product.Never) - credit, jobs: jobs})
}

// least returns what being late adds at least to a set that needs a new piece.
func (j *job) least() Money {
	if j.late[0] == forbidden {
		return 0
	}
	return j.late[0]
}
