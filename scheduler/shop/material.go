package shop

import "cmp"

// M2 returns a flag's area in square metres, before nesting.
func (f *Flag) M2() float64 { return f.LengthMM * (f.ButtMM + f.TipMM) / 2 / 1e6 }

// M2 returns the square metres of a prepreg that one piece of a section uses, with
// what nesting loses (rule R12).
func (s *Section) M2(p *Prepreg) float64 {
	sum := 0.0
	for i := range s.Flags {
		if s.Flags[i].Prepreg == p.ID {
			sum += s.Flags[i].M2()
		}
	}
	return sum / p.NestYield
}

// InDrawOrder compares two supplies of one prepreg by which is drawn from first
// (rule R12); those that are equal keep the file's order.
func InDrawOrder(a, b *Supply) int {
	return cmp.Or(cmp.Compare(a.Expires.Minute, b.Expires.Minute), cmp.Compare(a.From.Minute, b.From.Minute))
}
