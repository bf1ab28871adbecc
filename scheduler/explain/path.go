package explain

import (
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/relax"
)

// needs reports whether a section's pieces need what a relaxation is of.
func needs(in *instance.Instance, s *instance.Section, r relax.Relaxation) bool {
	switch r.Kind {
	case relax.Mandrel, relax.Material, relax.Expiry, relax.Open:
		return takes(in, s, r)
	case relax.Oven, relax.Hours:
		return slices.ContainsFunc(in.Ways(s.Index), func(w instance.Way) bool { return in.Ovens[w.Oven].ID == r.ID })
	}
	return true
}

// takes reports whether a section takes the mandrel type or prepreg that a
// relaxation is of.
func takes(in *instance.Instance, s *instance.Section, r relax.Relaxation) bool {
	if r.Kind == relax.Mandrel {
		return in.Mandrels[s.Mandrel].ID == r.ID
	}
	return slices.ContainsFunc(s.Cuts, func(c instance.Cut) bool { return in.Prepregs[c.Prepreg].ID == r.ID })
}

// touched returns which changes a relaxation can make possible at first: of one
// mandrel type or prepreg, those of loads that take it.
func touched(in *instance.Instance, r relax.Relaxation) func(answer.Change) bool {
	switch r.Kind {
	case relax.Mandrel, relax.Material, relax.Expiry, relax.Open:
	default:
		return nil
	}
	return func(c answer.Change) bool {
		return carries(c, func(section int) bool { return takes(in, &in.Sections[section], r) })
	}
}
