package search

import (
	"math"
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/tidy"
)

// An island is one annealing: an answer on its way, and the best of it so far.
type island struct {
	number int
	a      *answer.Answer
	r      *rand.Rand
	moves  *choice
	best   answer.Money
	kept   answer.Snapshot
	neat   *answer.Answer // the best of those that were tidied on the way
	start  float64        // how much worse a change may be at first, about
	press  pressure
	done   int
	heats  int // so far, with that under way

	adopted answer.Money // by how much other islands' answers bettered its best, summed
	tallies []Tally      // by move
	points  []Point
}

// cold is the temperature at a heat's end, as a share of that at first.
const cold = 0.02

func newIsland(a *answer.Answer, seed uint64, number int) *island {
	return &island{
		number: number, a: a, r: rand.New(rand.NewPCG(seed, uint64(number))), moves: newChoice(),
		best: a.Cost().Total(), kept: a.Snapshot(), tallies: newTallies(),
	}
}

// heat lets an island go on from its best answer at a temperature, given as a
// share of what a load costs with its late sets.
func (is *island) heat(hot float64) {
	is.heats++
	is.a.Restore(is.kept)
	is.start = hot * float64(is.best) / float64(len(is.a.Loads)+1)
	is.press = newPressure(is.a)
}

// adopt has an island go on from the best answer of another, where that is better than
// its own by more than a change may cost as the heat begins: two that are about as good
// are worth more than one twice.
func (is *island) adopt(other *island) {
	if is.best-other.best <= answer.Money(is.start) {
		return
	}
	is.a = other.a.CopyOf(other.kept)
	is.adopted += is.best - other.best
	is.best, is.kept = other.best, is.a.Snapshot()
}

// learnEvery is how many iterations lie between two lessons of which moves pay, and
// lookEvery for each load between two looks at what an answer is worth once it is
// tidied.
const (
	learnEvery = 512
	lookEvery  = 64
)

// step tries one move, at a progress of the heat from 0 to 1.
func (is *island) step(progress float64) {
	if is.done++; is.done%learnEvery == 0 {
		is.moves.learn()
	}
	if is.done%(lookEvery*(1+len(is.a.Loads))) == 0 {
		is.look()
	}
	m := is.moves.draw(is.r)
	laid := is.a.Table.Laid()
	gain := is.try(m, progress)
	is.moves.note(m, gain, is.a.Table.Laid()-laid)
}

// look tidies a copy of the answer as it stands, where that may make it the best: a
// search that trims at once passes by what is worth its while only if its sets wait.
func (is *island) look() {
	c := is.a.Cost()
	least := is.best
	if is.neat != nil {
		least = min(least, is.neat.Cost().Total())
	}
	if c.Hold == 0 || c.Total()-c.Hold >= least {
		return
	}
	a := is.a.Copy()
	if tidy.Answer(a); a.Cost().Total() < least {
		is.neat = a
	}
}

// try tries the m-th move and returns by how much it has bettered the answer as it
// stands, below 0 where it has made it worse.
func (is *island) try(m int, progress float64) (gain answer.Money) {
	tally := &is.tallies[m]
	tally.Drawn++
	c, ok := is.moves.moves[m].Propose(is.a, is.r)
	if !ok {
		return 0
	}
	tally.Proposed++
	before := is.judged()
	if !is.a.Try(c) {
		return 0
	}
	tally.Placed++
	gain = before - is.judged()
	if gain < -is.allowance(progress) {
		is.a.Undo()
		return 0
	}
	is.a.Keep()
	tally.Kept++
	if cost := is.a.Cost().Total(); cost < is.best {
		tally.Bettered++
		tally.Gain += is.best - cost
		is.best, is.kept = cost, is.a.Snapshot()
	}
	return gain
}

// judged returns the cost of the answer as the search sees it.
func (is *island) judged() answer.Money { return is.a.Cost().Total() + is.press.of(is.a) }

// allowance draws how much worse a change may be.
func (is *island) allowance(progress float64) answer.Money {
	return answer.Money(-is.start * math.Pow(cold, progress) * math.Log(1-is.r.Float64()))
}
