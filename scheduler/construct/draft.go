package construct

import (
	"math"
	"sort"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A draft is the runs meant for one oven at one instant under one profile.
type draft struct {
	oven, profile int
	at            line.Tick
	runs          []rack.Run
	mandrels      []int       // by type: left of those free then; unasked where that was not asked
	sets          map[int]int // by line: of how many sets the draft has what is open
	urgency       float64
	full          float64 // pieces that hang at least so long find no room any more
}

// unasked stands for a number of mandrels that nobody needed to know.
const unasked = -1 << 40

// scratch is memory of a builder's that serves want after want.
type scratch struct {
	open []int
	add  []rack.Run
	runs []rack.Run
}

// drafts returns a draft for each of an oven's profiles under which something
// urgent can be cured, the most urgent draft first.
func (b *builder) drafts(oven int, at line.Tick) (list []*draft) {
	b.rank(b.in.Day(at))
	for _, profile := range b.in.Ovens[oven].Profiles {
		d := b.draft(oven, profile, at)
		b.fill(d, b.in.Day(at)+b.rule.Ahead)
		if len(d.runs) > 0 {
			b.fill(d, b.in.Day(at)+b.rule.Ahead+b.rule.Fill)
			list = append(list, d)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].urgency > list[j].urgency })
	return list
}

// draft returns a draft without runs.
func (b *builder) draft(oven, profile int, at line.Tick) *draft {
	d := &draft{oven: oven, profile: profile, at: at, full: math.Inf(1), sets: map[int]int{}}
	for range b.in.Mandrels {
		d.mandrels = append(d.mandrels, unasked)
	}
	return d
}

// fill adds wants that must be done by a day.
func (b *builder) fill(d *draft, day int) {
	for _, w := range b.wants {
		if w.day <= day {
			b.addSets(d, w)
		}
	}
}

// addSets adds as many of a want's sets as fit: no piece for which the rest of
// its set has no room.
func (b *builder) addSets(d *draft, w *want) {
	if !b.open(d, w) {
		return
	}
	have := d.sets[w.line]
	low, high := have, w.sets
	for n := high; low < high; n = (low + high + 1) / 2 {
		if b.upTo(w, n, have); b.fits(d) {
			low = n
		} else {
			high = n - 1
		}
	}
	if low < w.sets && low-have < b.rule.Least {
		return // a few pieces cost as many set-ups as many do
	}
	b.upTo(w, low, have)
	b.add(d, w)
	d.sets[w.line] = low
}

// open finds which of a want's runs can go into a draft, and reports whether any
// can.
func (b *builder) open(d *draft, w *want) bool {
	open := b.scratch.open[:0]
	for r, run := range w.runs {
		if run.Pieces == 0 {
			continue
		}
		if w.from[r] > d.at || b.in.Hanger.Piece(run.Section).Hang >= d.full {
			return false
		}
		if b.in.Sections[run.Section].Profiles[d.profile] {
			open = append(open, r)
		}
	}
	b.scratch.open = open
	return len(open) > 0
}

// upTo finds what a want's open runs need so that n of its sets are made, beyond
// what is made and what the draft has for its first sets.
func (b *builder) upTo(w *want, n, drafted int) {
	add := b.scratch.add[:0]
	for _, r := range b.scratch.open {
		all, made := w.all[r], w.all[r]-w.runs[r].Pieces
		need := (all*n + w.sets - 1) / w.sets
		have := max(made, (all*drafted+w.sets-1)/w.sets)
		if need > have {
			add = append(add, rack.Run{Section: w.runs[r].Section, Pieces: need - have})
		}
	}
	b.scratch.add = add
}

// fits reports whether a draft can take what upTo found.
func (b *builder) fits(d *draft) bool {
	add := b.scratch.add
	runs := append(b.scratch.runs[:0], d.runs...)
	for i, run := range add {
		m := b.in.Sections[run.Section].Mandrel
		if d.mandrels[m] == unasked {
			d.mandrels[m] = b.a.Table.FreeMandrels(m, b.tacking(d.at), d.at+holdAtLeast)
		}
		need := 0
		for _, other := range add[:i+1] {
			if b.in.Sections[other.Section].Mandrel == m {
				need += other.Pieces
			}
		}
		if need > d.mandrels[m] {
			return false
		}
		runs = plus(runs, run)
	}
	b.scratch.runs = runs
	if line.Fits(b.in, d.oven, runs) {
		return true
	}
	if len(add) == 1 && add[0].Pieces == 1 {
		d.full = min(d.full, b.in.Hanger.Piece(add[0].Section).Hang)
	}
	return false
}

// add adds what upTo found to a draft.
func (b *builder) add(d *draft, w *want) {
	for _, run := range b.scratch.add {
		d.runs = plus(d.runs, run)
		d.mandrels[b.in.Sections[run.Section].Mandrel] -= run.Pieces
		d.urgency += float64(run.Pieces) * b.share[run.Section] * w.rank
	}
}

// holdAtLeast is about how long a load holds its mandrels from its oven start on.
const holdAtLeast = 360

func (b *builder) tacking(at line.Tick) line.Tick {
	start, _, ok := b.in.Stations[shop.Tack].Calendar.Back(at, b.rule.Lead)
	if !ok {
		return 0
	}
	return start
}

// later moves a draft to a later instant and fills it with what has its mandrels
// and material by then. It reports whether that brought anything.
func (b *builder) later(d *draft, at line.Tick) bool {
	before := len(d.runs)
	pieces := 0
	for _, run := range d.runs {
		pieces += run.Pieces
	}
	d.at = at
	for m := range d.mandrels {
		if d.mandrels[m] != unasked {
			d.mandrels[m] = b.a.Table.FreeMandrels(m, b.tacking(at), at+holdAtLeast)
		}
	}
	for _, run := range d.runs {
		d.mandrels[b.in.Sections[run.Section].Mandrel] -= run.Pieces
		pieces -= run.Pieces
	}
	b.fill(d, b.in.Day(at)+b.rule.Ahead+b.rule.Fill)
	for _, run := range d.runs {
		pieces += run.Pieces
	}
	return len(d.runs) > before || pieces > 0
}

// drop takes out of a draft what it waited for: half of the pieces of a mandrel
// type, or those of a prepreg. It reports false where it finds no such thing.
func (d *draft) drop(in *instance.Instance, watch *line.Watch) bool {
	dropped := false
	for _, o := range watch.Obstacles {
		for i := range d.runs {
			section := &in.Sections[d.runs[i].Section]
			if o.Kind == line.MandrelsOut && section.Mandrel == o.Index || o.Kind == line.NoMaterial && uses(section, o.Index) {
				d.runs[i].Pieces /= 2
				dropped = true
			}
		}
	}
	d.tidy()
	return dropped
}

// halve takes about half of a draft's pieces out, the least urgent. It reports
// false where there is no half.
func (d *draft) halve() bool {
	pieces := 0
	for _, r := range d.runs {
		pieces += r.Pieces
	}
	if pieces < 2 {
		return false
	}
	left := pieces / 2
	for i := range d.runs {
		d.runs[i].Pieces = min(d.runs[i].Pieces, left)
		left -= d.runs[i].Pieces
	}
	d.tidy()
	return true
}

// tidy takes out runs of which nothing is left.
func (d *draft) tidy() {
	kept := d.runs[:0]
	for _, r := range d.runs {
		if r.Pieces > 0 {
			kept = append(kept, r)
		}
	}
	d.runs = kept
}

func uses(section *instance.Section, prepreg int) bool {
	for _, c := range section.Cuts {
		if c.Prepreg == prepreg {
			return true
		}
	}
	return false
}

// plus adds a run to runs, in their own memory where there is room.
func plus(runs []rack.Run, add rack.Run) []rack.Run {
	for i := range runs {
		if runs[i].Section == add.Section {
			runs[i].Pieces += add.Pieces
			return runs
		}
	}
	return append(runs, add)
}
