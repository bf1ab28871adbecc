package sheet

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// A PrepregNeed is what the day's cutting takes of one prepreg, waste of
// nesting included. Draws name the supply that it comes from, and are empty
// where the prepreg is unlimited.
type PrepregNeed struct {
	Prepreg  string       `json:"prepreg"`
	M2       float64      `json:"m2"`
	FirstCut shop.Instant `json:"first_cut"`
	Draws    []Draw       `json:"draws"`
}

// A Draw is what is taken of one supply row.
type Draw struct {
	Supply  string       `json:"supply"`
	M2      float64      `json:"m2"`
	Expires shop.Instant `json:"expires"`
}

// prepregs returns the needs of the cut tasks that begin on this day, by
// first cut.
func (b *builder) prepregs() []PrepregNeed {
	needs := map[string]*PrepregNeed{}
	left := make([]float64, len(b.shop.Supply)) // m2, by supply row
	for i, row := range b.shop.Supply {
		left[i] = row.M2
	}
	for _, t := range b.drawing() {
		if t.Start.Minute >= b.to {
			break
		}
		area := float64(t.Pieces) * b.area(t.Section, t.Prepreg)
		draws := b.draw(t, area, left)
		if !b.holds(t.Start.Minute) {
			continue
		}
		need := needs[t.Prepreg]
		if need == nil {
			need = &PrepregNeed{Prepreg: t.Prepreg, FirstCut: b.instant(t.Start.Minute), Draws: []Draw{}}
			needs[t.Prepreg] = need
		}
		need.M2 += area
		need.add(draws)
	}
	return sorted(needs)
}

func sorted(needs map[string]*PrepregNeed) []PrepregNeed {
	out := []PrepregNeed{}
	for _, n := range needs {
		out = append(out, *n)
	}
	slices.SortFunc(out, func(x, y PrepregNeed) int {
		return cmp.Or(cmp.Compare(x.FirstCut.Minute, y.FirstCut.Minute), cmp.Compare(x.Prepreg, y.Prepreg))
	})
	return out
}

func (n *PrepregNeed) add(draws []Draw) {
	for _, d := range draws {
		i := slices.IndexFunc(n.Draws, func(have Draw) bool { return have.Supply == d.Supply })
		if i < 0 {
			n.Draws = append(n.Draws, d)
			continue
		}
		n.Draws[i].M2 += d.M2
	}
}

// drawing returns the cut tasks that draw on supply, in the order in which
// they do (rule R12): a released one that began before now has drawn already.
func (b *builder) drawing() []*shop.Task {
	var out []*shop.Task
	for i := range b.plan.Tasks {
		t := &b.plan.Tasks[i]
		drawn := b.released[t.Load] && t.Start.Minute < b.shop.Now.Minute
		if t.Stage == shop.Cut && !drawn {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(x, y *shop.Task) int { return cmp.Compare(x.Start.Minute, y.Start.Minute) })
	return out
}

// draw takes an area from the supply that serves a task, the first to expire
// first, and returns what it took.
func (b *builder) draw(t *shop.Task, area float64, left []float64) []Draw {
	cure := t.End.Minute
	if l, ok := b.load[t.Load]; ok {
		cure = l.CureStart.Minute
	}
	var out []Draw
	for _, i := range b.inDrawOrder(t.Prepreg) {
		row := &b.shop.Supply[i]
		if row.From.Minute > t.Start.Minute || row.Expires.Minute < cure || left[i] <= tolerance {
			continue
		}
		m2 := min(area, left[i])
		left[i] -= m2
		area -= m2
		out = append(out, Draw{row.ID, m2, b.instant(row.Expires.Minute)})
		if area <= tolerance {
			break
		}
	}
	return out
}

// inDrawOrder returns the indices of a prepreg's supply rows by expiry, then
// by the instant from which they are there, then as the file has them.
func (b *builder) inDrawOrder(prepreg string) []int {
	var rows []int
	for i, row := range b.shop.Supply {
		if row.Prepreg == prepreg {
			rows = append(rows, i)
		}
	}
	slices.SortStableFunc(rows, func(x, y int) int { return shop.InDrawOrder(&b.shop.Supply[x], &b.shop.Supply[y]) })
	return rows
}

// area returns the square metres of one prepreg that one piece of a section
// uses; 0 where the shop has no such prepreg.
func (b *builder) area(section, prepreg string) float64 {
	p, ok := b.prepreg[prepreg]
	if !ok {
		return 0
	}
	return b.section(section).M2(p)
}
