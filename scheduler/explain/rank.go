package explain

import (
	"cmp"
	"slices"

	"blankwright/scheduler/binding"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/relax"
)

// named are the kinds of relaxations that a kind of cause is mended by.
var named = map[string][]relax.Kind{
	binding.Mandrel: {relax.Mandrel}, binding.Oven: {relax.Oven, relax.Hours}, binding.Rack: {relax.Rack},
	binding.Station: {relax.Position}, binding.Crew: {relax.Crew}, binding.Material: {relax.Material, relax.Expiry},
	binding.Lag: {relax.Open, relax.Green},
}

// names reports whether a cause names what a relaxation is of.
func names(c *binding.Cause, r relax.Relaxation) bool {
	return c.ID == r.ID && slices.Contains(named[c.Kind], r.Kind)
}

// ranked returns the relaxations of what some lines need on their way, those
// first that are named among what binds the lines that cost most, then those
// that most of the cost needs; at most so many.
func ranked(in *instance.Instance, lines []binding.Line, most int) []relax.Relaxation {
	type entry struct {
		r           relax.Relaxation
		named, path float64
	}
	var list []entry
	for _, r := range relax.All(in.Shop) {
		e := entry{r: r}
		wanted := false
		for i := range lines {
			l := &lines[i]
			for k := range l.Binds {
				if names(&l.Binds[k], r) {
					wanted, e.named = true, e.named+1+l.Cost
				}
			}
			if onPath(in, l, r) {
				wanted, e.path = true, e.path+1+l.Cost
			}
		}
		if wanted {
			list = append(list, e)
		}
	}
	slices.SortStableFunc(list, func(x, y entry) int {
		return cmp.Or(cmp.Compare(y.named, x.named), cmp.Compare(y.path, x.path))
	})
	var out []relax.Relaxation
	for _, e := range list[:min(len(list), most)] {
		out = append(out, e.r)
	}
	return out
}

// onPath reports whether the pieces of a line's product need what a relaxation is
// of.
func onPath(in *instance.Instance, l *binding.Line, r relax.Relaxation) bool {
	for p := range in.Products {
		if in.Products[p].ID != l.Product {
			continue
		}
		return slices.ContainsFunc(in.Products[p].Sections, func(s int) bool { return needs(in, &in.Sections[s], r) })
	}
	return false
}
