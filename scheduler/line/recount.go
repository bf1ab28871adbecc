//go:build slowcheck

package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// Recount counts the set-ups of all positions anew, from the keys of the tasks
// as they follow each other. Only the slow check asks for it.
func (t *Timetable) Recount() (setups [shop.StageCount]int) {
	for st := range t.positions {
		for _, p := range t.positions[st] {
			for i := range p.slots.len() {
				s := p.slots.at(i)
				if !s.released && s.key != instance.None && int(s.key) != p.keyBefore(i) {
					setups[st]++
				}
			}
		}
	}
	return setups
}
