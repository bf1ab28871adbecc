package scheduler

import "blankwright/scheduler/instance"

// DefaultSeed is the seed of a plan whose Options name none.
const DefaultSeed = 1

// Options say how to search.
type Options struct {
	Seed     uint64         // 0: DefaultSeed
	Effort   int            // iterations of the search; below 0: DefaultEffort of the shop
	Progress func(Progress) // may be nil; called from one goroutine
	Stop     func() bool    // polled; true ends the search early; may be nil
	// Spent returns the share of the time for the search that is over, from 0 to 1; may
	// be nil. Where time runs faster than the effort is spent, the search cools down
	// with the time, and counts as ended early.
	Spent func() float64
	// Fill has the search go on where its effort is spent before its time is; some of
	// that is left to what comes after it. What it then finds hangs on the clock.
	Fill bool
	// Yield is called before each try, by all goroutines that search, so that they can
	// leave the processors to others for a while; may be nil.
	Yield func()
	// Study is how many changes are tried in each shop with one thing more, to see
	// what that would bring the late lines; 0: there is no study, below 0: a number
	// that suits the plan.
	Study int
}

// Progress is where a search stands. Iteration is 0 as long as there are only first
// answers, Bound as long as none is proven. After the search, Tried tells of how
// many things, of which ToTry are to be tried, one more has been tried.
type Progress struct {
	Iteration, Effort int
	Cost, Bound       float64
	Tried, ToTry      int
}

// DefaultEffort returns the iterations that a shop is given unless Options say
// otherwise: fewer where there is more to make, for there each takes longer, and
// where there is so little that all worth trying is soon tried. It
// is meant for some seconds in a small shop and for half a minute in a season of
// 15,000 pieces, on two processors.
func DefaultEffort(in *instance.Instance) int {
	pieces := 0
	for s := range in.Sections {
		pieces += in.Starts(s, in.Wanted(in.Sections[s].Product))
	}
	many := float64(pieces) / fewPieces
	return min(leastEffort+int(moreEffort/(1+many*many*many)), soonTried+triesPerPiece*pieces)
}

const (
	leastEffort = 15000
	moreEffort  = 90000
	fewPieces   = 1800

	soonTried     = 40000
	triesPerPiece = 40
)

func (o Options) withDefaults(in *instance.Instance) Options {
	if o.Seed == 0 {
		o.Seed = DefaultSeed
	}
	if o.Effort < 0 {
		o.Effort = DefaultEffort(in)
	}
	return o
}
