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

// mostLots is how many loads are moved together at most.
const mostLots = 6

// lateStake returns what a line's last late set waits for; ok is false where
// that is pieces that no load of the plan makes.
func (r *reporter) lateStake(f *fate) (s *stake, ok bool) {
	product := &r.in.Products[f.line.Product]
	s = &stake{product: product.Index, good: f.last, due: f.line.Claim, sets: r.setsBefore(product.Index, f.last)}
	for _, share := range f.planned {
		if share.At == f.last {
			s.sets += share.Sets
		}
	}
	day := r.in.Day(f.last)
	for day > 0 && product.Ship[day-1] == product.Ship[day] {
		day--
	}
	from := r.in.Midnight(day)
	ahead := r.aheadOf(s)
	for _, l := range r.loads[product.Index] {
		done, trims := lastTrim(r.in, l, product.Index, from, f.last)
		if !trims {
			continue
		}
		s.lots = append(s.lots, lot{from: l, runs: runsOf(r.in, l, product.Index), target: max(0, l.In-ahead), latest: l.In})
		ok = ok || done == f.last
	}
	slices.SortStableFunc(s.lots, func(x, y lot) int { return cmp.Compare(trimmed(y.from), trimmed(x.from)) })
	s.lots = s.lots[:min(len(s.lots), mostLots)]
	slices.SortStableFunc(s.lots, func(x, y lot) int { return cmp.Compare(x.from.In, y.from.In) })
	return s, ok
}

// newSections returns the sections of which a stake's set needs a piece that the
// plan must make.
func (r *reporter) newSections(s *stake) (sections []int) {
	for _, section := range r.in.Products[s.product].Sections {
		if r.in.Standing(section) < s.sets {
			sections = append(sections, section)
		}
	}
	return sections
}

// setsBefore counts the good sets of a product before an instant.
func (r *reporter) setsBefore(product int, t instance.Tick) (sets int) {
	var trims []cost.Trim
	for _, l := range r.loads[product] {
		trims = cost.Trims(r.in, l, product, trims)
	}
	for _, u := range cost.Sets(r.in, product, trims, r.in.Wanted(product)) {
		if u.At < t {
			sets += u.Sets
		}
	}
	return sets
}

// farthest is how much sooner a load is tried to go in at most. What binds a
// line shows within days; to find it farther off takes too long.
const farthest = 7 * 1440

// aheadOf returns how much sooner a stake's pieces would have to be in the oven
// for the line to be in time, farthest at most. Days are not all alike: a day
// more gives room to find that.
func (r *reporter) aheadOf(s *stake) instance.Tick {
	ship := r.in.Products[s.product].Ship
	for day := r.in.Day(s.good); day >= 0; day-- {
		if ship[day] <= s.due {
			_, last, _ := r.in.Stations[shop.Trim].Calendar.Back(r.in.Midnight(day+1), 1)
			return min(farthest, s.good-last+1440)
		}
	}
	return farthest
}

// lastTrim returns when a load has the last pieces of a product trimmed between
// two instants, both included; ok is false where it has none then.
func lastTrim(in *instance.Instance, l *line.Load, product int, from, to instance.Tick) (last instance.Tick, ok bool) {
	for i := range l.Tasks {
		t := &l.Tasks[i]
		if t.Stage == shop.Trim && in.Sections[t.Section].Product == product && from <= t.End && t.End <= to {
			last, ok = max(last, t.End), true
		}
	}
	return last, ok
}

// runsOf returns a load's runs of a product.
func runsOf(in *instance.Instance, l *line.Load, product int) (runs []rack.Run) {
	for _, run := range l.Runs {
		if in.Sections[run.Section].Product == product {
			runs = append(runs, run)
		}
	}
	return runs
}

// missingStake returns the pieces that a line's missing sets need: of as many
// sets as the loads for them can hold, and nil where not even one set fits.
func (r *reporter) missingStake(f *fate) *stake {
	product := f.line.Product
	planned := r.setsBefore(product, instance.Never)
	for n := f.missing; n > 0; n /= 2 {
		runs := r.runsFor(product, planned+n)
		if lots, ok := r.lotsFor(runs); ok {
			return &stake{product: product, sets: planned + n, good: instance.Never, due: f.line.Claim, lots: lots}
		}
	}
	return nil
}

// runsFor returns the pieces beyond the plan's that so many good sets of a
// product need.
func (r *reporter) runsFor(product, sets int) (runs []rack.Run) {
	for _, s := range r.in.Products[product].Sections {
		carried := r.in.Starts(s, r.in.Wanted(product)) - r.a.Spare[s]
		if n := r.in.Starts(s, sets) - carried; n > 0 {
			runs = append(runs, rack.Run{Section: s, Pieces: n})
		}
	}
	return runs
}

// lotsFor shares runs out to loads: one for all where an oven takes that, else
// one for each section.
func (r *reporter) lotsFor(runs []rack.Run) (lots []lot, ok bool) {
	if r.fits(runs) {
		return []lot{{runs: runs, latest: instance.Never}}, true
	}
	for i := range runs {
		if !r.fits(runs[i : i+1]) {
			return nil, false
		}
		lots = append(lots, lot{runs: runs[i : i+1], latest: instance.Never})
	}
	return lots, len(lots) > 0
}

// fits reports whether an oven that cures runs takes them as one load.
func (r *reporter) fits(runs []rack.Run) bool {
	return len(runs) > 0 && slices.ContainsFunc(r.ways(runs, nil), func(w instance.Way) bool {
		return line.Fits(r.in, w.Oven, runs)
	})
}
