package sheet

import (
	"cmp"
	"slices"

	"blankwright/scheduler/shop"
)

// An Oven is one oven's day.
type Oven struct {
	ID       string    `json:"id"`
	Closures []Closure `json:"closures"`
	Loads    []string  `json:"loads"` // in it at some minute of the day, by In
}

// A Load is one oven charge, with the racks that are hung for it. Kg is the
// whole load with the racks' tare.
type Load struct {
	ID        string       `json:"id"`
	Oven      string       `json:"oven"`
	Profile   shop.Profile `json:"profile"`
	Hung      bool         `json:"hung"`    // wrapped and hung, at least in part, on this day
	InOven    bool         `json:"in_oven"` // in the oven at some minute of this day
	In        shop.Instant `json:"in"`
	CureStart shop.Instant `json:"cure_start"`
	CureEnd   shop.Instant `json:"cure_end"`
	Out       shop.Instant `json:"out"`
	PullFrom  shop.Instant `json:"pull_from"` // after the profile's rest
	Kg        float64      `json:"kg"`
	MaxKg     float64      `json:"max_kg"` // the oven's
	Pieces    int          `json:"pieces"`
	Racks     []Rack       `json:"racks"`
}

// loads returns those hung, in the oven or out on this day, by In.
func (b *builder) loads() []Load {
	out := []Load{}
	hung := b.hung()
	for i := range b.plan.Loads {
		l := &b.plan.Loads[i]
		inOven := l.In.Minute < b.to && b.from < l.Out.Minute
		if inOven || hung[l.ID] {
			out = append(out, b.loadOf(l, hung[l.ID], inOven))
		}
	}
	slices.SortStableFunc(out, func(x, y Load) int { return cmp.Compare(x.In.Minute, y.In.Minute) })
	return out
}

// hung returns the loads whose pieces are wrapped, and so hung, on this day.
func (b *builder) hung() map[string]bool {
	out := map[string]bool{}
	for n := 1; n <= len(b.queues[shop.Wrap]); n++ {
		for _, t := range b.position(shop.Wrap, n).Tasks {
			out[t.Load] = true
		}
	}
	return out
}

func (b *builder) loadOf(l *shop.Load, hung, inOven bool) Load {
	profile, oven := b.profile(l.Profile), b.oven(l.Oven)
	out := Load{
		ID: l.ID, Oven: l.Oven, Profile: profile, Hung: hung, InOven: inOven,
		In: b.instant(l.In.Minute), CureStart: b.instant(l.CureStart.Minute),
		CureEnd: b.instant(l.CureEnd.Minute), Out: b.instant(l.Out.Minute),
		PullFrom: b.instant(l.Out.Minute + int64(profile.RestMinutes)),
		MaxKg:    oven.MaxKg,
	}
	for i := range l.Racks {
		rack := b.rack(&l.Racks[i])
		out.Racks = append(out.Racks, rack)
		out.Kg += rack.Kg + rack.TareKg
		out.Pieces += rack.Pieces
	}
	return out
}

func (b *builder) ovens(loads []Load) []Oven {
	out := []Oven{}
	for _, oven := range b.shop.Ovens {
		o := Oven{ID: oven.ID, Closures: b.closures("oven:" + oven.ID), Loads: []string{}}
		for _, l := range loads {
			if l.InOven && l.Oven == oven.ID {
				o.Loads = append(o.Loads, l.ID)
			}
		}
		out = append(out, o)
	}
	return out
}

func (b *builder) profile(id string) shop.Profile {
	for _, p := range b.shop.Profiles {
		if p.ID == id {
			return p
		}
	}
	return shop.Profile{ID: id}
}

func (b *builder) oven(id string) shop.Oven {
	for _, o := range b.shop.Ovens {
		if o.ID == id {
			return o
		}
	}
	return shop.Oven{ID: id}
}
