package runs

import (
	"time"

	"blankwright/scheduler/shop"
)

// Days say on which days, and by whose clocks, ticks are due.
type Days struct {
	Calendar shop.Calendar // of shipping: its open dates are the working days
	Zone     *time.Location
}

// farthestBack is how many days a tick is looked for: no shop is shut for longer.
const farthestBack = 366

// LastDue returns the last instant up to now at which a tick was due, and false
// where none was within a year. A clock time that a date has twice means its first
// coming, and one that it skips is read with the offset before, so that each working
// day has one tick.
func (d Days) LastDue(at shop.Clock, now time.Time) (time.Time, bool) {
	today := shop.DateOf(now.In(d.Zone))
	for day := today; day > today-farthestBack; day-- {
		due := d.on(day, at)
		if !due.After(now) && d.Calendar.Open(day, d.Zone) {
			return due, true
		}
	}
	return time.Time{}, false
}

// NextDue returns the first instant after now at which a tick is due, and false
// where none is within a year.
func (d Days) NextDue(at shop.Clock, now time.Time) (time.Time, bool) {
	today := shop.DateOf(now.In(d.Zone))
	for day := today; day < today+farthestBack; day++ {
		due := d.on(day, at)
		if due.After(now) && d.Calendar.Open(day, d.Zone) {
			return due, true
		}
	}
	return time.Time{}, false
}

// EndOfWork returns the local midnight after the n-th working day that follows the
// day of an instant: until then n working days' work begins.
func (d Days) EndOfWork(n int, from time.Time) time.Time {
	day := shop.DateOf(from.In(d.Zone))
	for i, left := 0, n; i < farthestBack && left > 0; i++ {
		if day++; d.Calendar.Open(day, d.Zone) {
			left--
		}
	}
	return time.Unix(shop.At(day+1, 0, d.Zone)*60, 0).UTC()
}

func (d Days) on(day shop.Date, at shop.Clock) time.Time {
	return time.Unix(shop.At(day, at, d.Zone)*60, 0).UTC()
}
