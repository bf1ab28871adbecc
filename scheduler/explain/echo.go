package explain

import (
	"blankwright/scheduler/answer"
	"blankwright/scheduler/line"
)

// echo makes the changes that led to an answer with one thing more in the plan
// without it, all at once, and returns where that comes to; the base where they
// find no place, or cost more.
func (c *comparison) echo(more *answer.Answer) *standing {
	a := answer.Read(c.in, c.plan)
	change, ok := changesTo(a, more)
	if !ok || len(change.In) == 0 || !a.Try(change) {
		return c.base
	}
	a.Keep()
	c.goOn(a, c.o.Tries, nil)
	if s := c.stand(a); s.total <= c.base.total && s.better(c.base) {
		return s
	}
	return c.base
}

// echoLate is how much later than with one thing more a load may go in.
const echoLate = 1440

// changesTo returns the change that makes an answer to the plan one like another
// that began as the same; ok is false where a load cannot be made without what
// that one had more.
func changesTo(a, other *answer.Answer) (change answer.Change, ok bool) {
	stayed := map[int]line.Tick{}
	for _, l := range other.Loads {
		stayed[l.ID] = l.In
	}
	same := map[int]bool{}
	for _, l := range a.Loads {
		if in, there := stayed[l.ID]; there && in == l.In {
			same[l.ID] = true
		} else {
			change.Out = append(change.Out, l)
		}
	}
	for _, l := range other.Loads {
		if same[l.ID] {
			continue
		}
		if l.Oven >= len(a.In.Ovens) {
			return change, false
		}
		next, ok := line.NewLoad(a.In, a.NewID(), l.Oven, l.Profile, l.Runs)
		if !ok {
			return change, false
		}
		next.Target, next.Latest, next.Patience, next.Haste = l.In, l.In+echoLate, l.Patience, l.Haste
		change.In = append(change.In, next)
	}
	return change, true
}
