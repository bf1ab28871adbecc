package move

import (
	"math/rand/v2"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
)

// Split makes two loads of one.
type Split struct{}

// Name returns the move's name in a trace.
func (Split) Name() string { return "split" }

// Propose proposes to take some runs of a load, or pieces of one, into a load
// of their own at another time.
func (Split) Propose(a *answer.Answer, r *rand.Rand) (answer.Change, bool) {
	l := pick(a, r)
	if l == nil {
		return answer.Change{}, false
	}
	var stay, leave []rack.Run
	for _, run := range l.Runs {
		if r.IntN(3) > 0 {
			stay = append(stay, run)
			continue
		}
		n := some(a.In, r, run)
		leave = append(leave, rack.Run{Section: run.Section, Pieces: n})
		if n < run.Pieces {
			stay = append(stay, rack.Run{Section: run.Section, Pieces: run.Pieces - n})
		}
	}
	if len(stay) == 0 || len(leave) == 0 {
		return answer.Change{}, false
	}
	kept, ok := changed(a, l, stay)
	if !ok {
		return answer.Change{}, false
	}
	apart, ok := changed(a, l, leave)
	if !ok {
		return answer.Change{}, false
	}
	apart.Target = otherTime(a, r, l)
	apart.Latest = apart.Target + l.LateAtMost()
	return answer.Change{Out: []*line.Load{l}, In: []*line.Load{kept, apart}}, true
}
