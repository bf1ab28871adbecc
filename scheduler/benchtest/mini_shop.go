package benchtest

import (
	"fmt"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// The clock of an instance's shop: minutes of a day, and of a day's midnight in
// which ovens are loaded and unloaded.
const (
	miniDay      = 1440
	miniNoon     = 720
	miniMidnight = 2
)

// miniNever is how late a tube is that is not made, beyond the horizon: no plan
// gains by it, for an order of weight 1 then costs more than any optimum.
const miniNever = 1000

// Shop returns the instance as a shop whose plans are the instance's schedules,
// with the same costs. A unit is a day. Nothing of the instance is left out, and
// nothing else binds:
//
//   - Ovens are loaded and unloaded in the two minutes after midnight only. A load
//     that goes in on day b comes out on day b + its family's days or later, and
//     another can follow it on that day: unloading takes a minute, and so does
//     loading.
//   - Tacking goes on in one minute of each day, at noon. A tube of t days begun on
//     day s holds its station up to the noon of day s+t-1. On day s+t the next can
//     follow, and the tube can go in; it cannot on day s+t-1, whose midnight is over.
//   - At each other stage every task takes a minute, at any time, and there are
//     positions for all.
//   - A tube is released when the prepreg comes that it alone is made of (R12). That
//     prepreg may lie open from 11:59 on day s, the last minute for its cutting, up
//     to 00:02 on day s+t+Open, the last in which the cure can start. From 11:59 to
//     the next day's 00:01, the first such minute, it may not (R10).
//   - A mandrel is taken at noon. It is pulled in the first minutes of the day that
//     ends its run, and free so many whole days after that: at noon of the last.
//   - An order is one set of a product with a section for each job. It ships so
//     many days after the day on which the last of them is trimmed.
//   - The horizon ends with the day on which runs may last end.
func (m *Mini) Shop() *shop.Shop {
	s := shoptest.Bare()
	s.Name, s.HorizonDays, s.Policy.UnplannedDays = m.Name, m.Horizon+1, miniNever
	s.Calendars["midnight"] = everyDay(0, miniMidnight)
	s.Calendars["noon"] = everyDay(miniNoon, miniNoon+1)
	for _, stage := range shop.Stages() {
		s.Stations.At(stage).Positions = len(m.Jobs)
	}
	s.Stations.Tack = shop.Station{Positions: m.Tackers, Calendar: "noon"}
	s.Racks = []shop.Rack{shoptest.BareRack("rack", m.Pegs)}
	m.addOvens(s)
	m.addMandrels(s)
	s.Prepregs, s.Products = nil, nil
	for i, o := range m.Orders {
		id := fmt.Sprintf("order %d", i)
		p := shop.Product{ID: id, Name: id, FinishDays: m.Clean}
		for j := range m.Jobs {
			if m.Jobs[j].Order == i {
				p.Sections = append(p.Sections, m.section(s, j))
			}
		}
		s.Products = append(s.Products, p)
		shoptest.AddLine(s, id, 1, o.Due, float64(o.Weight))
	}
	return s
}

func everyDay(from, to shop.Clock) shop.Calendar {
	day := []shop.Window{{from, to}}
	return shop.Calendar{Weekly: shop.Weekly{Mon: day, Tue: day, Wed: day, Thu: day, Fri: day, Sat: day, Sun: day}}
}

func (m *Mini) addOvens(s *shop.Shop) {
	s.Profiles, s.Ovens = nil, nil
	var families []string
	for f, days := range m.Cure {
		families = append(families, familyID(f))
		s.Profiles = append(s.Profiles, shoptest.BareProfile(familyID(f), float64(days*miniDay-miniMidnight)))
	}
	for k := range m.Ovens {
		oven := shoptest.BareOven(ovenID(k), families...)
		oven.Calendar, oven.RunCost = "midnight", float64(m.RunCost)
		s.Ovens = append(s.Ovens, oven)
	}
}

func (m *Mini) addMandrels(s *shop.Shop) {
	s.MandrelTypes, s.Mandrels = nil, nil
	for k, copies := range m.Mandrels {
		s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{
			ID: mandrelID(k), HangMM: s.Racks[0].Setups[0].Levels[0].ClearMM, TurnaroundMinutes: m.Clean * miniDay,
		})
		shoptest.AddMandrels(s, mandrelID(k), copies)
	}
}

// section returns a job's tube, and adds its prepreg: enough for it alone.
func (m *Mini) section(s *shop.Shop, j int) shop.Section {
	job, id := &m.Jobs[j], tubeID(j)
	s.Prepregs = append(s.Prepregs, shop.Prepreg{
		ID: id, Resin: s.Resins[0].ID, MaxOpenMinutes: (job.Tack+m.Open)*miniDay + miniMidnight - (miniNoon - 1), NestYield: 1,
	})
	s.Supply = append(s.Supply, shop.Supply{
		ID: id, Prepreg: id, M2: 1,
		From:    shop.InstantIn(s.Now.Minute+int64(job.Release*miniDay), s.Zone()),
		Expires: shop.InstantIn(s.Horizon(), s.Zone()),
	})
	return shop.Section{
		ID: id, Mandrel: mandrelID(job.Mandrel), Tape: s.Tapes[0].ID, Yield: 1, Profiles: []string{familyID(job.Family)},
		ODMM:    float64(job.Pegs) * s.Racks[0].Setups[0].Levels[0].PitchMM,
		Flags:   []shop.Flag{{Prepreg: id, LengthMM: 1000, ButtMM: 1000, TipMM: 1000}},
		Minutes: shop.Minutes{Tack: float64(job.Tack)},
	}
}

func familyID(f int) string  { return fmt.Sprintf("family %d", f) }
func ovenID(k int) string    { return fmt.Sprintf("oven %d", k) }
func mandrelID(k int) string { return fmt.Sprintf("mandrel %d", k) }
func tubeID(j int) string    { return fmt.Sprintf("tube %d", j) }
