package ovens

import (
	"math"
	"math/rand/v2"
	"slices"
)

// An annealing is a search for cheaper turns: in heats, each from the best turns
// so far.
type annealing struct {
	*state
	r      *rand.Rand
	choice *choice
	stop   func() bool
	least  Money
	best   [][]*load
}

// There are as many heats as give each heatSteps, but no more than mostHeats.
const (
	mostHeats = 30
	heatSteps = 10000
)

func newAnnealing(s *state, o Options) *annealing {
	return &annealing{
		state: s, r: rand.New(rand.NewPCG(o.Seed, 0)), choice: newChoice(), stop: o.Stop, least: s.total, best: s.all(),
	}
}

// run searches for so many steps, or until nothing costs anything or it is told to
// stop, which it asks between heats and kicks.
func (a *annealing) run(steps int) {
	heats := min(mostHeats, 1+steps/heatSteps)
	for h := 0; h < heats && a.least > 0 && !a.stopped(); h++ {
		if h > 0 {
			a.restore(a.best)
		}
		kicks := int(float64(steps/heats) * a.singles() / 2)
		a.heat(steps/heats - kicks)
		a.kick(kicks)
	}
}

// singles returns the share of the loads that have one lot: between these no lots change
// places, and turns are all that matters.
func (s *state) singles() float64 {
	single, all := 0, 0
	for o := range s.turns {
		for _, l := range s.turns[o] {
			all++
			if len(l.lots) == 1 {
				single++
			}
		}
	}
	return float64(single) / float64(max(1, all))
}

// heat cools down from where random changes are often kept to where hardly any is.
func (a *annealing) heat(steps int) {
	trials := min(mostTrials, steps/8)
	hot, cold := a.temperatures(trials)
	steps -= trials
	t := hot
	for k := range steps {
		if k%coolEvery == 0 {
			t = hot * math.Pow(cold/hot, float64(k)/float64(steps))
		}
		a.step(t)
	}
}

const (
	mostTrials = 1000
	coolEvery  = 64
)

// temperatures returns between which temperatures to search: some trials of what
// random changes cost from here tell what is much and what is little.
func (a *annealing) temperatures(trials int) (hot, cold float64) {
	var costs []float64
	for range trials {
		if !moves[a.choice.draw(a.r)](a.state, a.r) {
			a.discard()
			continue
		}
		if more := a.try() - a.was.total; more > 0 {
			costs = append(costs, float64(more))
		}
		a.undo()
	}
	if len(costs) == 0 {
		return 1, 1
	}
	slices.Sort(costs)
	at := func(share float64) float64 { return costs[int(share*float64(len(costs)-1))] }
	return at(hotShare), max(1, coldPart*at(coldShare))
}

// The temperature at first is the cost that so many of the trials do not exceed,
// that at the end a part of what hardly any does not.
const (
	hotShare  = 0.1
	coldShare = 0.01
	coldPart  = 0.2
)

// step tries one move at a temperature.
func (a *annealing) step(t float64) {
	m := a.choice.draw(a.r)
	if !moves[m](a.state, a.r) {
		a.discard()
		a.choice.note(m, false)
		return
	}
	more := a.try() - a.was.total
	if float64(more) > -t*math.Log(1-a.r.Float64()) {
		a.undo()
		a.choice.note(m, false)
		return
	}
	a.keep()
	a.choice.note(m, more != 0)
	a.note()
}

// note remembers the turns if none were cheaper.
func (a *annealing) note() {
	if a.total < a.least {
		a.least, a.best = a.total, a.all()
	}
}

func (a *annealing) stopped() bool { return a.stop != nil && a.stop() }
