package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// A Move proposes one change of an answer; ok is false where it finds none.
type Move interface {
	Name() string
	Propose(a *answer.Answer, r *rand.Rand) (c answer.Change, ok bool)
}

// All returns every move, in the order in which their counters are listed.
func All() []Move {
	return []Move{Repack{}, Shift{}, Reassign{}, Transfer{}, Swap{}, Barter{}, Merge{}, Split{}, Close{}, Hasten{}, Exchange{}, Turn{}, Squeeze{}, Precede{}, Requeue{}, Gather{}, Reorder{}, Patience{}, Start{}, Replace{}, Drop{}}
}

// pick returns a load of the answer at random, nil where there is none.
func pick(a *answer.Answer, r *rand.Rand) *line.Load {
	if len(a.Loads) == 0 {
		return nil
	}
	return a.Loads[r.IntN(len(a.Loads))]
}

// near returns another load whose oven start lies at most days from l's; where
// a few draws find none, as in a shop of few long cures, any other; nil where
// they find no other at all.
func near(a *answer.Answer, r *rand.Rand, l *line.Load, days int) *line.Load {
	var other *line.Load
	for range 6 {
		draw := pick(a, r)
		if draw == l {
			continue
		}
		if d := draw.In - l.In; d <= days*1440 && -d <= days*1440 {
			return draw
		}
		other = draw
	}
	return other
}

// changed returns a load like l with other runs, or ok false where they do not
// fit its oven or the profile does not qualify for them.
func changed(a *answer.Answer, l *line.Load, runs []rack.Run) (*line.Load, bool) {
	return made(a, l, l.Oven, l.Profile, runs)
}

// made returns a load with l's target in another oven, under another profile or
// with other runs.
func made(a *answer.Answer, l *line.Load, oven, profile int, runs []rack.Run) (*line.Load, bool) {
	for _, run := range runs {
		if !a.In.Sections[run.Section].Profiles[profile] {
			return nil, false
		}
	}
	out, ok := line.NewLoad(a.In, a.NewID(), oven, profile, runs)
	if ok {
		out.Target, out.Patience, out.Haste = l.Target, l.Patience, l.Haste
		out.Eager, out.Strides, out.Cuts = l.Eager, l.Strides, l.Cuts
		out.Latest = l.In + l.LateAtMost()
	}
	return out, ok
}

// without returns runs with n pieces of a section fewer.
func without(runs []rack.Run, section, n int) []rack.Run {
	out := make([]rack.Run, 0, len(runs))
	for _, run := range runs {
		if run.Section == section {
			run.Pieces -= n
		}
		if run.Pieces > 0 {
			out = append(out, run)
		}
	}
	return out
}

// plus returns runs with n pieces of a section more, a new run at the end.
func plus(runs []rack.Run, section, n int) []rack.Run {
	out := append(make([]rack.Run, 0, len(runs)+1), runs...)
	for i := range out {
		if out[i].Section == section {
			out[i].Pieces += n
			return out
		}
	}
	return append(out, rack.Run{Section: section, Pieces: n})
}

// with is plus with a new run where it saves set-ups.
func with(in *instance.Instance, runs []rack.Run, section, n int) []rack.Run {
	out := plus(runs, section, n)
	if len(out) > len(runs) {
		return sorted(in, out)
	}
	return out
}

func sorted(in *instance.Instance, runs []rack.Run) []rack.Run { return construct.Sorted(in, runs) }

// mandrelRoom returns how many more pieces of a section a load of the given
// runs can have mandrels for.
func mandrelRoom(in *instance.Instance, runs []rack.Run, section int) int {
	mandrel := in.Sections[section].Mandrel
	room := in.Mandrels[mandrel].Total
	for _, run := range runs {
		if in.Sections[run.Section].Mandrel == mandrel {
			room -= run.Pieces
		}
	}
	return room
}

// combined returns the runs of two loads as those of one.
func combined(in *instance.Instance, a, b []rack.Run) []rack.Run {
	for _, run := range b {
		a = with(in, a, run.Section, run.Pieces)
	}
	return a
}

// some returns a number of pieces of a run to move: mostly all of them, or so
// many that what moves, or what stays, is whole transfer batches.
func some(in *instance.Instance, r *rand.Rand, run rack.Run) int {
	if run.Pieces == 1 || r.IntN(2) == 0 {
		return run.Pieces
	}
	rest := run.Pieces % in.Transfer
	switch r.IntN(3) {
	case 0:
		if rest > 0 {
			return rest
		}
	case 1:
		if run.Pieces > in.Transfer {
			return in.Transfer * (1 + r.IntN(run.Pieces/in.Transfer))
		}
	}
	return 1 + r.IntN(run.Pieces)
}

// way returns an oven and profile at random that qualify for all runs and whose
// oven takes them, other than l's own.
func way(a *answer.Answer, r *rand.Rand, l *line.Load) (oven, profile int, ok bool) {
	for range 6 {
		oven = r.IntN(len(a.In.Ovens))
		profiles := a.In.Ovens[oven].Profiles
		if len(profiles) == 0 {
			continue
		}
		profile = profiles[r.IntN(len(profiles))]
		if oven != l.Oven || profile != l.Profile {
			return oven, profile, true
		}
	}
	return 0, 0, false
}
