package shoptest

import (
	"fmt"
	"time"

	"blankwright/scheduler/shop"
)

// A Size asks for a shop of some size. What is 0 is drawn from the seed.
type Size struct {
	Products int
	Lines    int
	Pieces   int // about so many sections that demand asks for
	Days     int // the horizon

	// Impossible is the share of products of which some section can never be
	// made, 0 to 1. It is not drawn: 0 makes none.
	Impossible float64
}

// Make returns a random shop in which most demand can be met, unless Size asks
// for impossible products. Each optional field of a shop file is there by
// chance, and each of the file's peculiarities turns up in some shop.
func Make(seed uint64, size Size) *shop.Shop {
	d := newDice(seed, streamMake)
	r := recipe{
		products: drawn(size.Products, d.between(1, 8)),
		lines:    drawn(size.Lines, d.between(1, 16)),
		pieces:   drawn(size.Pieces, d.between(4, 150)),
		odd:      pick(d, 0.1, 0.4, 0.7),
		spoilt:   size.Impossible,
	}
	r.days = drawn(size.Days, clamp(d.between(7, 28)+r.pieces/150, 7, 90))
	r.ovens = clamp(share(r.pace(), 110)+d.between(0, 1), 1, 8)
	r.racks = r.ovens + d.between(1, 3)
	return build(d, r)
}

func drawn(asked, otherwise int) int {
	if asked > 0 {
		return asked
	}
	return otherwise
}

// A recipe says what the shop to be built is like.
type recipe struct {
	products, lines, pieces, days int
	ovens, racks                  int     // racks of each type
	odd                           float64 // the chance of each optional thing
	spoilt                        float64 // the share of products that can't be made
	tiny                          bool    // one of everything, few choices
}

// pace returns the pieces that must be made on a working day so that demand is
// met with two days in five to spare.
func (r recipe) pace() float64 { return float64(r.pieces) / max(1, 0.6*5/7*float64(r.days)) }

// A maker builds one shop, field by field.
type maker struct {
	dice
	recipe
	s        *shop.Shop
	zone     *time.Location
	today    shop.Date
	rhythm   rhythm
	families []family
	longest  float64        // the greatest clear height of a rack that fits the first oven
	need     map[string]int // pieces that demand asks for, by section
	toolless map[string]bool
}

func build(d dice, r recipe) *shop.Shop {
	m := &maker{dice: d, recipe: r, s: &shop.Shop{Format: shop.Format}, need: map[string]int{}, toolless: map[string]bool{}}
	m.s.Name = fmt.Sprintf("Random shop %04x (invented)", d.Uint32()&0xffff)
	m.when()
	m.addCalendars()
	m.addPolicy()
	m.addCures()
	m.addOvens()
	m.addRacks()
	m.addProducts()
	m.addDemand()
	m.addStations()
	m.addMandrels()
	m.addSupply()
	m.disturb()
	return m.s
}

func (m *maker) maybe() bool { return m.chance(m.odd) }

// at returns a minute as the shop's file would state it.
func (m *maker) at(minute int64) shop.Instant { return shop.InstantIn(minute, m.zone) }

// soon draws an instant within some days after now, and within the horizon.
func (m *maker) soon(days int) shop.Instant {
	last := min(m.s.Now.Minute+int64(days)*1440, m.s.Horizon())
	return m.at(m.s.Now.Minute + 1 + m.Int64N(last-m.s.Now.Minute))
}

func (m *maker) addPolicy() {
	m.s.Policy = shop.Policy{
		AmbientC:         pick(m.dice, 18, 20, 22.5),
		GapMM:            m.decimal(2, 8, 1),
		MaxGreenMinutes:  pick(m.dice, 1440, 2880, 4320),
		TransferPieces:   pick(m.dice, 1, 4, 6, 8, 12),
		ShippingCalendar: "ship",
		LateCost:         m.decimal(1, 12, 2),
		HoldCost:         m.decimal(0, 0.4, 2),
		LabourCost:       m.decimal(0.3, 1, 2),
		UnplannedDays:    m.between(0, 21),
	}
	if m.pace() > 20 {
		m.s.Policy.TransferPieces = max(m.s.Policy.TransferPieces, 6)
	}
}
