package construct

import (
	"cmp"
	"slices"
	"sort"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A want is the pieces that one line needs beyond what stands before it.
type want struct {
	line  int
	claim int
	rank  float64 // how urgent it is at the time of the next load
	sets  int
	day   int // the last day on which its sets can be done without being late; -1 where even today is
	runs  []rack.Run
	all   []int           // by run: the pieces of it when nothing was made yet
	from  []instance.Tick // by run: when there is material for it, if it is drawn in the order of wants
}

// wants lists what must be started, the most urgent first.
func wants(in *instance.Instance) []*want {
	var list []*want
	for p := range in.Products {
		list = append(list, productWants(in, &in.Products[p])...)
	}
	slices.SortStableFunc(list, func(x, y *want) int {
		return cmp.Or(cmp.Compare(x.day, y.day), cmp.Compare(in.Lines[y.line].LatePrice, in.Lines[x.line].LatePrice))
	})
	dateMaterial(in, list)
	return list
}

// dateMaterial sets when there is material for each run. Supplies are drawn in
// the order of their arrival, and what none is left for comes never.
func dateMaterial(in *instance.Instance, list []*want) {
	left := make([][]float64, len(in.Prepregs))
	for p := range in.Prepregs {
		for _, row := range in.Prepregs[p].Rows {
			left[p] = append(left[p], row.Area)
		}
	}
	for _, w := range list {
		for _, run := range w.runs {
			from := instance.Tick(0)
			for _, cut := range in.Sections[run.Section].Cuts {
				if in.Prepregs[cut.Prepreg].Limited {
					from = max(from, draw(in.Prepregs[cut.Prepreg].Rows, left[cut.Prepreg], float64(run.Pieces)*cut.Area))
				}
			}
			w.from = append(w.from, from)
		}
	}
}

// draw takes area out of the supplies that come first and returns when the last
// of it comes.
func draw(rows []instance.Supply, left []float64, area float64) (from instance.Tick) {
	for area > 1e-9 {
		first := -1
		for r := range rows {
			if left[r] > 1e-9 && (first < 0 || rows[r].From < rows[first].From) {
				first = r
			}
		}
		if first < 0 {
			return instance.Never
		}
		n := min(area, left[first])
		left[first] -= n
		area -= n
		from = max(from, rows[first].From)
	}
	return from
}

func productWants(in *instance.Instance, p *instance.Product) (list []*want) {
	sets, most := 0, makeable(in, p)
	started := make([]int, len(p.Sections))
	for _, l := range p.Lines {
		line := &in.Lines[l]
		if line.Free {
			continue
		}
		before := sets
		sets = min(sets+line.Quantity, most)
		w := &want{day: lastDay(p, line.Claim), line: l, sets: sets - before}
		for i, section := range p.Sections {
			if n := in.Starts(section, sets) - started[i]; n > 0 {
				w.runs = append(w.runs, rack.Run{Section: section, Pieces: n})
				w.all = append(w.all, n)
				started[i] += n
			}
		}
		if len(w.runs) > 0 {
			list = append(list, w)
		}
	}
	return list
}

// makeable returns how many sets of a product can be made at all: no more than
// there are good pieces of a section that no load can carry.
func makeable(in *instance.Instance, p *instance.Product) int {
	most := 1 << 40
	for _, section := range p.Sections {
		if in.Carried(section) {
			continue
		}
		most = min(most, in.Standing(section))
	}
	return most
}

// lastDay returns the last day on which a set can be done and ship by a date.
func lastDay(p *instance.Product, due shop.Date) int {
	return sort.Search(len(p.Ship), func(day int) bool { return p.Ship[day] > due }) - 1
}
