package shoptest

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// A Trouble is one reason why a shop can make little or nothing.
type Trouble string

// The troubles that Hopeless knows.
const (
	OvensShut    Trouble = "no oven ever open"
	OvensLow     Trouble = "every oven too low for every rack"
	MandrelsOut  Trouble = "no mandrel ready"
	PeopleOut    Trouble = "no people in any crew"
	MaterialOut  Trouble = "no material"
	StationsShut Trouble = "every station closed"
	AllPast      Trouble = "every due date in the past"
	OneDay       Trouble = "a horizon of one day"
	GiantOrder   Trouble = "one giant order"
)

// Troubles returns every trouble, in a fixed order.
func Troubles() []Trouble {
	return []Trouble{OvensShut, OvensLow, MandrelsOut, PeopleOut, MaterialOut, StationsShut, AllPast, OneDay, GiantOrder}
}

// giantSets is what one giant order asks for, far beyond any horizon.
const giantSets = 5000

// Hopeless returns a random shop with one trouble, and otherwise sensible.
func Hopeless(t Trouble, seed uint64) *shop.Shop {
	d := newDice(seed, streamHopeless)
	s := Make(d.Uint64(), Size{Pieces: d.between(4, 60)})
	s.Name = fmt.Sprintf("Shop with %s (invented)", t)
	cause, known := causes[t]
	if !known {
		panic("shoptest: unknown trouble " + string(t))
	}
	cause(s)
	return s
}

var causes = map[Trouble]func(*shop.Shop){
	OvensShut: func(s *shop.Shop) {
		s.Calendars["shut"] = shop.Calendar{}
		for i := range s.Ovens {
			s.Ovens[i].Calendar = "shut"
		}
	},
	OvensLow: func(s *shop.Shop) {
		for i := range s.Ovens {
			s.Ovens[i].HeightMM = 100
		}
	},
	MandrelsOut: func(s *shop.Shop) {
		for i := range s.Mandrels {
			s.Mandrels[i].State, s.Mandrels[i].ReadyAt = "inspection", nil
		}
	},
	PeopleOut:   peopleOut,
	MaterialOut: materialOut,
	StationsShut: func(s *shop.Shop) {
		s.Calendars["shut"] = shop.Calendar{}
		for _, stage := range shop.Stages() {
			s.Stations.At(stage).Calendar = "shut"
		}
	},
	AllPast: func(s *shop.Shop) {
		for i := range s.Demand {
			s.Demand[i].Due = s.Today() - shop.Date(1+i%30)
		}
	},
	OneDay: oneDay,
	GiantOrder: func(s *shop.Shop) {
		s.Demand = s.Demand[:1]
		s.Demand[0].Quantity = giantSets
	},
}

// peopleOut lets every station and oven need a person of a crew that nobody
// belongs to.
func peopleOut(s *shop.Shop) {
	s.Crews = []shop.Crew{{ID: "nobody"}}
	for _, stage := range shop.Stages() {
		st := s.Stations.At(stage)
		st.Crew, st.People = "nobody", 1
	}
	for i := range s.Ovens {
		s.Ovens[i].Crew, s.Ovens[i].People = "nobody", 1
	}
}

func materialOut(s *shop.Shop) {
	s.Supply = nil
	for _, p := range s.Prepregs {
		s.Supply = append(s.Supply, shop.Supply{ID: "none of " + p.ID, Prepreg: p.ID, From: s.Now, Expires: s.Now})
	}
}

// oneDay shortens the horizon, beyond which no incoming may lie.
func oneDay(s *shop.Shop) {
	s.HorizonDays = 1
	end := s.Horizon()
	var kept []shop.Incoming
	for _, in := range s.Incoming {
		if in.At.Minute <= end {
			kept = append(kept, in)
		}
	}
	s.Incoming = kept
}
