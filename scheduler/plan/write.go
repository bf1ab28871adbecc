package plan

import "blankwright/scheduler/strict"

// Encode returns the plan as a file in its one canonical form.
func (p *Plan) Encode() []byte { return strict.Encode(p) }
