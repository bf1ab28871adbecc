package scheduler_test

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// A clockwork is the minutes from now to the horizon in which something is open.
type clockwork struct {
	open   []int // the open minutes
	before []int // by minute: open minutes before it
	until  []int // by minute: where the window that holds it ends, 0 where none does
	past   int   // an instant beyond the horizon
}

func newClockwork(spans []shop.Span, now int64, horizon int) *clockwork {
	c := &clockwork{before: make([]int, horizon+2), until: make([]int, horizon+2), past: horizon + 1}
	for _, s := range spans {
		for m := max(s.From, now); m < min(s.To, now+int64(horizon)); m++ {
			c.open = append(c.open, int(m-now))
			c.until[m-now] = int(min(s.To, now+int64(horizon)) - now)
		}
	}
	n := 0
	for m := range c.before {
		c.before[m] = n
		if n < len(c.open) && c.open[n] == m {
			n++
		}
	}
	return c
}

// next returns the first open minute at or after t.
func (c *clockwork) next(t int) int {
	if t >= c.past || c.before[t] == len(c.open) {
		return c.past
	}
	return c.open[c.before[t]]
}

// ahead returns when so many open minutes from start on are over.
func (c *clockwork) ahead(start, minutes int) int {
	if minutes == 0 {
		return start
	}
	if start >= c.past || c.before[start]+minutes > len(c.open) {
		return c.past
	}
	return c.open[c.before[start]+minutes-1] + 1
}

// startFor returns the earliest start from which so many open minutes end at or
// after an instant.
func (c *clockwork) startFor(end, minutes int) int {
	if end <= 0 {
		return 0
	}
	n := c.before[min(end, c.past)-1] - minutes + 1
	switch {
	case n <= 0:
		return 0
	case n >= len(c.open):
		return c.past
	}
	return c.open[n]
}

// A step is one task of a load: some of a run's pieces at a stage.
type step struct {
	stage               shop.Stage
	load, section, turn int // turn counts the tasks of one run at one stage
	prepreg             string
	key                 string
	pieces              int
	start               int
	setup               bool
}

// times is when everything happens, given some loads in the order in which they
// go into the oven and, at some of the stages, the order of their tasks. Where no
// order is given, tasks do not wait for each other: they may all go on at once.
type times struct {
	*toyShop
	loads  []aLoad
	in     []int // by load
	out    []int
	tasks  []step
	orders [shop.StageCount][]int
}

func newTimes(s *toyShop, loads []aLoad) *times {
	t := &times{toyShop: s, loads: loads, in: make([]int, len(loads)), out: make([]int, len(loads))}
	for l, load := range loads {
		for section, n := range load.pieces {
			size := min(n, s.s.Policy.TransferPieces)
			for turn := 0; turn*size < n; turn++ {
				for _, stage := range shop.Stages() {
					t.add(step{stage: stage, load: l, section: section, turn: turn, pieces: size})
				}
			}
		}
	}
	return t
}

// add adds a task; at cut, one for each prepreg.
func (t *times) add(task step) {
	section := &t.sections[task.section]
	switch task.stage {
	case shop.Cut:
		for _, p := range section.prepregs {
			task.prepreg, task.key = p, p
			t.tasks = append(t.tasks, task)
		}
		return
	case shop.Tack:
		task.key = section.Mandrel
	case shop.Wrap:
		task.key = section.Tape
	}
	t.tasks = append(t.tasks, task)
}

// minutes returns a task's working minutes (R6).
func (t *times) minutes(task *step) int {
	per := t.sections[task.section].Minutes.At(task.stage)
	if task.stage == shop.Cut {
		per = t.sections[task.section].cut[task.prepreg]
	}
	work := float64(task.pieces) * per
	if task.setup {
		work += float64(t.s.Stations.At(task.stage).SetupMinutes)
	}
	return max(1, int(math.Ceil(work-1e-6)))
}

func (t *times) end(task *step) int {
	return t.stations[task.stage].ahead(task.start, t.minutes(task))
}

// solve finds the earliest times that keep all rules, and reports whether they
// lie before the horizon. It starts with everything at once and puts off what
// comes too soon until nothing does: no plan has anything earlier.
func (t *times) solve() bool {
	t.prepare()
	for again := true; again; {
		again = false
		for l := range t.loads {
			if first := t.ovenFirst(l); first > t.in[l] {
				t.in[l], again = first, true
			}
			if t.out[l] = t.ovenTable(t.loads[l].cure).out[t.in[l]]; t.out[l] > t.horizon {
				return false
			}
		}
		for i := range t.tasks {
			task := &t.tasks[i]
			first := t.stations[task.stage].next(t.first(task))
			if first > task.start {
				task.start, again = first, true
			}
			if t.end(task) > t.horizon {
				return false
			}
		}
	}
	return true
}

// prepare sets all to now, and says which tasks need a set-up by the orders.
func (t *times) prepare() {
	clear(t.in)
	for i := range t.tasks {
		t.tasks[i].start, t.tasks[i].setup = 0, false
	}
	for stage, order := range t.orders {
		key := t.last[stage]
		for _, i := range order {
			if task := &t.tasks[i]; task.key != "" {
				task.setup = task.key != key
				key = task.key
			}
		}
	}
}

// ovenFirst returns when a load can go in at the earliest.
func (t *times) ovenFirst(l int) int {
	first := 0
	if l > 0 {
		first = t.out[l-1]
	}
	for i := range t.tasks {
		if task := &t.tasks[i]; task.load == l && task.stage == shop.Wrap {
			first = max(first, t.end(task))
		}
	}
	return t.ovenTable(t.loads[l].cure).in[min(first, t.horizon+1)]
}

// first returns the latest of the times before which a task cannot start.
func (t *times) first(task *step) int {
	first := t.afterPosition(task)
	cureStart := t.in[task.load] + t.s.Ovens[0].LoadMinutes
	switch task.stage {
	case shop.Cut:
		return max(first, cureStart-t.maxOpen[task.prepreg])
	case shop.Tack:
		first = max(first, t.mandrelsFrom(task))
	case shop.Wrap:
		first = max(first, t.racksFrom(task.load))
		first = max(first, t.stations[shop.Wrap].startFor(cureStart-t.s.Policy.MaxGreenMinutes, t.minutes(task)))
	case shop.Pull:
		return max(first, t.out[task.load]+t.s.Profiles[t.loads[task.load].profile].RestMinutes)
	}
	for i := range t.tasks {
		before := &t.tasks[i]
		if before.load == task.load && before.section == task.section && before.turn == task.turn && before.stage == task.stage-1 {
			first = max(first, t.end(before))
		}
	}
	return first
}

// afterPosition returns when the position is free for a task, by its order.
func (t *times) afterPosition(task *step) int {
	order := t.orders[task.stage]
	for n := 1; n < len(order); n++ {
		if &t.tasks[order[n]] == task {
			return t.end(&t.tasks[order[n-1]])
		}
	}
	return 0
}

// mandrelsFrom returns when a tack task finds its mandrels, which those that are
// tacked before it, by the order, leave or have given back (R9).
func (t *times) mandrelsFrom(task *step) int {
	mandrel := t.sections[task.section].Mandrel
	free := slices.Clone(t.ready[mandrel])
	taken := 0
	for _, i := range t.orders[shop.Tack] {
		other := &t.tasks[i]
		if other == task {
			break
		}
		if t.sections[other.section].Mandrel == mandrel {
			taken += other.pieces
			for range other.pieces {
				free = append(free, t.backFrom(other))
			}
		}
	}
	need := taken + task.pieces
	if need > len(free) {
		return t.horizon + 1
	}
	slices.Sort(free)
	return free[need-1]
}

// backFrom returns when the mandrels of a tack task are back.
func (t *times) backFrom(tack *step) int {
	for i := range t.tasks {
		pull := &t.tasks[i]
		if pull.stage == shop.Pull && pull.load == tack.load && pull.section == tack.section && pull.turn == tack.turn {
			return t.cleaning.ahead(t.end(pull), t.turnaround[t.sections[pull.section].Mandrel])
		}
	}
	panic("a task that is tacked is pulled")
}

// racksFrom returns when a load finds its rack, which the loads that are wrapped
// before it, by the order, leave or have given back (R5).
func (t *times) racksFrom(load int) int {
	free := slices.Clone(t.racks)
	seen := map[int]bool{}
	for _, i := range t.orders[shop.Wrap] {
		other := t.tasks[i].load
		if other == load {
			break
		}
		if !seen[other] {
			seen[other] = true
			free = append(free, t.pulled(other))
		}
	}
	if len(seen) >= len(free) {
		return t.horizon + 1
	}
	slices.Sort(free)
	return free[len(seen)]
}

// pulled returns when the last of a load is pulled.
func (t *times) pulled(load int) (last int) {
	for i := range t.tasks {
		if task := &t.tasks[i]; task.load == load && task.stage == shop.Pull {
			last = max(last, t.end(task))
		}
	}
	return last
}

// done returns when pieces are trimmed, by section, in order.
func (t *times) done() [][]int {
	done := make([][]int, len(t.sections))
	for i := range t.tasks {
		if task := &t.tasks[i]; task.stage == shop.Trim {
			for range task.pieces {
				done[task.section] = append(done[task.section], t.end(task))
			}
		}
	}
	for _, list := range done {
		slices.Sort(list)
	}
	return done
}

// follow lets tasks in order start, from the i-th on, no sooner than the one before
// ends, and returns when they started.
func (t *times) follow(order []int, i int) (starts []int) {
	for ; i < len(order); i++ {
		task := &t.tasks[order[i]]
		starts = append(starts, task.start)
		if i > 0 {
			task.start = t.stations[task.stage].next(max(task.start, t.end(&t.tasks[order[i-1]])))
		}
	}
	return starts
}

// restore undoes follow.
func (t *times) restore(order []int, i int, starts []int) {
	for k, start := range starts {
		t.tasks[order[i+k]].start = start
	}
}

// setupCost returns what the set-ups cost: at stages without an order, at least
// one for every key but that which is set up.
func (t *times) setupCost() float64 {
	sum := 0.0
	for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Wrap} {
		n := 0
		keys := map[string]bool{t.last[stage]: true}
		for i := range t.tasks {
			task := &t.tasks[i]
			if task.stage != stage {
				continue
			}
			if t.orders[stage] != nil && task.setup || t.orders[stage] == nil && !keys[task.key] {
				n++
			}
			keys[task.key] = true
		}
		sum += float64(n*t.s.Stations.At(stage).SetupMinutes) * t.s.Policy.LabourCost
	}
	return sum
}

// permute gives a stage every order in turn, as long as try asks for more. The
// tasks of one run are alike, so that they stay in theirs.
func (t *times) permute(stage shop.Stage, try func() (more bool)) {
	var all []int
	for i := range t.tasks {
		if t.tasks[i].stage == stage {
			all = append(all, i)
		}
	}
	used := make([]bool, len(all))
	order := make([]int, 0, len(all))
	var next func() bool
	next = func() bool {
		if len(order) == len(all) {
			t.orders[stage] = slices.Clone(order)
			return try()
		}
		for k, i := range all {
			if used[k] || k > 0 && t.waits(all, used, k) {
				continue
			}
			used[k], order = true, append(order, i)
			more := next()
			used[k], order = false, order[:len(order)-1]
			if !more {
				return false
			}
		}
		return true
	}
	next()
}

// waits reports whether an earlier turn of the k-th task's run is not used yet.
func (t *times) waits(all []int, used []bool, k int) bool {
	task := &t.tasks[all[k]]
	for j := range k {
		other := &t.tasks[all[j]]
		if !used[j] && other.load == task.load && other.section == task.section && other.prepreg == task.prepreg {
			return true
		}
	}
	return false
}
