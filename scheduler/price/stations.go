package price

import (
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// before and after the oven.
var (
	before = []shop.Stage{shop.Cut, shop.Tack, shop.Roll, shop.Wrap}
	after  = []shop.Stage{shop.Pull, shop.Strip, shop.Trim}
)

// stations limits each stage to the working minutes of its positions, from when
// the first piece can be there to when the last must have been. Released work
// comes first.
func (s *survey) stations() {
	for _, stage := range shop.Stages() {
		l := s.limit("station", stage.String())
		s.open[stage] = s.positions(stage, s.heads[stage])
		for d := range l.room {
			l.room[d] = float64(s.open[stage].before(s.end(stage, d)))
		}
		s.take(l, 1, stage)
	}
}

// end returns by when a stage must be done with the pieces that are good by the
// end of a day.
func (s *survey) end(stage shop.Stage, day int) instance.Tick {
	if stage <= shop.Wrap {
		return s.latest[day]
	}
	return s.days[day].last
}

// take lets each section take its minutes at some stages, so many times.
func (s *survey) take(l *Limit, times float64, stages ...shop.Stage) {
	for _, i := range s.sections {
		for _, stage := range stages {
			l.bySection[i] += float64(times * minutesOf(s.in, stage, i) * s.perSet(i))
		}
	}
}

// positions returns how many positions of a stage are open from an instant on,
// and not taken by released work.
func (s *survey) positions(stage shop.Stage, from instance.Tick) *supply {
	changes := []change{}
	for n, p := range s.in.Stations[stage].Positions {
		free := newSupply(open(p.Spans, 1)).with(s.released(stage, n), less)
		changes = append(changes, free.changes(from)...)
	}
	return newSupply(changes)
}

// released returns how many released tasks are at a position.
func (s *survey) released(stage shop.Stage, position int) *supply {
	var spans []instance.Span
	for _, t := range s.in.Released.Tasks {
		if t.Stage == stage && t.Position == position {
			spans = append(spans, instance.Span{From: t.Start, To: t.End})
		}
	}
	return newSupply(open(spans, 1))
}

// crews limits each crew's stages to its people's minutes, as far as there are open
// positions for them to work at: those before the oven, those after it, and all.
func (s *survey) crews() {
	for c := range s.in.Crews {
		usable := s.people(c)
		s.hands = append(s.hands, usable)
		up, down := s.workedBy(c, before), s.workedBy(c, after)
		s.crew(c, usable, up, 0)
		s.crew(c, usable, down, s.heads[shop.Pull])
		if len(up) > 0 && len(down) > 0 {
			s.crew(c, usable, slices.Concat(up, down), 0)
		}
	}
}

// workedBy returns those of some stages that need a crew.
func (s *survey) workedBy(crew int, stages []shop.Stage) (list []shop.Stage) {
	for _, stage := range stages {
		if s.in.Stations[stage].Crew == crew {
			list = append(list, stage)
		}
	}
	return list
}

// crew limits some stages together, the last of which is the last to be worked.
func (s *survey) crew(crew int, usable *supply, stages []shop.Stage, from instance.Tick) {
	if len(stages) == 0 {
		return
	}
	l := s.limit("crew", s.in.Crews[crew].ID)
	for d := range l.room {
		l.room[d] = float64(usable.between(from, s.end(stages[len(stages)-1], d)))
	}
	for _, stage := range stages {
		s.take(l, float64(s.in.Stations[stage].People), stage)
	}
}

// people returns how many people of a crew new work can occupy.
func (s *survey) people(crew int) *supply {
	var there, taken, wanted []change
	for _, shift := range s.in.Crews[crew].Shifts {
		there = append(there, open(shift.Calendar.Spans, shift.People)...)
	}
	for _, stage := range shop.Stages() {
		st := &s.in.Stations[stage]
		if st.Crew != crew {
			continue
		}
		for _, c := range s.open[stage].changes(0) {
			wanted = append(wanted, change{c.at, c.more * st.People})
		}
		for n, p := range st.Positions {
			held := newSupply(open(p.Spans, 1)).with(s.released(stage, n), func(a, b int) int { return a * b })
			for _, c := range held.changes(0) {
				taken = append(taken, change{c.at, c.more * st.People})
			}
		}
	}
	return newSupply(there).with(newSupply(taken), less).with(newSupply(wanted), least)
}
