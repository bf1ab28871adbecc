package price

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// mostTried is how large tasks are tried one by one.
const mostTried = 64

// minutesOf returns the least minutes that a piece of a section takes at a stage,
// in whatever task: one of n pieces takes whole minutes, at least one, of which
// each piece bears its part. At the cut it is the sum over prepregs.
func minutesOf(in *instance.Instance, stage shop.Stage, section int) (sum float64) {
	if stage != shop.Cut {
		return share(in, stage, section, 0, in.Sections[section].Minutes[stage])
	}
	for i, cut := range in.Sections[section].Cuts {
		sum += share(in, stage, section, i, cut.Minutes)
	}
	return sum
}

func share(in *instance.Instance, stage shop.Stage, section, cut int, minutes float64) float64 {
	least := float64(max(1, in.Work(stage, section, cut, 1)))
	for n := 2; n <= min(in.Transfer, mostTried); n++ {
		least = min(least, float64(max(1, in.Work(stage, section, cut, n)))/float64(n))
	}
	if in.Transfer > mostTried {
		least = min(least, max(0, minutes-tolerance)) // no task takes less than its pieces' minutes
	}
	return least
}

// tolerance is the contract's for decimals.
const tolerance = 1e-6
