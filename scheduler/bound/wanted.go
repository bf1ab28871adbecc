package bound

import (
	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
)

// wantedPieces returns, by section, the pieces that must be started so that
// everything that can be made of what is wanted is.
func wantedPieces(in *instance.Instance) []int {
	pieces := make([]int, len(in.Sections))
	for p := range in.Products {
		sets := toMake(in, p)
		for _, s := range in.Products[p].Sections {
			pieces[s] = in.Starts(s, sets)
		}
	}
	return pieces
}

// toMake returns how many sets of a product are wanted and can be made.
func toMake(in *instance.Instance, product int) int {
	sets := in.Wanted(product)
	for _, s := range in.Products[product].Sections {
		if standing := in.Standing(s); standing < sets && firstDay(in, s) == noDay {
			sets = standing
		}
	}
	return sets
}

// noDay is a day past every horizon.
const noDay = 1 << 30

// firstDay returns the day on which a new piece of a section can be done at the
// earliest; noDay where none can.
func firstDay(in *instance.Instance, section int) int {
	if !in.Carried(section) {
		return noDay
	}
	path := alone.Quickest(in, section, firstMandrel(in, section))
	done := path.Trimmed()
	if done >= instance.Never {
		return noDay
	}
	return in.Day(done)
}

// firstMandrel returns when a section finds a mandrel at the earliest.
func firstMandrel(in *instance.Instance, section int) instance.Tick {
	pool := &in.Mandrels[in.Sections[section].Mandrel]
	for i, n := range pool.Count {
		if n > 0 {
			return pool.From[i]
		}
	}
	return instance.Never
}
