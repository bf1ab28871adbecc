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
	mandrels      map[int]int // left of those free then
	sets          map[int]int // by line: of how many sets the draft has what is open
	urgency       float64
	full          float64 // pieces that hang at least so long find no room any more
}

// drafts returns a draft for each of an oven's profiles under which something
// urgent can be cured, the most urgent draft first.
func (b *builder) drafts(oven int, at line.Tick) (list []*draft) {
	b.rank(b.in.Day(at))
	for _, profile := range b.in.Ovens[oven].Profiles {
		d := &draft{oven: oven, profile: profile, at: at, mandrels: map[int]int{}, full: math.Inf(1), sets: map[int]int{}}
		b.fill(d, b.in.Day(at)+b.rule.Ahead)
		if len(d.runs) > 0 {
			b.fill(d, b.in.Day(at)+b.rule.Ahead+b.rule.Fill)
			list = append(list, d)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].urgency > list[j].urgency })
	return list
}

// fill adds wants that must be done by a day.
func (b *builder) fill(d *draft, day int) {
	for i := range b.wants {
		if w := &b.wants[i]; w.day <= day {
			b.addSets(d, w)
		}
	}
}

// addSets adds as many of a want's sets as fit: no piece for which the rest of
// its set has no room.
func (b *builder) addSets(d *draft, w *want) {
	runs := b.open(d, w)
	if len(runs) == 0 {
		return
	}
	have := d.sets[w.line]
	low, high := have, w.sets
	for n := high; low < high; n = (low + high + 1) / 2 {
		if b.fits(d, w.upTo(runs, n, have)) {
			low = n
		} else {
			high = n - 1
		}
	}
	if low < w.sets && low-have < b.rule.Least {
		return // a few pieces cost as many set-ups as many do
	}
	b.add(d, w, w.upTo(runs, low, have))
	d.sets[w.line] = low
}

// open returns the indices of a want's runs that can go into a draft.
func (b *builder) open(d *draft, w *want) (runs []int) {
	for r, run := range w.runs {
		if run.Pieces == 0 {
			continue
		}
		if w.from[r] > d.at || b.in.Hanger.Piece(run.Section).Hang >= d.full {
			return nil
		}
		if b.in.Sections[run.Section].Profiles[d.profile] {
			runs = append(runs, r)
		}
	}
	return runs
}

// upTo returns what a want's runs need so that n of its sets are made, beyond
// what is made and what the draft has for its first sets.
func (w *want) upTo(runs []int, n, drafted int) (add []rack.Run) {
	for _, r := range runs {
		all, made := w.all[r], w.all[r]-w.runs[r].Pieces
		need := (all*n + w.sets - 1) / w.sets
		have := max(made, (all*drafted+w.sets-1)/w.sets)
		if need > have {
			add = append(add, rack.Run{Section: w.runs[r].Section, Pieces: need - have})
		}
	}
	return add
}

// fits reports whether the draft can take more runs.
func (b *builder) fits(d *draft, add []rack.Run) bool {
	need := map[int]int{}
	runs := d.runs
	for _, run := range add {
		m := b.in.Sections[run.Section].Mandrel
		if _, known := d.mandrels[m]; !known {
			d.mandrels[m] = b.a.Table.FreeMandrels(m, b.tacking(d.at), d.at+holdAtLeast)
		}
		if need[m] += run.Pieces; need[m] > d.mandrels[m] {
			return false
		}
		runs = with(runs, run.Section, run.Pieces)
	}
	if line.Fits(b.in, d.oven, runs) {
		return true
	}
	if len(add) == 1 && add[0].Pieces == 1 {
		d.full = min(d.full, b.in.Hanger.Piece(add[0].Section).Hang)
	}
	return false
}

func (b *builder) add(d *draft, w *want, add []rack.Run) {
	for _, run := range add {
		d.runs = with(d.runs, run.Section, run.Pieces)
		d.mandrels[b.in.Sections[run.Section].Mandrel] -= run.Pieces
		d.urgency += float64(run.Pieces) * b.share[run.Section] * w.rank
	}
}

// holdAtLeast is about how long a load holds its mandrels from its oven start
// on; tackLead is about how many working minutes before that it takes them.
const (
	holdAtLeast = 360
	tackLead    = 180
)

func (b *builder) tacking(at line.Tick) line.Tick {
	start, _, ok := b.in.Stations[shop.Tack].Calendar.Back(at, tackLead)
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
		d.mandrels[m] = b.a.Table.FreeMandrels(m, b.tacking(at), at+holdAtLeast)
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

// with returns runs with n more pieces of a section.
func with(runs []rack.Run, section, n int) []rack.Run {
	out := append(make([]rack.Run, 0, len(runs)+1), runs...)
	for i := range out {
		if out[i].Section == section {
			out[i].Pieces += n
			return out
		}
	}
	return append(out, rack.Run{Section: section, Pieces: n})
}
