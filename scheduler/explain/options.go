package explain

import "blankwright/scheduler/answer"

// Options say how far to look.
type Options struct {
	// Tries is how many changes are tried in each shop, in each of a few rounds, at
	// most; below 0: a number that suits the size of the plan.
	Tries int
	// Stop is polled between two relaxations; true leaves the others out. It may
	// be nil.
	Stop func() bool
	// Report is called after each relaxation, one call at a time. It may be nil.
	Report func(done, all int)
}

// tries returns the tries that suit an answer: fewer in a larger one, for there
// each takes longer.
func (o Options) tries(a *answer.Answer) int {
	if o.Tries < 0 {
		return leastTries + moreTries/(len(a.Loads)+1)
	}
	return o.Tries
}

const (
	leastTries = 10
	moreTries  = 8000
)

// mostRelaxed returns for how many relaxations there is time.
func mostRelaxed(a *answer.Answer) int { return leastRelaxed + moreRelaxed/(len(a.Loads)+1) }

const (
	leastRelaxed = 3
	moreRelaxed  = 800
)
