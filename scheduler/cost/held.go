package cost

import "blankwright/scheduler/instance"

// HeldUntil returns when the last set of a product is good that ships before it
// is due, alone or with its order; 0 where none does.
func (b *Book) HeldUntil(product int) (last instance.Tick) {
	for _, s := range b.Shares(product) { // which settles the orders as well
		l := &b.in.Lines[s.Line]
		early := !s.Missing && s.Ship < l.Due
		if l.Order != instance.None {
			early = b.orders[l.Order].hold > 0
		}
		if early {
			last = max(last, s.At)
		}
	}
	return last
}
