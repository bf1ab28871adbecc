package answer

import "blankwright/scheduler/line"

// PutOff lets a load's trim task wait until an instant, so that its sets are not
// early; see line. It reports false, and changes nothing, where it finds no place
// then. After true, Keep or Undo must follow.
func (a *Answer) PutOff(task *line.Task, until line.Tick) bool {
	if !a.Table.PutOff(task, until) {
		return false
	}
	b := &a.before
	b.oven, b.spare, b.loads = a.oven, append(b.spare[:0], a.Spare...), append(b.loads[:0], a.Loads...)
	b.dropped, b.added = b.dropped[:0], b.added[:0]
	a.book.Touch(a.In.Sections[task.Section].Product)
	return true
}

// HeldUntil returns when the last set of a product is good that ships before it
// is due; 0 where none does.
func (a *Answer) HeldUntil(product int) line.Tick { return a.book.HeldUntil(product) }
