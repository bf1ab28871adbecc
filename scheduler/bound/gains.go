package bound

// A gain is what the best load of a way and a class gains.
type gain struct {
	money Money
	kind  int // of the way's
}

// findGains finds what the best load of each way and class gains.
func (t *timing) findGains() {
	for w := range t.gains {
		clear(t.gains[w])
		clear(t.loads[w])
	}
	for c := range t.classes {
		t.load(c)
		for w := range t.ways {
			g := &t.gains[w][c]
			for _, k := range t.ways[w].tried {
				kind := &t.ways[w].kinds[k]
				if money := t.filler.most(kind.racks, kind.way.Profile) - kind.price; money > g.money {
					*g = gain{money, k}
				}
			}
		}
	}
}

// load says what pieces are worth in a load of a class: what a good one fetches,
// times the yield.
func (t *timing) load(number int) {
	c := t.classes[number]
	for j := range t.jobs {
		t.worth[j] = 0
		if late := t.jobs[j].late[c.day]; t.early[j] < c.arrived && late < t.price[j] {
			t.worth[j] = up(float64(t.price[j]-late)*t.yields[j]) - t.lags[j]
		}
	}
	t.filler.set(t.worth)
}

// best returns what an oven gains by the best loads one after the other, and notes
// these.
func (t *timing) best(s *slots) Money {
	if len(s.ways) == 0 {
		return 0
	}
	cells := len(s.next[0])
	from, by := make([]Money, cells+1), make([]int, cells) // by cell: the gain from there on, and its first load's way
	for k := cells - 1; k >= 0; k-- {
		from[k], by[k] = from[k+1], never
		for i, w := range s.ways {
			next := s.next[i][k]
			if next == never {
				continue
			}
			if g := t.gains[w][s.class[i][k]].money; g > 0 && plus(g, from[next]) > from[k] {
				from[k], by[k] = plus(g, from[next]), i
			}
		}
	}
	for k := 0; k < cells; {
		i := by[k]
		if i == never {
			k++
			continue
		}
		t.loads[s.ways[i]][s.class[i][k]]++
		k = int(s.next[i][k])
	}
	return from[0]
}

// supply takes off what each job lacks what the best loads hold.
func (t *timing) supply(lack []float64) {
	for c := range t.classes {
		set := false
		for w := range t.ways {
			n := t.loads[w][c]
			if n == 0 {
				continue
			}
			if !set {
				t.load(c)
				set = true
			}
			kind := &t.ways[w].kinds[t.gains[w][c].kind]
			t.filler.most(kind.racks, kind.way.Profile)
			for j, pieces := range t.filler.amount {
				lack[j] -= float64(n) * pieces * t.yields[j]
			}
		}
	}
}
