package construct

import (
	"slices"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// A Rule says how far a first answer looks ahead, in days.
type Rule struct {
	Ahead    int       // a load is made for wants that must be done within so many days of it
	Fill     int       // what room it has left goes to wants of so many days more
	Patience float64   // of the apparent tardiness cost rule
	Least    int       // a want is not begun or gone on with for fewer sets, but to end it
	Wait     line.Tick // how long a load may wait past the instant it is meant for before it is thinned out
	Strain   float64   // how much mandrels that are needed nearly every day press
	Lead     line.Tick // how many working minutes before its oven start a load has its mandrels at hand
	Morning  line.Tick // so many working minutes into a day loads go in, and at its end; 0: whenever
	Evening  line.Tick // so many before the end
	Eager    bool      // loads are worked as early as they can be before their oven start
	Favour   []float64 // by line: how much more urgent it counts as; none: all as they are
}

// Rules are the rules worth trying where people have time to spare, the most
// useful first.
var Rules = []Rule{
	{Ahead: 3, Fill: 1, Patience: 2, Wait: patient, Strain: 2, Lead: 20},
	{Ahead: 4, Patience: 0.3, Wait: 2 * hurried, Strain: 2, Lead: 5},
	{Ahead: 3, Fill: 1, Patience: 5, Wait: patient, Strain: 5, Lead: 5, Morning: 90},
	{Ahead: 3, Fill: 1, Patience: 10, Wait: patient, Strain: 2, Lead: 5},
	{Ahead: 3, Fill: 6, Patience: 0.5, Wait: hurried / 4, Strain: 5, Lead: 5, Morning: 130},
	{Ahead: 3, Fill: 1, Patience: 0.5, Least: 4, Wait: hurried / 2, Strain: 2, Lead: 20},
	{Ahead: 2, Fill: 1, Patience: 2, Wait: hurried / 4, Strain: 5, Lead: 10, Morning: 80, Evening: 5},
	{Ahead: 4, Patience: 10, Least: 4, Wait: patient, Strain: 5, Lead: 10, Morning: 80, Evening: 15},
}

// BusyRules are those for a shop whose people are nearly always busy: there a
// minute that nobody uses is lost.
var BusyRules = []Rule{
	{Ahead: 4, Fill: 4, Patience: 2, Least: 4, Wait: 2 * hurried, Lead: 10, Morning: 130, Eager: true},
	{Ahead: 5, Fill: 2, Patience: 1, Wait: hurried / 2, Lead: 10, Morning: 60, Evening: 10, Eager: true},
	{Ahead: 4, Patience: 1, Wait: hurried, Lead: 20, Morning: 70, Evening: 35, Eager: true},
	{Ahead: 12, Fill: 4, Patience: 1, Least: 4, Wait: hurried / 2, Strain: 2, Lead: 5, Morning: 90, Evening: 35, Eager: true},
	{Ahead: 4, Fill: 4, Patience: 2, Least: 8, Wait: 2 * hurried, Lead: 5, Morning: 70, Evening: 25, Eager: true},
	{Ahead: 5, Fill: 1, Patience: 0.5, Least: 4, Wait: hurried, Lead: 40, Morning: 70, Evening: 10, Eager: true},
	{Ahead: 4, Fill: 1, Patience: 10, Least: 4, Wait: hurried, Strain: 2, Lead: 10, Eager: true},
	{Ahead: 4, Fill: 1, Patience: 5, Wait: hurried, Strain: 2, Lead: 10},
}

// RulesFor returns the rules worth trying for an instance, the most useful
// first.
func RulesFor(in *instance.Instance) []Rule {
	if Busy(in) {
		return BusyRules
	}
	return Rules
}

// Busy reports whether the people of some crew are nearly always busy.
func Busy(in *instance.Instance) bool {
	list, most := wants(in), 0.0
	weighCrews(in, func(capacity float64, use func(section int) float64) {
		need := 0.0
		for i := range list {
			for _, run := range list[i].runs {
				need += float64(run.Pieces) * use(run.Section)
			}
		}
		most = max(most, need/(capacity+1))
	})
	return most > busy
}

// busy is the share of a crew's time up to the horizon that all that is wanted
// takes, set-ups not counted, from which on it is nearly always busy.
const busy = 0.55

// A shop whose people are always busy is served by loads that do not wait: what
// has no room now is made smaller until it has.
const (
	patient      = instance.Never
	hurried      = 240
	patientTries = 80
	hurriedTries = 12
)

// Patience is how much earlier a new load's tasks may start to save a set-up.
const Patience = 480

// Build returns an answer made by a rule: oven after oven as each comes free,
// the most urgent wants that it can cure, that have material and mandrels then,
// and that hang together. It ends early where stop, which it asks before each load
// and which may be nil, says so; what is in no load by then is left out.
func Build(in *instance.Instance, rule Rule, stop func() bool) *answer.Answer {
	return newBuilder(answer.New(in), rule).build(stop)
}

// A builder is an answer on its way.
type builder struct {
	in     *instance.Instance
	rule   Rule
	a      *answer.Answer
	wants  []*want
	claims []claim
	share  []float64   // by section: what a piece takes of the shop
	days   []int       // by day: working days from it on
	free   []line.Tick // by oven: when it is looked at next
	pause  []line.Tick // by oven: how long it waits when there is nothing to cure

	weights [len(ahead)]float64
	scratch scratch
}

// newBuilder returns the builder of an answer. Of loads that this has already it must be
// told: what they carry is wanted no more.
func newBuilder(a *answer.Answer, rule Rule) *builder {
	in := a.In
	b := &builder{in: in, rule: rule, a: a, wants: wants(in), free: make([]line.Tick, len(in.Ovens)), weights: weights(rule.Patience)}
	b.claims = claimsOf(in, b.wants)
	for range in.Ovens {
		b.pause = append(b.pause, shortPause)
	}
	b.share, b.days = shares(in, b.wants), daysLeft(in)
	for _, w := range b.wants {
		for _, run := range w.runs {
			b.claims[w.claim].left += float64(run.Pieces) * b.share[run.Section]
		}
	}
	return b
}

// build makes loads until nothing is wanted, or stop says so.
func (b *builder) build(stop func() bool) *answer.Answer {
	for (stop == nil || !stop()) && b.step() {
		b.a.Table.Keep()
	}
	return b.a
}

// step makes one load, or lets one oven wait; it reports false once every oven
// has come to the horizon or nothing is wanted.
func (b *builder) step() bool {
	oven := b.nextOven()
	if oven == instance.None || len(b.wants) == 0 {
		return false
	}
	at, ok := b.turn(oven)
	if !ok {
		b.free[oven] = b.in.Horizon
		return true
	}
	for _, d := range b.drafts(oven, at) {
		if l := b.try(d); l != nil {
			b.free[oven], b.pause[oven] = max(l.Out, at+1), shortPause
			return true
		}
	}
	b.free[oven] = at + b.pause[oven]
	b.pause[oven] = min(2*b.pause[oven], longPause)
	return true
}

// An oven for which there is nothing to cure waits for so long, at first and in
// the end.
const (
	shortPause = 120
	longPause  = 1440
)

func (b *builder) nextOven() int {
	next := instance.None
	for o, t := range b.free {
		if t < b.in.Horizon && (next == instance.None || t < b.free[next]) {
			next = o
		}
	}
	return next
}

// try places a draft. Where it comes to stand long after it was meant for, it is
// thinned of what it waits for, or filled with what has come free by then.
func (b *builder) try(d *draft) *line.Load {
	for left := tries; len(d.runs) > 0; left-- {
		l, ok := line.NewLoad(b.in, b.a.NewID(), d.oven, d.profile, Sorted(b.in, d.runs))
		if !ok {
			return nil
		}
		l.Target, l.Latest, l.Patience = d.at, d.at+b.rule.Wait, Patience
		l.Eager, l.Strides = b.rule.Eager, !b.rule.Eager
		if l.Tries = patientTries; b.rule.Wait < patient {
			l.Tries = hurriedTries
		}
		var watch line.Watch
		placed := b.a.TryWatched(answer.Change{In: []*line.Load{l}}, &watch)
		wait := l.In - d.at
		switch {
		case !placed && (d.drop(b.in, &watch) || d.halve()):
		case !placed:
			return nil
		case left > 0 && wait > thinAfter && d.drop(b.in, &watch):
		case left > 0 && wait > fillAfter && b.later(d, l.In):
		default:
			b.a.Keep()
			b.taken(l.Runs)
			return l
		}
		if placed {
			b.a.Undo()
		}
	}
	return nil
}

// A draft that finds a place is placed anew at most tries times: thinned out when
// it would wait for more than thinAfter minutes, or filled up when it does for
// more than fillAfter. One that finds none is thinned out until it does.
const (
	tries     = 4
	thinAfter = 240
	fillAfter = 60
)

// taken takes runs off the wants, the most urgent first.
func (b *builder) taken(runs []rack.Run) {
	left := map[int]int{}
	for _, r := range runs {
		left[r.Section] += r.Pieces
	}
	kept := b.wants[:0]
	for _, w := range b.wants {
		open := false
		for i := range w.runs {
			n := min(w.runs[i].Pieces, left[w.runs[i].Section])
			w.runs[i].Pieces -= n
			left[w.runs[i].Section] -= n
			b.claims[w.claim].left -= float64(n) * b.share[w.runs[i].Section]
			open = open || w.runs[i].Pieces > 0
		}
		if open {
			kept = append(kept, w)
		}
	}
	b.wants = kept
}

// Sorted returns runs in the order in which they need the fewest set-ups: by
// tape, then by prepreg, then by mandrel type.
func Sorted(in *instance.Instance, runs []rack.Run) []rack.Run {
	out := append([]rack.Run(nil), runs...)
	slices.SortStableFunc(out, func(x, y rack.Run) int {
		a, b := &in.Sections[x.Section], &in.Sections[y.Section]
		switch {
		case a.Tape != b.Tape:
			return a.Tape - b.Tape
		case a.Cuts[0].Prepreg != b.Cuts[0].Prepreg:
			return a.Cuts[0].Prepreg - b.Cuts[0].Prepreg
		case a.Mandrel != b.Mandrel:
			return a.Mandrel - b.Mandrel
		}
		return a.Index - b.Index
	})
	return out
}
