package shoptest

import (
	"fmt"
	"time"

	"blankwright/scheduler/shop"
)

// bareDay is the Monday on which a bare shop begins.
var bareDay = shop.DateOf(time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC))

// Bare returns the shop in which nothing binds, for tests to tighten: now is
// Monday 2027-03-01 00:00 UTC, with a horizon of 60 days. Everything is open
// around the clock, costs nothing, and takes the least that the file format
// can say: a minute a task, a minute each to load and unload, and, because the
// shop is as warm as its cure, an hour's soak without ramps. There is one of
// each row but demand: one position, one oven with one bay, 100 racks with 100
// pegs, 100 mandrels, and product P of the one section S.
func Bare() *shop.Shop {
	always := shop.Calendar{Weekly: everyDay(hours(0, 0, 24, 0))}
	s := &shop.Shop{
		Format: shop.Format, Name: "Bare shop (invented)", Timezone: "UTC", HorizonDays: 60,
		Now:       shop.Instant{Minute: int64(bareDay) * 1440},
		Calendars: map[string]shop.Calendar{"always": always},
		Policy: shop.Policy{
			AmbientC: 120, MaxGreenMinutes: 1e6, TransferPieces: 100, ShippingCalendar: "always", LateCost: 1,
		},
		Resins:       []shop.Resin{{ID: "resin", MaxRampCPerMin: 1, MaxC: 120, Soak: []shop.SoakPoint{{C: 120, Minutes: 60}}}},
		Tapes:        []shop.Tape{{ID: "tape", ShrinkFromC: 90, MaxC: 140}},
		Prepregs:     []shop.Prepreg{{ID: "prepreg", Resin: "resin", MaxOpenMinutes: 1e6, NestYield: 1}},
		Profiles:     []shop.Profile{BareProfile("cure", 60)},
		Ovens:        []shop.Oven{BareOven("oven", "cure")},
		Racks:        []shop.Rack{BareRack("rack", 100)},
		MandrelTypes: []shop.MandrelType{{ID: "mandrel", HangMM: 1000}},
		Products:     []shop.Product{BareProduct("P", "S")},
	}
	for _, stage := range shop.Stages() {
		*s.Stations.At(stage) = shop.Station{Positions: 1, Calendar: "always"}
	}
	AddMandrels(s, "mandrel", 100)
	return s
}

// BareProfile returns a profile of so many minutes: it neither heats nor cools.
func BareProfile(id string, minutes float64) shop.Profile {
	return shop.Profile{
		ID: id, CoolCPerMin: 1, CoolToC: 120,
		Segments: []shop.Segment{{RampCPerMin: 1, ToC: 120, SoakMinutes: minutes}},
	}
}

// BareOven returns an oven of one bay that runs the given profiles.
func BareOven(id string, profiles ...string) shop.Oven {
	return shop.Oven{
		ID: id, Bays: 1, HeightMM: 2000, MaxKg: 1e6, Profiles: profiles, Calendar: "always", Unattended: true,
		LoadMinutes: 1, UnloadMinutes: 1,
	}
}

// BareRack returns a rack type, of which there are plenty, with one level of so
// many pegs.
func BareRack(id string, pegs int) shop.Rack {
	level := shop.Level{ClearMM: 1000, Pegs: pegs, PitchMM: 10}
	return shop.Rack{
		ID: id, Count: 100, MaxKg: 1e6,
		Setups: []shop.Setup{{ID: "one level", OuterHeightMM: 1000, Levels: []shop.Level{level}}},
	}
}

// BareProduct returns a product of the given sections, each of one flag.
func BareProduct(id string, sections ...string) shop.Product {
	p := shop.Product{ID: id, Name: id}
	for _, section := range sections {
		p.Sections = append(p.Sections, shop.Section{
			ID: section, Mandrel: "mandrel", Tape: "tape", ODMM: 10, Yield: 1,
			Flags: []shop.Flag{{Prepreg: "prepreg"}},
		})
	}
	return p
}

// AddMandrels adds so many ready mandrels of a type to a shop.
func AddMandrels(s *shop.Shop, kind string, n int) {
	for range n {
		s.Mandrels = append(s.Mandrels, shop.Mandrel{ID: fmt.Sprintf("m%d", len(s.Mandrels)+1), Type: kind, State: shop.Ready})
	}
}

// AddLine adds a line of demand for so many sets of a product, due so many days
// after a bare shop's first.
func AddLine(s *shop.Shop, product string, sets, due int, weight float64) *shop.Line {
	s.Demand = append(s.Demand, shop.Line{
		ID: fmt.Sprintf("D%d", len(s.Demand)+1), Kind: shop.KindOrder, Product: product, Quantity: sets,
		Due: bareDay + shop.Date(due), Weight: weight,
	})
	return &s.Demand[len(s.Demand)-1]
}

// Accepted returns a shop as its file reads. A shop that the reader refuses is
// a mistake of the test that made it, so that this panics.
func Accepted(s *shop.Shop) *shop.Shop {
	read, err := shop.Read(s.Encode())
	if err != nil {
		panic(fmt.Sprintf("shoptest: no valid shop: %v", err))
	}
	return read
}
