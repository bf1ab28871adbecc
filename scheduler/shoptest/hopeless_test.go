package shoptest_test

import (
	"fmt"
	"testing"

	"blankwright/scheduler/shop"
	. "blankwright/scheduler/shoptest"
)

// Each trouble is a valid shop in which that trouble holds.
func TestHopeless(t *testing.T) {
	holds := map[Trouble]func(*shop.Shop) bool{
		OvensShut:    func(s *shop.Shop) bool { return shut(s, s.Ovens[0].Calendar) },
		OvensLow:     func(s *shop.Shop) bool { return s.Ovens[0].HeightMM < s.Racks[0].Setups[0].OuterHeightMM },
		MandrelsOut:  func(s *shop.Shop) bool { return !toolReady(s, s.MandrelTypes[0].ID) },
		PeopleOut:    func(s *shop.Shop) bool { return len(s.Crews[0].Shifts) == 0 && s.Stations.Roll.Crew == s.Crews[0].ID },
		MaterialOut:  func(s *shop.Shop) bool { return len(s.Supply) == len(s.Prepregs) && s.Supply[0].M2 == 0 },
		StationsShut: func(s *shop.Shop) bool { return shut(s, s.Stations.Trim.Calendar) },
		AllPast:      func(s *shop.Shop) bool { return s.Demand[0].Due < s.Today() },
		OneDay:       func(s *shop.Shop) bool { return s.HorizonDays == 1 },
		GiantOrder:   func(s *shop.Shop) bool { return len(s.Demand) == 1 && s.Demand[0].Quantity >= 5000 },
	}
	for _, trouble := range Troubles() {
		for seed := range uint64(30) {
			s := Hopeless(trouble, seed)
			mustRead(t, fmt.Sprintf("%s, seed %d", trouble, seed), s)
			if !holds[trouble](s) {
				t.Errorf("seed %d: it is not true that there is %s", seed, trouble)
			}
		}
	}
}

func shut(s *shop.Shop, calendar string) bool {
	c := s.Calendars[calendar]
	return len(c.Spans(s.Today(), s.Today()+100, s.Zone())) == 0
}
