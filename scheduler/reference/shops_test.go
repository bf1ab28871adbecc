package reference_test

import (
	"fmt"
	"math/rand/v2"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A maker draws one small shop.
type maker struct {
	*rand.Rand
	s *shop.Shop
}

// smallShop returns a small invented shop in which every rule has something to say.
func smallShop(seed uint64) *shop.Shop {
	m := maker{rand.New(rand.NewPCG(seed, 0)), shoptest.Bare()}
	m.s.Name = fmt.Sprintf("Small shop %d (invented)", seed)
	m.s.Now.Minute += 7 * hour
	m.s.HorizonDays = 3 + m.IntN(2)
	m.addPolicy()
	m.addStations()
	m.addCures()
	m.addOvens()
	m.addRacks()
	m.addMandrels()
	m.addProducts()
	m.addDemand()
	m.addCrews()
	m.addSupply()
	m.addTroubles()
	if m.maybe(25) {
		m.release()
	}
	return m.s
}

func (m *maker) maybe(percent int) bool { return m.IntN(100) < percent }

func (m *maker) between(low, high int) int { return low + m.IntN(high-low+1) }

// hours returns the instant so many hours from now.
func (m *maker) hours(n int) shop.Instant {
	return shop.InstantIn(m.s.Now.Minute+int64(n*hour), m.s.Zone())
}

func pick[T any](m *maker, from ...T) T { return from[m.IntN(len(from))] }

func workdays(windows ...shop.Window) shop.Calendar {
	return shop.Calendar{Weekly: shop.Weekly{Mon: windows, Tue: windows, Wed: windows, Thu: windows, Fri: windows}}
}

func (m *maker) addPolicy() {
	m.s.Calendars["day"] = workdays(shop.Window{7 * hour, 12 * hour}, shop.Window{13 * hour, 16 * hour})
	if m.maybe(20) {
		short := m.s.Calendars["day"]
		short.Exceptions = map[shop.Date][]shop.Window{m.s.Today() + 1: {{9 * hour, 13 * hour}}}
		m.s.Calendars["day"] = short
	}
	m.s.Calendars["long day"] = workdays(shop.Window{6 * hour, 22 * hour})
	ship := workdays(shop.Window{9 * hour, 10 * hour})
	if m.maybe(30) {
		ship.Weekly.Wed = nil
	}
	m.s.Calendars["ship"] = ship
	m.s.Policy = shop.Policy{
		AmbientC: 20, GapMM: 2, MaxGreenMinutes: pick(m, 4, 8, 100) * hour, TransferPieces: pick(m, 1, 1, 6), ShippingCalendar: "ship",
		LateCost: float64(pick(m, 5, 10)), HoldCost: float64(pick(m, 0, 1, 2)), LabourCost: pick(m, 0, 0.05, 0.1), UnplannedDays: m.between(4, 7),
	}
}

func (m *maker) addProducts() {
	m.s.Products = nil
	for i := range m.between(1, 3) {
		p := shop.Product{ID: string(rune('A' + i)), FinishDays: m.between(0, 1)}
		p.Name = "Blank " + p.ID
		for k := range pick(m, 1, 1, 2) {
			p.Sections = append(p.Sections, m.section(fmt.Sprintf("%s%d", p.ID, k+1)))
		}
		if m.maybe(15) {
			p.Stock = 1
		}
		m.s.Products = append(m.s.Products, p)
	}
}

func (m *maker) section(id string) shop.Section {
	s := shop.Section{
		ID: id, Mandrel: pick(m, "long", "short", "thick"), Tape: pick(m, "tape", "tape", "film"), ODMM: float64(pick(m, 10, 10, 30)), Kg: 1,
		Yield: pick(m, 1, 1, 1, 0.5), Minutes: shop.Minutes{Tack: hour, Roll: hour, Wrap: hour, Pull: hour, Strip: hour, Trim: hour},
		Flags: []shop.Flag{{Prepreg: pick(m, "fibre", "fibre", "scrim"), LengthMM: 1000, ButtMM: 500, TipMM: 300, CutMinutes: hour}},
	}
	if m.maybe(30) {
		s.Flags = append(s.Flags, shop.Flag{Prepreg: "scrim", LengthMM: 1000, ButtMM: 300, TipMM: 200, CutMinutes: hour})
	}
	if m.maybe(15) {
		s.Flags = append(s.Flags, s.Flags[0])
	}
	if m.maybe(20) {
		s.Minutes.Roll = 2 * hour
	}
	if m.maybe(20) {
		s.Profiles = []string{"long"}
	}
	return s
}

// addDemand asks for two to six sets, of no more than seven pieces.
func (m *maker) addDemand() {
	pieces := 0
	for i := range m.between(2, 4) {
		p := &m.s.Products[i%len(m.s.Products)]
		sets := pick(m, 1, 1, 2)
		if pieces += sets * len(p.Sections); pieces > 6 {
			break
		}
		line := shoptest.AddLine(m.s, p.ID, sets, m.between(0, 4), float64(m.between(1, 3)))
		if m.maybe(30) {
			line.Kind = shop.KindRestock
		}
		if m.maybe(50) {
			line.Order, line.Complete = "O1", m.maybe(70)
		}
	}
}

// addSupply gives some shops little of a prepreg at first, and more later.
func (m *maker) addSupply() {
	if m.maybe(50) {
		return
	}
	first, second := m.between(1, 4), m.between(1, 4)
	m.s.Supply = []shop.Supply{
		{ID: "roll 1", Prepreg: "fibre", M2: 0.5 * float64(first), From: m.hours(-100), Expires: m.hours(m.between(10, 60))},
		{ID: "roll 2", Prepreg: "fibre", M2: 0.5 * float64(second), From: m.hours(m.between(1, 30)), Expires: m.hours(900)},
	}
}
