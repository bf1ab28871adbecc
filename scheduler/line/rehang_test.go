package line_test

import (
	"testing"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A load whose racks are out hangs on others that are as good, and goes in when it
// would with its own; else it waits for its own.
func TestPlace_OtherRacks(t *testing.T) {
	cases := []struct {
		name  string
		alter func(s *shop.Shop)
		rack  int
		soon  bool
	}{
		{"both free", func(s *shop.Shop) { s.Racks[0].BusyUntil = nil }, 0, true},
		{"the first is out until Tuesday", func(*shop.Shop) {}, 1, true},
		{"the second as well, for longer", func(s *shop.Shop) {
			s.Racks[1].BusyUntil = []shop.Instant{at(s, 2, 12, 0)}
		}, 0, false},
		{"the second is so heavy that it would cure for longer", func(s *shop.Shop) {
			s.Racks[1].TareKg, s.Ovens[0].LagMinutesPerKg = 10, 1
		}, 0, false},
	}
	for _, c := range cases {
		s := bench()
		s.Racks = append(s.Racks, shoptest.BareRack("other", 100))
		s.Racks[0].Count, s.Racks[1].Count = 1, 1
		s.Racks[0].BusyUntil = []shop.Instant{at(s, 1, 12, 0)}
		c.alter(s)
		table := compile(s)
		l := placed(t, table, load(t, table, 1, 0, run(0, 2)))
		if kind := l.Racks[0].Kind.Rack; kind != c.rack || (l.In < 1440) != c.soon {
			t.Errorf("%s: on rack %d, in at %d; want rack %d, on Monday: %t", c.name, kind, l.In, c.rack, c.soon)
		}
	}
}
