package line

import (
	"sort"

	"blankwright/scheduler/instance"
)

// An ovenLine is one oven's time: the spans in which it is taken, in order.
type ovenLine struct {
	oven  *instance.Oven
	crew  *crew
	taken []instance.Span
	// endless says that loads take nothing of the oven's time; see Relax.
	endless bool
}

func newOvenLine(o *instance.Oven, crews []*crew) *ovenLine {
	line := &ovenLine{oven: o}
	if o.Crew != instance.None {
		line.crew = crews[o.Crew]
	}
	spans := append([]instance.Span(nil), o.Blocked...)
	sort.Slice(spans, func(i, j int) bool { return spans[i].From < spans[j].From })
	for _, s := range spans {
		if n := len(line.taken); n > 0 && s.From <= line.taken[n-1].To {
			line.taken[n-1].To = max(line.taken[n-1].To, s.To)
			continue
		}
		line.taken = append(line.taken, s)
	}
	return line
}

// next returns the index of the first taken span that ends after t.
func (o *ovenLine) next(t Tick) int {
	return sort.Search(len(o.taken), func(i int) bool { return o.taken[i].To > t })
}

// take gives the oven to a load, and its crew for loading and unloading.
func (o *ovenLine) take(l *Load) {
	if !o.endless {
		i := o.next(l.In)
		o.taken = append(o.taken, instance.Span{})
		copy(o.taken[i+1:], o.taken[i:])
		o.taken[i] = instance.Span{From: l.In, To: l.Out}
	}
	o.occupy(l, o.oven.People)
	l.placed = true
}

func (o *ovenLine) leave(l *Load) {
	if !o.endless {
		i := o.next(l.In)
		o.taken = append(o.taken[:i], o.taken[i+1:]...)
	}
	o.occupy(l, -o.oven.People)
	l.placed = false
}

func (o *ovenLine) occupy(l *Load, people int) {
	if o.crew != nil {
		o.crew.take(l.In, l.CureStart, people)
		o.crew.take(l.Out-o.oven.Unload, l.Out, people)
	}
}

// slot finds the earliest time from ready on in which the oven can take a load
// of so many cure minutes: loaded and unloaded within a window each, with its
// crew there, and out by the horizon.
func (o *ovenLine) slot(ready, cure, horizon Tick) (in, out Tick, ok bool) {
	load := o.oven.Load
	for in = max(ready, 0); ; {
		in = o.crewed(in, load)
		if in >= instance.Never {
			return 0, 0, false
		}
		i := o.next(in)
		if i < len(o.taken) && o.taken[i].From < in+load+cure {
			in = o.taken[i].To
			continue
		}
		out = o.crewed(in+load+cure, o.oven.Unload) + o.oven.Unload
		switch {
		case out > horizon:
			return 0, 0, false
		case !o.oven.Unattended && !o.oven.Calendar.Holds(in, out):
			in = o.oven.Calendar.Spans[o.oven.Calendar.At(in)].To
		case i < len(o.taken) && o.taken[i].From < out:
			in = o.taken[i].To
		default:
			return in, out, true
		}
	}
}

// crewed returns the earliest start at or after t of so many minutes that lie
// in one window with the crew there.
func (o *ovenLine) crewed(t Tick, minutes Tick) Tick {
	spans := o.oven.Calendar.Spans
	for i := o.oven.Calendar.At(t); i < len(spans); {
		t = max(t, spans[i].From)
		if t+minutes > spans[i].To {
			i++
			continue
		}
		if o.crew == nil {
			return t
		}
		at, short := o.crew.lack(t, t+minutes, o.oven.People)
		if !short {
			return t
		}
		t = o.crew.back(at, o.oven.People)
	}
	return instance.Never
}
