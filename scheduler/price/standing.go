package price

// standing limits what sets can have without new pieces of a section: stock, what
// comes in, and what released work still trims.
func (s *survey) standing() {
	for _, i := range s.sections {
		if s.in.Standing(i) == 0 {
			continue
		}
		l := s.limit("standing", s.in.Sections[i].ID)
		l.standing = i
		section := &s.in.Sections[i]
		for d := range l.room {
			l.room[d] = float64(s.in.Products[section.Product].Stock) + tolerance
			for _, g := range section.Incoming {
				if g.At <= s.days[d].last {
					l.room[d] += float64(g.Pieces)
				}
			}
			for _, g := range section.Trimmed {
				if g.At <= s.days[d].last {
					l.room[d] += float64(float64(g.Pieces) * section.Yield)
				}
			}
		}
	}
}
