package price

import "blankwright/scheduler/instance"

// materials limits each prepreg to what of it has come by the time that the last
// piece must be cut.
func (s *survey) materials() {
	for p := range s.in.Prepregs {
		prepreg := &s.in.Prepregs[p]
		if !prepreg.Limited {
			continue
		}
		l := s.limit("material", prepreg.ID)
		for d := range l.room {
			l.room[d] = s.supplied(p, s.latest[d])
		}
		for _, i := range s.sections {
			for _, cut := range s.in.Sections[i].Cuts {
				if cut.Prepreg == p {
					l.bySection[i] += float64(cut.Area * s.perSet(i))
				}
			}
		}
	}
}

// supplied returns how much of a prepreg can be cut before an instant.
func (s *survey) supplied(prepreg int, before instance.Tick) float64 {
	sum := tolerance
	for _, row := range s.in.Prepregs[prepreg].Rows {
		if row.From < before {
			sum += row.Area
		}
	}
	return sum
}
