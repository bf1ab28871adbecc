package shop

import "blankwright/scheduler/strict"

// Encode returns the shop as a file in its one canonical form.
func (s *Shop) Encode() []byte { return strict.Encode(s) }
