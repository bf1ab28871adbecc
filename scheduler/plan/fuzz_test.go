package plan_test

import (
	"testing"

	"blankwright/scheduler/plan"
)

// No text makes the reader panic, and what it accepts reads back the same.
func FuzzRead(f *testing.F) {
	s := yard(f)
	f.Add(answer(f))
	for _, c := range refusals {
		f.Add(edited(f, c.within, c.old, c.new))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := plan.Read(data, s); err == nil {
			readsBack(t, p, s)
		}
	})
}
