package construct

import (
	"blankwright/scheduler/line"
	"blankwright/scheduler/shop"
)

// turn returns when an oven is to take its next load; ok is false where it cannot
// before the horizon.
func (b *builder) turn(oven int) (at line.Tick, ok bool) {
	at, _, ok = b.a.Table.Slot(oven, b.free[oven], 1)
	if !ok || b.rule.Morning == 0 {
		return at, ok
	}
	if meant, _, ok := b.a.Table.Slot(oven, b.meant(at), 1); ok {
		return meant, true
	}
	return at, true
}

// meant returns the next instant at which loads are meant to go in: once what is
// tacked in the morning can be wrapped, and once more as the last of a day's is. What
// goes in whenever an oven is free takes many small loads, and the oven just before
// that for which mandrels have come back.
func (b *builder) meant(at line.Tick) line.Tick {
	wrap := b.in.Stations[shop.Wrap].Calendar
	for day := b.in.Day(at); day < b.in.Day(b.in.Horizon); day++ {
		from, to := b.in.Midnight(day), b.in.Midnight(day+1)
		if wrap.Between(from, to) == 0 {
			continue
		}
		if morning := wrap.Ahead(wrap.Next(from), b.rule.Morning); morning >= at && morning < to {
			return morning
		}
		if last, _, ok := wrap.Back(to, 1+b.rule.Evening); ok && last >= at {
			return last + 1
		}
	}
	return at
}
