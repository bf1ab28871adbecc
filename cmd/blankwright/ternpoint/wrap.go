package ternpoint

import "blankwright/scheduler/shop"

// A Wrap is how the tape goes onto a section.
type Wrap struct {
	PitchMM, TensionN float64
	Passes            int
}

// WrapOf returns how a section is wrapped. The figures are invented, of the
// trade's usual order (common practice, no source): a thicker tube bears a wider
// pitch and more tension, and the thickest have a second pass.
func WrapOf(s *shop.Section) Wrap {
	switch {
	case s.ODMM < 6:
		return Wrap{1.5, 18, 1}
	case s.ODMM < 14:
		return Wrap{2, 30, 1}
	}
	return Wrap{2.5, 42, 2}
}
