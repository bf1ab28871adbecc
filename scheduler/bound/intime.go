package bound

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A timing prices pieces: each job has a price that a good piece fetches, on
// whatever day. Its wishes then pay for their sets, or are left out where these are
// too dear; the ovens gain what the pieces of their loads fetch, less what being
// late costs them and the load costs. No plan costs less than what the wishes pay,
// less all that the ovens can gain, each with the best loads one after the other:
// it pays its ovens for what they supply, and they gain no more than that.
type timing struct {
	*wishes
	*timetable
	filler *filler
	yields []float64 // by job
	lags   []Money   // by job: what a piece's weight adds to a load
	early  []int     // by job: where its pieces stand among the arrivals
	price  []Money   // by job: of a good piece
	worth  []Money   // by job: of a piece in a load of the class at hand
	gains  [][]gain  // by way, then class
	loads  [][]int   // by way, then class: of the best there are
}

// loadsInTime bounds what being late and the ovens cost together, where the shop is
// not too large for that, and where a goal can be hoped for. Pieces are worth at
// first what no load exceeds; keys are the set-ups that a set not made may save.
func loadsInTime(in *instance.Instance, loads, keys *relaxed, goal Money) (p Proof) {
	kinds, h := loadKinds(in)
	if len(kinds)*len(in.Lines)*(in.Day(in.Horizon)+1) > tooMuch {
		return p
	}
	credit, _ := keys.credits(true)
	t, ok := newTiming(newWishes(in, credit), kinds, h, loads.worth)
	if !ok {
		return p
	}
	// Only the sum is proven; this is a way to tell it by term. Where nothing is made,
	// the set-ups' credits are more than the sets cost.
	fixed := in.ReleasedCost()
	low := t.climbed(goal - fixed.Oven - fixed.Setup - keys.cost)
	oven := max(0, min(low, loads.cost))
	p.Terms = Terms{Late: max(0, low-oven), Oven: oven, Setup: max(0, keys.cost+min(0, low))}
	p.Oven, p.Setup = p.Oven+fixed.Oven, p.Setup+fixed.Setup
	p.By.Late, p.By.Oven, p.By.Setup = "loads in time", "loads in time", keys.name
	return p
}

// newTiming returns the timing with the prices to begin with: what pieces are worth
// that no load waits for, and what being late costs at least.
func newTiming(w *wishes, kinds []loadKind, h heights, worth []Money) (t *timing, ok bool) {
	t = &timing{wishes: w, worth: make([]Money, len(w.jobs))}
	var lots []lot
	good := make([]int, len(w.in.Sections))
	for j := range t.jobs {
		s := t.jobs[j].section
		yield := w.in.Sections[s].Yield
		t.yields, t.lags = append(t.yields, yield), append(t.lags, lagCost(w.in, s))
		good[s] += t.jobs[j].good
		lots = append(lots, lot{s, int(math.Ceil(float64(t.jobs[j].good) / yield * fine))})
		t.price = append(t.price, plus(t.jobs[j].least(), up(float64(worth[s]+t.lags[j])/yield)))
	}
	t.filler = newFiller(w.in, h, lots, newPieces(w.in, good))
	arrivals, known := arrivalsOf(w.in)
	for j := range t.jobs {
		at, _ := slices.BinarySearch(known, arrivals[t.jobs[j].section])
		t.early = append(t.early, at)
	}
	if t.timetable, ok = newTimetable(w.in, byWay(kinds), known); !ok {
		return nil, false
	}
	for range t.ways {
		t.gains, t.loads = append(t.gains, make([]gain, len(t.classes))), append(t.loads, make([]int, len(t.classes)))
	}
	return t, true
}

// newPieces returns, by section, how many new pieces so many good ones take at most.
// Stock is there at once, so that nothing new is made for what it does.
func newPieces(in *instance.Instance, good []int) (pieces []int) {
	for s, n := range good {
		section := &in.Sections[s]
		fresh := float64(max(0, n-in.Products[section.Product].Stock))
		pieces = append(pieces, int(math.Ceil(fresh/section.Yield)))
	}
	return pieces
}

// arrivalsOf returns when a piece of each section can be wrapped at the earliest,
// and these instants in order.
func arrivalsOf(in *instance.Instance) (at, known []instance.Tick) {
	for s := range in.Sections {
		path := alone.Quickest(in, s, firstMandrel(in, s))
		at = append(at, path.Ends[shop.Wrap])
	}
	known = slices.Clone(at)
	slices.Sort(known)
	return at, slices.Compact(known)
}

// value returns the bound that the prices prove, and by how much each job asks for
// more pieces than the best loads supply.
func (t *timing) value() (low Money, lack []float64) {
	lack = make([]float64, len(t.jobs))
	low = t.demand(lack) - t.standing(lack)
	t.findGains()
	for o := range t.ovens {
		low = max(low-t.best(&t.ovens[o]), -muchMoney)
	}
	t.supply(lack)
	return low, lack
}

// demand returns what the wishes pay, or cost where they are left out.
func (t *timing) demand(lack []float64) (sum Money) {
	for i := range t.all {
		w := &t.all[i]
		price := Money(0)
		for _, j := range w.jobs {
			price = plus(price, t.price[j])
		}
		if price <= w.never {
			for _, j := range w.jobs {
				lack[j] += float64(w.sets)
			}
		}
		sum += Money(w.sets) * min(price, w.never)
	}
	return sum
}

// tolerance is what rounding may add to the good pieces of a section.
const tolerance = 2 * epsilon

// standing returns what the pieces fetch at most that need no new load.
func (t *timing) standing(lack []float64) (sum Money) {
	net := func(j int) Money { return t.price[j] - t.jobs[j].now }
	for s, jobs := range t.bySection {
		if len(jobs) == 0 {
			continue
		}
		slices.SortStableFunc(jobs, func(a, b int) int { return cmp.Compare(net(b), net(a)) })
		left := t.wishes.in.Standing(s)
		if len(t.wishes.in.Sections[s].Trimmed) > 0 {
			left++ // what is left over of their yield adds to the new pieces'
		}
		for _, j := range jobs {
			if n := min(left, t.jobs[j].good); n > 0 && net(j) > 0 {
				sum = plus(sum, share(net(j), n, 1))
				lack[j] -= float64(n)
				left -= n
			}
		}
		sum = plus(sum, up(tolerance*float64(max(0, net(jobs[0])))))
	}
	return sum
}
