package instance

import (
	"math"
	"sort"

	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// demand compiles lines, orders, ship dates and prices. It comes after the
// ovens, whose prices count in the scale of money.
func (c *compiler) demand() {
	in := c.in
	c.shipDates()
	in.scale = scaleFor(c.worst())
	in.HoldPrice = in.Money(c.s.Policy.HoldCost)
	for st := range in.Stations {
		in.Stations[st].SetupPrice = in.Money(float64(in.Stations[st].Setup) * c.s.Policy.LabourCost)
	}
	for i, line := range c.s.Demand {
		product := c.find("product", line.Product)
		in.Lines = append(in.Lines, Line{
			ID: line.ID, Index: i, Product: product, Quantity: line.Quantity, Due: line.Due, Order: None,
			LatePrice: in.Money(line.Weight * c.s.Policy.LateCost),
		})
		in.Products[product].Lines = append(in.Products[product].Lines, i)
	}
	c.orders()
	for p := range in.Products {
		lines := in.Products[p].Lines
		sort.SliceStable(lines, func(i, j int) bool {
			a, b := &in.Lines[lines[i]], &in.Lines[lines[j]]
			if a.Claim != b.Claim {
				return a.Claim < b.Claim
			}
			return a.LatePrice > b.LatePrice
		})
	}
}

func (c *compiler) shipDates() {
	in := c.in
	calendar := c.s.Calendars[c.s.Policy.ShippingCalendar]
	byDays := map[int][]shop.Date{}
	for p := range in.Products {
		days := c.s.Products[p].FinishDays
		if byDays[days] == nil {
			for day := 0; day <= c.s.HorizonDays; day++ {
				byDays[days] = append(byDays[days], shop.ShipDate(&calendar, in.today+shop.Date(day), days, in.zone))
			}
		}
		in.Products[p].Ship = byDays[days]
		in.Products[p].Never = byDays[days][c.s.HorizonDays] + shop.Date(c.s.Policy.UnplannedDays)
	}
}

// orders groups the lines that ship together and marks those that no plan
// gains by making: left out, they are not late.
func (c *compiler) orders() {
	in := c.in
	byID := map[string]int{}
	for i := range in.Lines {
		line := &in.Lines[i]
		line.Claim, line.Press = line.Due, line.LatePrice
		line.Free = line.LatePrice == 0 || in.Products[line.Product].Never <= line.Due
		row := c.s.Demand[i]
		if !row.Complete || row.Order == "" {
			continue
		}
		if _, ok := byID[row.Order]; !ok {
			byID[row.Order] = len(in.Orders)
			in.Orders = append(in.Orders, Order{ID: row.Order})
		}
		line.Order = byID[row.Order]
		in.Orders[line.Order].Lines = append(in.Orders[line.Order].Lines, i)
	}
	for _, order := range in.Orders {
		free, claim := true, in.Lines[order.Lines[0]].Due
		for _, i := range order.Lines {
			free = free && in.Lines[i].Free
			claim = min(claim, in.Lines[i].Due)
		}
		sum := Money(0)
		for _, i := range order.Lines {
			sum += Money(in.Lines[i].Quantity) * in.Lines[i].LatePrice
		}
		for _, i := range order.Lines {
			in.Lines[i].Free, in.Lines[i].Claim = free, claim
			in.Lines[i].Press = sum / Money(in.Lines[i].Quantity)
		}
	}
}

// worst returns more than any plan can cost.
func (c *compiler) worst() float64 {
	policy := c.s.Policy
	sum := 1.0
	for _, line := range c.s.Demand {
		product := &c.in.Products[c.find("product", line.Product)]
		days := math.Max(1, math.Abs(float64(product.Never-line.Due))) + float64(product.Never-product.Ship[0])
		sum += float64(line.Quantity) * days * (line.Weight*policy.LateCost + policy.HoldCost)
	}
	for _, o := range c.in.Ovens {
		loads := float64(c.in.Horizon/(o.Load+o.Unload)) + 1
		sum += loads*o.RunCost + float64(c.in.Horizon)*o.HourCost/60
	}
	pieces := 1.0
	for _, line := range c.s.Demand {
		pieces += float64(line.Quantity) * 16
	}
	for st := range c.in.Stations {
		sum += pieces * float64(c.in.Stations[st].Setup) * policy.LabourCost
	}
	return sum
}

// Wanted returns how many sets of a product the plan should make good: those
// of every line that costs something when it is left out.
func (in *Instance) Wanted(product int) (sets int) {
	for _, i := range in.Products[product].Lines {
		if !in.Lines[i].Free {
			sets += in.Lines[i].Quantity
		}
	}
	return sets
}

// Starts returns how many pieces of a section must be started so that, with
// stock and what comes in, it has so many good ones.
func (in *Instance) Starts(section, good int) int {
	s := &in.Sections[section]
	need, under := good-in.Products[s.Product].Stock, 0
	for _, g := range s.Incoming {
		need -= g.Pieces
	}
	for _, g := range s.Trimmed {
		under += g.Pieces
	}
	return s.starts(need, under)
}

// starts returns how many pieces must be started for so many good ones, when so
// many others are already to be trimmed.
func (s *Section) starts(need, under int) int {
	if need <= Yielded(s.Yield, under) {
		return 0
	}
	n := max(0, int(math.Ceil(float64(need)/s.Yield-1e-6))-under)
	for Yielded(s.Yield, n+under) < need {
		n++
	}
	return n
}

// anew counts the pieces that may be started in the place of what comes in, or is
// trimmed, after now: sets need not wait for them.
func (c *compiler) anew() {
	for i := range c.in.Sections {
		s := &c.in.Sections[i]
		wanted := c.in.Wanted(s.Product)
		need := wanted - c.in.Products[s.Product].Stock
		for _, g := range s.Incoming {
			if g.At <= 0 {
				need -= g.Pieces
			}
		}
		s.Anew = s.starts(need, 0) - c.in.Starts(i, wanted)
	}
}

// Yielded returns how many of so many trimmed pieces are good.
func Yielded(yield float64, pieces int) int {
	return int(math.Floor(yield*float64(pieces) + 1e-6))
}

// turns counts how often the mandrels of each type must go round.
func (c *compiler) turns() {
	need := make([]int, len(c.in.Mandrels))
	for s := range c.in.Sections {
		need[c.in.Sections[s].Mandrel] += c.in.Starts(s, c.in.Wanted(c.in.Sections[s].Product))
	}
	for m := range c.in.Mandrels {
		if pool := &c.in.Mandrels[m]; pool.Total > 0 {
			pool.Turns = (need[m] + pool.Total - 1) / pool.Total
		}
	}
}

// Standing returns the good pieces of a section that no new load has to make:
// stock, what comes in and what released work still trims.
func (in *Instance) Standing(section int) int {
	s := &in.Sections[section]
	good, under := in.Products[s.Product].Stock, 0
	for _, g := range s.Incoming {
		good += g.Pieces
	}
	for _, g := range s.Trimmed {
		under += g.Pieces
	}
	return good + Yielded(s.Yield, under)
}

// A Way is an oven and one of its profiles.
type Way struct{ Oven, Profile int }

// Ways returns the ovens and profiles under which a section can be cured,
// ovens in the shop's order.
func (in *Instance) Ways(section int) (ways []Way) {
	for o := range in.Ovens {
		for _, p := range in.Ovens[o].Profiles {
			if in.Sections[section].Profiles[p] {
				ways = append(ways, Way{o, p})
			}
		}
	}
	return ways
}

// Carried reports whether any load can carry a piece of a section: a mandrel,
// a profile, and a rack in an oven that takes it.
func (in *Instance) Carried(section int) bool {
	if in.Mandrels[in.Sections[section].Mandrel].Total == 0 {
		return false
	}
	for _, way := range in.Ways(section) {
		if in.Ovens[way.Oven].Room.Fits([]rack.Run{{Section: section, Pieces: 1}}) {
			return true
		}
	}
	return false
}
