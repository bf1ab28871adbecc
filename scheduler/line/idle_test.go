package line

import (
	"testing"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// What is idle between two instants is what the calendar has and no task takes,
// counted minute by minute; and idleBy never steps past the minute by which so
// much is idle.
func TestIdle_MinuteByMinute(t *testing.T) {
	asked, taken := 0, 0
	for seed := range uint64(40) {
		in := instance.New(shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Pieces: 40, Days: 6})))
		table := crammed(in)
		for _, stage := range []shop.Stage{shop.Cut, shop.Tack, shop.Wrap, shop.Trim} {
			for from := 0; from < in.Horizon-2000; from += 977 {
				to := from + 1 + from%1900
				want, busy := counted(table, stage, from, to)
				if got := table.idle(stage, from, to); got != want {
					t.Fatalf("shop %d, stage %d: %d minutes are idle between %d and %d, want %d", seed, stage, got, from, to, want)
				}
				if by := table.idleBy(stage, from, want); want > 0 && by > to {
					t.Fatalf("shop %d, stage %d: %d minutes from %d on are idle by %d, want %d at the latest", seed, stage, want, from, by, to)
				}
				asked, taken = asked+1, taken+min(busy, 1)
			}
		}
	}
	if asked < 1000 || taken < 50 {
		t.Errorf("%d stretches looked at, %d of them with tasks", asked, taken)
	}
}

// crammed returns a timetable with a few loads of each section.
func crammed(in *instance.Instance) *Timetable {
	table := New(in)
	for section := range in.Sections {
		for k, way := range in.Ways(section) {
			if l, ok := NewLoad(in, k, way.Oven, way.Profile, []rack.Run{{Section: section, Pieces: 4}}); ok {
				table.Place(l)
			}
		}
	}
	table.Keep()
	return table
}

// counted counts a stage's idle and its busy minutes.
func counted(t *Timetable, stage shop.Stage, from, to Tick) (idle, busy int) {
	for _, p := range t.positions[stage] {
		for m := from; m < to; m++ {
			switch i := p.after(m + 1); {
			case !p.calendar.Holds(m, m+1):
			case i > 0 && p.slots.at(i-1).end() > m:
				busy++
			default:
				idle++
			}
		}
	}
	return idle, busy
}
