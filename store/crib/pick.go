package crib

import (
	"cmp"
	"maps"
	"slices"
	"time"
)

// A Choice is the very mandrels for one need. Lacking is how many it needs and
// does not get.
type Choice struct {
	Need
	Mandrels []Chosen
	Lacking  int
}

// A Chosen is one mandrel of a choice: where it is now, and, where that is not
// the crib, when it is to be back there.
type Chosen struct {
	ID    string
	Place Place
	Back  time.Time
}

// Pick names mandrels for needs, which are in order of Out: first those in
// the crib, the least used first, then those that are to be back by then. None
// is named that comes due within the work: each has a cycle left before every
// limit of its type, counting the needs that it is named for. A mandrel that a
// need gives back may serve a later one.
func Pick(needs []Need, mandrels []Mandrel, limits map[string]Limits) []Choice {
	byType := map[string][]*tool{}
	for _, m := range mandrels {
		if free, ok := m.free(); ok {
			byType[m.Type] = append(byType[m.Type], &tool{Mandrel: m, free: free, away: m.Place != InCrib})
		}
	}
	out := make([]Choice, len(needs))
	for i, need := range needs {
		out[i] = pick(need, byType[need.Type], limits[need.Type])
	}
	return out
}

// free returns from when a mandrel can be issued, the zero time being now, and
// whether that is known.
func (m Mandrel) free() (time.Time, bool) {
	switch m.Place {
	case InCrib:
		return time.Time{}, true
	case Quarantine, Scrapped:
		return time.Time{}, false
	}
	return m.Back, !m.Back.IsZero()
}

// A tool is a mandrel while mandrels are picked.
type tool struct {
	Mandrel
	free time.Time
	away bool // from the crib, now or by an earlier need
	gone bool // a need has it and does not give it back
}

func pick(need Need, tools []*tool, limits Limits) Choice {
	var fit []*tool
	for _, t := range tools {
		if !t.gone && !t.free.After(need.Out) && !t.dueWhenFree(limits) {
			fit = append(fit, t)
		}
	}
	slices.SortFunc(fit, func(x, y *tool) int {
		return cmp.Or(inCribFirst(x, y), cmp.Compare(x.All, y.All), cmp.Compare(x.SinceRecoat, y.SinceRecoat), cmp.Compare(x.ID, y.ID))
	})
	choice := Choice{Need: need, Lacking: max(0, need.Pieces-len(fit))}
	for _, t := range fit[:need.Pieces-choice.Lacking] {
		choice.Mandrels = append(choice.Mandrels, t.take(need))
	}
	return choice
}

func inCribFirst(x, y *tool) int {
	switch {
	case x.away == y.away:
		return 0
	case y.away:
		return -1
	}
	return 1
}

// dueWhenFree reports whether the tool is due once it is in the crib.
func (t *tool) dueWhenFree(limits Limits) bool {
	if t.away {
		return t.comesBackDue(limits)
	}
	return len(t.Due(limits)) > 0
}

// take books the tool for a need and says how it is to be had.
func (t *tool) take(need Need) Chosen {
	chosen := Chosen{ID: t.ID, Place: t.Place, Back: t.free}
	if t.away {
		t.Cycles = t.back()
	}
	t.Place, t.Load, t.free, t.away, t.gone = Issued, need.Load, need.Back, true, need.Back.IsZero()
	return chosen
}

// A LoadType names the mandrels of one type on one load.
type LoadType struct{ Load, Type string }

// Outstanding returns the part of the needs for which mandrels are still to be
// issued, and the issued mandrels with when their load gives them back, where
// the needs tell that. What was tacked before now has its mandrels, whether
// they were booked or not; of the rest, those that a load has had, out on it or
// back from it (used, by load and type), meet the first. A load of which the
// needs tell nothing is over: its mandrels are to be had now.
func Outstanding(needs []Need, mandrels []Mandrel, used map[LoadType]int, now time.Time) ([]Need, []Mandrel) {
	total, coming := map[LoadType]int{}, map[LoadType]int{}
	var left []Need
	for _, n := range needs {
		total[n.key()] += n.Pieces
		if !n.Out.Before(now) {
			left = append(left, n)
			coming[n.key()] += n.Pieces
		}
	}
	had := maps.Clone(used)
	if had == nil {
		had = map[LoadType]int{}
	}
	known := slices.Clone(mandrels)
	for i := range known {
		if m := &known[i]; m.Place == Issued && m.Load != "" {
			had[LoadType{m.Load, m.Type}]++
		}
	}
	backs(needs, known, now)
	for i := range left {
		n := &left[i]
		lacking := min(coming[n.key()], max(0, total[n.key()]-had[n.key()]))
		met := min(n.Pieces, coming[n.key()]-lacking)
		n.Pieces -= met
		coming[n.key()] -= met
	}
	return slices.DeleteFunc(left, func(n Need) bool { return n.Pieces == 0 }), known
}

func (n Need) key() LoadType { return LoadType{n.Load, n.Type} }

// backs fills in when the issued mandrels are back: those of a load in the
// order in which it gives mandrels of their type back.
func backs(needs []Need, mandrels []Mandrel, now time.Time) {
	queue, known := map[LoadType][]Need{}, map[string]bool{}
	for _, n := range needs {
		if !n.Over(now) {
			queue[n.key()], known[n.Load] = append(queue[n.key()], n), true
		}
	}
	for i := range mandrels {
		m := &mandrels[i]
		if m.Place != Issued || m.Load == "" {
			continue
		}
		key := LoadType{m.Load, m.Type}
		switch of := queue[key]; {
		case !known[m.Load]:
			m.Back = now
		case len(of) > 0:
			m.Back = of[0].Back
			if of[0].Pieces--; of[0].Pieces == 0 {
				queue[key] = of[1:]
			}
		}
	}
}
