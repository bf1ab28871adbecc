package check_test

import (
	"math"

	"blankwright/scheduler/shop"
)

// shopMutators change what the shop has or allows, so that the plan may no
// longer do for it.
var shopMutators = []mutator{
	{"R1 an oven lacks a profile", func(m *mutation) bool {
		several := func(o *shop.Oven) bool { return len(o.Profiles) > 1 }
		return with(pickWhere(m, m.shop.Ovens, several), func(o *shop.Oven) {
			i := m.IntN(len(o.Profiles))
			o.Profiles = append(append([]string(nil), o.Profiles[:i]...), o.Profiles[i+1:]...)
		})
	}},
	{"R1 slower heating", func(m *mutation) bool {
		return with(pick(m, m.shop.Resins), func(r *shop.Resin) { r.MaxRampCPerMin = round(r.MaxRampCPerMin * m.share(0.3, 1)) })
	}},
	{"R1 a cooler resin", func(m *mutation) bool {
		return with(pick(m, m.shop.Resins), func(r *shop.Resin) { r.MaxC = math.Round(r.MaxC * m.share(0.6, 1)) })
	}},
	{"R1 a longer soak", func(m *mutation) bool {
		return with(pick(m, m.shop.Resins), func(r *shop.Resin) {
			p := pick(m, r.Soak)
			p.Minutes = round(p.Minutes * m.share(0.8, 2))
		})
	}},
	{"R1 a hotter soak", func(m *mutation) bool {
		return with(pick(m, m.shop.Resins), func(r *shop.Resin) { pick(m, r.Soak).C += math.Round(m.share(-20, 20)) })
	}},
	{"R1 another tape", func(m *mutation) bool {
		return with(pick(m, m.shop.Tapes), func(t *shop.Tape) {
			if m.coin() {
				t.ShrinkFromC = math.Round(t.ShrinkFromC * m.share(0.8, 1.8))
			} else {
				t.MaxC = math.Round(t.MaxC * m.share(0.6, 1.1))
			}
		})
	}},
	{"R1 a section's profiles", func(m *mutation) bool {
		return with(m.section(), func(s *shop.Section) { s.Profiles = []string{pick(m, m.shop.Profiles).ID} })
	}},
	{"R2 another lag", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) { o.LagMinutesPerKg = round(o.LagMinutesPerKg + m.share(0, 0.1)) })
	}},
	{"R2 another profile time", func(m *mutation) bool {
		return with(pick(m, m.shop.Profiles), func(p *shop.Profile) {
			if m.coin() {
				p.CoolCPerMin = round(p.CoolCPerMin * m.share(0.5, 1.5))
			} else {
				pick(m, p.Segments).SoakMinutes += math.Round(m.share(0, 4))
			}
		})
	}},
	{"R2 another ambient", func(m *mutation) bool { m.shop.Policy.AmbientC = math.Round(m.share(-5, 60)); return true }},
	{"R3 fewer bays", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) { o.Bays = 1 })
	}},
	{"R3 a lower oven", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) { o.HeightMM = math.Round(o.HeightMM * m.share(0.6, 1)) })
	}},
	{"R3 a weaker oven", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) { o.MaxKg = round(o.MaxKg * m.share(0.1, 1)) })
	}},
	{"R3 a weaker rack", func(m *mutation) bool {
		return with(pick(m, m.shop.Racks), func(r *shop.Rack) { r.MaxKg = round(r.MaxKg * m.share(0.05, 1)) })
	}},
	{"R3 another level", func(m *mutation) bool {
		return with(pick(m, m.shop.Racks), func(r *shop.Rack) {
			level := pick(m, pick(m, r.Setups).Levels)
			switch m.IntN(3) {
			case 0:
				level.ClearMM = math.Round(level.ClearMM * m.share(0.4, 1))
			case 1:
				level.Pegs = 1 + m.IntN(level.Pegs)
			default:
				level.PitchMM = round(level.PitchMM * m.share(0.3, 1))
			}
		})
	}},
	{"R3 a wider gap", func(m *mutation) bool { m.shop.Policy.GapMM = math.Round(m.share(0, 60)); return true }},
	{"R4 an oven busy", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			busy := l.In
			busy.Minute += int64(m.IntN(3))
			for i := range m.shop.Ovens {
				if m.shop.Ovens[i].ID == l.Oven {
					m.shop.Ovens[i].BusyUntil = &busy
				}
			}
		})
	}},
	{"R4 an oven down", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { m.down("oven:"+l.Oven, l.In.Minute+m.minutes(), int64(m.IntN(200))) })
	}},
	{"R4 an attended oven", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) { o.Unattended = !o.Unattended })
	}},
	{"R4 slower loading", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) {
			if m.coin() {
				o.LoadMinutes++
			} else {
				o.UnloadMinutes += 1 + m.IntN(30)
			}
		})
	}},
	{"R4 R6 R11 other windows", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) { m.cutWindows(t.Start.Minute) })
	}},
	{"R4 R11 other windows at an oven", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) { m.cutWindows([]int64{l.In.Minute, l.Out.Minute - 1}[m.IntN(2)]) })
	}},
	{"R5 fewer racks", func(m *mutation) bool {
		return with(pick(m, m.shop.Racks), func(r *shop.Rack) {
			r.Count = m.IntN(r.Count + 1)
			r.BusyUntil = r.BusyUntil[:min(r.Count, len(r.BusyUntil))]
		})
	}},
	{"R5 busy racks", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			r := pick(m, m.shop.Racks)
			r.BusyUntil = nil
			for range r.Count {
				busy := l.In
				busy.Minute += m.minutes()
				r.BusyUntil = append(r.BusyUntil, busy)
			}
		})
	}},
	{"R5 all racks busy", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			r := pick(m, m.shop.Racks)
			r.BusyUntil = nil
			for range r.Count {
				busy := l.In
				busy.Minute += int64(m.IntN(300) - 250)
				r.BusyUntil = append(r.BusyUntil, busy)
			}
		})
	}},
	{"R6 other minutes of a section", func(m *mutation) bool {
		return with(m.section(), func(s *shop.Section) {
			minutes := []*float64{&s.Minutes.Tack, &s.Minutes.Roll, &s.Minutes.Wrap, &s.Minutes.Pull, &s.Minutes.Strip, &s.Minutes.Trim, &pick(m, s.Flags).CutMinutes}[m.IntN(7)]
			*minutes = round(*minutes * m.share(0.7, 1.4))
		})
	}},
	{"R6 other transfer pieces", func(m *mutation) bool { m.shop.Policy.TransferPieces = 1 + m.IntN(12); return true }},
	{"R6 a station down", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) {
			m.down(t.Stage.String(), t.Start.Minute+m.minutes()%60, int64(m.IntN(60)))
		})
	}},
	{"R6 a position down", func(m *mutation) bool {
		return with(m.task(), func(t *shop.Task) {
			m.down(t.Stage.String()+"/1", t.Start.Minute+m.minutes()%60, int64(m.IntN(60)))
		})
	}},
	{"R7 another set-up time", func(m *mutation) bool {
		m.shop.Stations.At([]shop.Stage{shop.Cut, shop.Tack, shop.Wrap}[m.IntN(3)]).SetupMinutes = m.IntN(12)
		return true
	}},
	{"R7 set up otherwise", func(m *mutation) bool {
		stage := []shop.Stage{shop.Cut, shop.Tack, shop.Wrap}[m.IntN(3)]
		key := map[shop.Stage]string{shop.Cut: pick(m, m.shop.Prepregs).ID, shop.Tack: pick(m, m.shop.MandrelTypes).ID, shop.Wrap: pick(m, m.shop.Tapes).ID}[stage]
		station := m.shop.Stations.At(stage)
		station.LastSetup = make([]*string, station.Positions)
		station.LastSetup[m.IntN(station.Positions)] = &key
		return true
	}},
	{"R8 a longer rest", func(m *mutation) bool {
		return with(pick(m, m.shop.Profiles), func(p *shop.Profile) { p.RestMinutes += 1 + m.IntN(100) })
	}},
	{"R9 mandrels away", func(m *mutation) bool {
		kind := pick(m, m.shop.MandrelTypes).ID
		for i := range m.shop.Mandrels {
			if mandrel := &m.shop.Mandrels[i]; mandrel.Type == kind && m.coin() {
				mandrel.State = "inspection"
			}
		}
		return true
	}},
	{"R9 mandrels ready later", func(m *mutation) bool {
		kind := pick(m, m.shop.MandrelTypes).ID
		for i := range m.shop.Mandrels {
			if mandrel := &m.shop.Mandrels[i]; mandrel.Type == kind && mandrel.State == shop.Ready && m.coin() {
				ready := pick(m, m.plan.Tasks).End
				mandrel.ReadyAt = &ready
			}
		}
		return len(m.plan.Tasks) > 0
	}},
	{"R9 a longer turnaround", func(m *mutation) bool {
		return with(pick(m, m.shop.MandrelTypes), func(t *shop.MandrelType) { t.TurnaroundMinutes += m.IntN(2000) })
	}},
	{"R10 a shorter open time", func(m *mutation) bool {
		return with(m.task(shop.Cut), func(t *shop.Task) {
			for i := range m.shop.Prepregs {
				if p := &m.shop.Prepregs[i]; p.ID == t.Prepreg {
					p.MaxOpenMinutes = m.IntN(p.MaxOpenMinutes)
				}
			}
		})
	}},
	{"R10 a shorter green time", func(m *mutation) bool {
		m.shop.Policy.MaxGreenMinutes = m.IntN(m.shop.Policy.MaxGreenMinutes)
		return true
	}},
	{"R11 fewer people", func(m *mutation) bool {
		return with(pick(m, m.shop.Crews), func(c *shop.Crew) {
			shift := pick(m, c.Shifts)
			shift.People = 1 + m.IntN(shift.People)
		})
	}},
	{"R11 a shift less", func(m *mutation) bool {
		several := func(c *shop.Crew) bool { return len(c.Shifts) > 1 }
		return with(pickWhere(m, m.shop.Crews, several), func(c *shop.Crew) {
			i := m.IntN(len(c.Shifts))
			c.Shifts = append(append([]shop.Shift(nil), c.Shifts[:i]...), c.Shifts[i+1:]...)
		})
	}},
	{"R11 more people needed", func(m *mutation) bool {
		if oven := pick(m, m.shop.Ovens); m.coin() && oven.Crew != "" {
			oven.People += m.IntN(4)
			return true
		}
		station := m.shop.Stations.At(shop.Stage(m.IntN(shop.StageCount)))
		station.People += m.IntN(3)
		return station.Crew != ""
	}},
	{"R12 less supply", func(m *mutation) bool {
		return with(pick(m, m.shop.Supply), func(s *shop.Supply) { s.M2 = round(s.M2 * m.share(0, 1.1)) })
	}},
	{"R12 no supply of a prepreg", func(m *mutation) bool {
		return with(pick(m, m.shop.Supply), func(s *shop.Supply) {
			prepreg := s.Prepreg
			for i := range m.shop.Supply {
				if m.shop.Supply[i].Prepreg == prepreg {
					m.shop.Supply[i].M2 = 0
				}
			}
		})
	}},
	{"R12 supply expires earlier", func(m *mutation) bool {
		return with(m.load(), func(l *shop.Load) {
			if s := pick(m, m.shop.Supply); s != nil {
				s.Expires.Minute = l.CureStart.Minute + int64(m.IntN(5)) - 2
			}
		})
	}},
	{"R12 supply comes later", func(m *mutation) bool {
		return with(m.task(shop.Cut), func(t *shop.Task) {
			if s := pick(m, m.shop.Supply); s != nil {
				s.From.Minute = t.Start.Minute + int64(m.IntN(5)) - 2
			}
		})
	}},
	{"R12 more waste", func(m *mutation) bool {
		return with(pick(m, m.shop.Prepregs), func(p *shop.Prepreg) { p.NestYield = round(p.NestYield * m.share(0.4, 1)) })
	}},
	{"R13 another stock", func(m *mutation) bool {
		return with(pick(m, m.shop.Products), func(p *shop.Product) { p.Stock = m.IntN(p.Stock + 3) })
	}},
	{"R13 another yield", func(m *mutation) bool {
		return with(m.section(), func(s *shop.Section) { s.Yield = round(s.Yield * m.share(0.6, 1)) })
	}},
	{"R13 another incoming", func(m *mutation) bool {
		return with(m.section(), func(s *shop.Section) {
			at := m.shop.Now
			at.Minute += int64(m.IntN(3000))
			m.shop.Incoming = append(m.shop.Incoming, shop.Incoming{Section: s.ID, Pieces: 1 + m.IntN(5), At: at})
		})
	}},
	{"R13 another quantity", func(m *mutation) bool {
		return with(pick(m, m.shop.Demand), func(l *shop.Line) { l.Quantity = 1 + m.IntN(l.Quantity+2) })
	}},
	{"R14 a nearer horizon", func(m *mutation) bool { m.shop.HorizonDays = 1 + m.IntN(m.shop.HorizonDays); return true }},
	{"cost a line of other worth", func(m *mutation) bool {
		return with(pick(m, m.shop.Demand), func(l *shop.Line) {
			switch m.IntN(3) {
			case 0:
				l.Due += shop.Date(m.IntN(21) - 10)
			case 1:
				l.Weight = round(l.Weight + m.share(0, 2))
			default:
				l.Complete = !l.Complete
			}
		})
	}},
	{"cost a policy of other prices", func(m *mutation) bool {
		p := &m.shop.Policy
		price := []*float64{&p.LateCost, &p.HoldCost, &p.LabourCost}[m.IntN(3)]
		*price = round(*price * m.share(0.5, 2))
		p.UnplannedDays += m.IntN(3)
		return true
	}},
	{"cost an oven of another price", func(m *mutation) bool {
		return with(pick(m, m.shop.Ovens), func(o *shop.Oven) { o.RunCost, o.HourCost = round(m.share(0, 20)), round(m.share(0, 20)) })
	}},
	{"cost other finishing", func(m *mutation) bool {
		return with(pick(m, m.shop.Products), func(p *shop.Product) { p.FinishDays = m.IntN(6) })
	}},
	{"cost a holiday in shipping", func(m *mutation) bool {
		id := m.shop.Policy.ShippingCalendar
		day := m.shop.Today() + shop.Date(m.IntN(m.shop.HorizonDays+7))
		m.except(id, day, nil)
		return true
	}},
}

// round cuts a number to three decimals, so that both checkers read the same.
func round(x float64) float64 { return math.Round(x*1000) / 1000 }

// down adds a downtime from a minute on.
func (m *mutation) down(resource string, from, minutes int64) {
	zone := m.shop.Zone()
	m.shop.Downtime = append(m.shop.Downtime, shop.Downtime{Resource: resource, From: shop.InstantIn(from, zone), To: shop.InstantIn(from+minutes, zone)})
}

// cutWindows closes some calendar for some minutes around one.
func (m *mutation) cutWindows(around int64) {
	zone := m.shop.Zone()
	id := []string{m.shop.Stations.Cut.Calendar, pick(m, m.shop.Ovens).Calendar}[m.IntN(2)]
	calendar := m.shop.Calendars[id]
	day := shop.DateAt(around, zone)
	clock := shop.Clock(around - shop.At(day, 0, zone))
	var windows []shop.Window
	for _, w := range calendar.Day(day) {
		if w[0] < clock && clock < w[1] {
			windows = append(windows, shop.Window{w[0], clock})
			w[0] = min(w[1], clock+shop.Clock(m.IntN(20)))
		}
		if w[0] < w[1] {
			windows = append(windows, w)
		}
	}
	m.except(id, day, windows)
}

// except gives a calendar other windows on one day.
func (m *mutation) except(id string, day shop.Date, windows []shop.Window) {
	calendar := m.shop.Calendars[id]
	if calendar.Exceptions == nil {
		calendar.Exceptions = map[shop.Date][]shop.Window{}
	}
	calendar.Exceptions[day] = windows
	m.shop.Calendars[id] = calendar
}
