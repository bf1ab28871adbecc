package line

import "blankwright/scheduler/shop"

// idle returns how many working minutes between two instants no task takes, of
// all positions of a stage together.
func (t *Timetable) idle(stage shop.Stage, from, to Tick) (sum Tick) {
	for _, p := range t.positions[stage] {
		sum += p.idle(from, to)
	}
	return sum
}

func (p *position) idle(from, to Tick) (sum Tick) {
	for i := p.endsAfter(from); i < p.slots.len() && from < to; i++ {
		s := p.slots.at(i)
		if start := min(s.start(), to); start > from {
			sum += p.calendar.Between(from, start)
		}
		from = max(from, s.end())
	}
	if from < to {
		sum += p.calendar.Between(from, to)
	}
	return sum
}

// idleBy returns about when a stage will have had so many idle minutes since an
// instant: never later than that.
func (t *Timetable) idleBy(stage shop.Stage, from, minutes Tick) Tick {
	calendar := t.in.Stations[stage].Calendar
	positions := len(t.positions[stage])
	at := calendar.Ahead(from, (minutes+positions-1)/positions)
	for range 4 {
		if at >= t.in.Horizon {
			return at
		}
		left := minutes - t.idle(stage, from, at)
		if left <= 0 {
			return at
		}
		at = calendar.Ahead(at, (left+positions-1)/positions)
	}
	return at
}
