package sheet

import (
	"time"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// tolerance is how near to a whole number a decimal counts as that number.
const tolerance = 1e-6

// A builder holds one shop, plan and day, and finds things by their ids. What
// a plan names and the shop lacks is found as an empty thing.
type builder struct {
	shop     *shop.Shop
	plan     *plan.Plan
	zone     *time.Location
	date     shop.Date
	from, to int64 // the day's minutes, to excluded

	sections map[string]*shop.Section
	products map[string]*shop.Product // by section
	mandrel  map[string]*shop.MandrelType
	load     map[string]*shop.Load
	prepreg  map[string]*shop.Prepreg
	released map[string]bool // by load

	queues [shop.StageCount][][]*shop.Task // by position, from 0: what the day may have of it, in the plan's order
}

func newBuilder(s *shop.Shop, p *plan.Plan, date shop.Date) *builder {
	b := &builder{
		shop: s, plan: p, zone: s.Zone(), date: date,
		sections: map[string]*shop.Section{},
		products: map[string]*shop.Product{},
		mandrel:  map[string]*shop.MandrelType{},
		load:     map[string]*shop.Load{},
		prepreg:  map[string]*shop.Prepreg{},
		released: map[string]bool{},
	}
	b.from, b.to = shop.At(date, 0, b.zone), shop.At(date+1, 0, b.zone)
	b.indexShop()
	for i := range p.Loads {
		b.load[p.Loads[i].ID] = &p.Loads[i]
	}
	b.indexTasks()
	return b
}

// indexTasks makes a queue for each position: a plan that breaks the rules may name
// more than the shop has.
func (b *builder) indexTasks() {
	for _, stage := range shop.Stages() {
		b.queues[stage] = make([][]*shop.Task, b.shop.Stations.At(stage).Positions)
	}
	for i := range b.plan.Tasks {
		t := &b.plan.Tasks[i]
		for t.Position > len(b.queues[t.Stage]) {
			b.queues[t.Stage] = append(b.queues[t.Stage], nil)
		}
		within := b.holds(t.Start.Minute) || b.holds(t.End.Minute-1) || t.Start.Minute < b.from && b.to <= t.End.Minute
		if within && t.Position > 0 {
			b.queues[t.Stage][t.Position-1] = append(b.queues[t.Stage][t.Position-1], t)
		}
	}
}

func (b *builder) indexShop() {
	for i := range b.shop.Products {
		product := &b.shop.Products[i]
		for j := range product.Sections {
			b.sections[product.Sections[j].ID] = &product.Sections[j]
			b.products[product.Sections[j].ID] = product
		}
	}
	for i := range b.shop.MandrelTypes {
		b.mandrel[b.shop.MandrelTypes[i].ID] = &b.shop.MandrelTypes[i]
	}
	for i := range b.shop.Prepregs {
		b.prepreg[b.shop.Prepregs[i].ID] = &b.shop.Prepregs[i]
	}
	if b.shop.Released != nil {
		for _, l := range b.shop.Released.Loads {
			b.released[l.ID] = true
		}
	}
}

func (b *builder) section(id string) *shop.Section {
	if s, ok := b.sections[id]; ok {
		return s
	}
	return &shop.Section{ID: id}
}

func (b *builder) mandrelType(id string) *shop.MandrelType {
	if m, ok := b.mandrel[id]; ok {
		return m
	}
	return &shop.MandrelType{ID: id}
}

func (b *builder) productName(section string) string {
	if p, ok := b.products[section]; ok {
		return p.Name
	}
	return ""
}

func (b *builder) instant(minute int64) shop.Instant { return shop.InstantIn(minute, b.zone) }

func (b *builder) optional(minute int64, known bool) *shop.Instant {
	if !known {
		return nil
	}
	i := b.instant(minute)
	return &i
}

// within returns a span's part of the day, which may be empty.
func (b *builder) within(s shop.Span) shop.Span {
	return shop.Span{From: max(s.From, b.from), To: min(s.To, b.to)}
}

func (b *builder) holds(minute int64) bool { return b.from <= minute && minute < b.to }

func length(spans []shop.Span) int64 {
	var sum int64
	for _, s := range spans {
		sum += s.To - s.From
	}
	return sum
}
