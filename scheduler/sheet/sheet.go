// Package sheet gathers what one working day asks of the shop floor: which
// tasks are worked where, what the ovens hold, how each rack is hung, which
// mandrels leave the crib and which prepreg must be thawed.
//
// It reads a shop, a plan and a date, and renders nothing: a screen, a page
// and a paper show the same day from it. It judges nothing either: of a plan
// that breaks the rules it shows what the plan says. Anything that shows a
// plan may import it; it imports shop and plan only.
package sheet

import (
	"cmp"
	"slices"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A Day is the content of one day's sheet. Every list is in the order in
// which it is to be read, and every instant has the local offset.
type Day struct {
	Shop      string        `json:"shop"`
	Timezone  string        `json:"timezone"`
	PlannedAt shop.Instant  `json:"planned_at"` // the plan's now
	Date      shop.Date     `json:"date"`
	From      shop.Instant  `json:"from"` // the local midnights
	To        shop.Instant  `json:"to"`
	Prepregs  []PrepregNeed `json:"prepregs"`
	Mandrels  []MandrelFlow `json:"mandrels"`
	Stations  []Station     `json:"stations"` // all seven stages
	Ovens     []Oven        `json:"ovens"`    // all ovens of the shop
	Loads     []Load        `json:"loads"`    // hung, in the oven or out on this day
}

// Of returns the day's content of a plan for a shop.
func Of(s *shop.Shop, p *plan.Plan, date shop.Date) *Day {
	b := newBuilder(s, p, date)
	loads := b.loads()
	return &Day{
		Shop: s.Name, Timezone: s.Timezone, PlannedAt: b.instant(p.Now.Minute),
		Date: date, From: b.instant(b.from), To: b.instant(b.to),
		Prepregs: b.prepregs(),
		Mandrels: b.mandrels(),
		Stations: b.stations(),
		Ovens:    b.ovens(loads),
		Loads:    loads,
	}
}

// Hours returns the day's length, which is not 24 where the clocks change.
func (d *Day) Hours() float64 { return float64(d.To.Minute-d.From.Minute) / 60 }

// Idle reports whether the day has nothing to do: no task is worked and no
// oven is loaded or unloaded. A cure that runs through the day is no work.
func (d *Day) Idle() bool {
	for i := range d.Stations {
		if d.Stations[i].Working() {
			return false
		}
	}
	return !slices.ContainsFunc(d.Loads, func(l Load) bool {
		return d.holds(l.In.Minute) || d.holds(l.Out.Minute)
	})
}

func (d *Day) holds(minute int64) bool { return d.From.Minute <= minute && minute < d.To.Minute }

// A Closure is downtime of a position or an oven, as far as the day holds it.
type Closure struct {
	From shop.Instant `json:"from"`
	To   shop.Instant `json:"to"`
	Why  string       `json:"why"`
}

// closures returns the day's part of the downtime of any of the resources, by
// start.
func (b *builder) closures(resources ...string) []Closure {
	out := []Closure{}
	for _, d := range b.shop.Downtime {
		part := b.within(shop.Span{From: d.From.Minute, To: d.To.Minute})
		if part.From < part.To && slices.Contains(resources, d.Resource) {
			out = append(out, Closure{b.instant(part.From), b.instant(part.To), d.Why})
		}
	}
	slices.SortStableFunc(out, func(x, y Closure) int { return cmp.Compare(x.From.Minute, y.From.Minute) })
	return out
}
