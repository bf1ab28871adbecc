package price

import "blankwright/scheduler/instance"

// A Hall is an instance's limits and lines, to try any prices on.
type Hall struct{ model *Model }

// HallOf returns the hall of an instance.
func HallOf(in *instance.Instance) Hall { return Hall{newModel(in)} }

// Proven returns what prices prove, each of which is asked for in the model's units.
func (h Hall) Proven(price func() int64) Least {
	var t tariff
	for _, r := range h.model.rows {
		prices := make([]int64, len(r.room))
		for day := range prices {
			prices[day] = price()
		}
		t = append(t, prices)
	}
	p := Prices{model: h.model}
	return p.least(newDesk(h.model).value(t, wish{}).cost)
}

// Rooms returns how much there is of a limit by the end of each day.
func (h Hall) Rooms(kind, id string) []float64 {
	for _, l := range h.model.limits {
		if l.Kind == kind && l.ID == id {
			return l.room
		}
	}
	return nil
}

// Last returns the last instant that counts as done on a day, counted among those of
// the rooms.
func (h Hall) Last(day int) instance.Tick { return h.model.days[day].last }

// MinutesOf is minutesOf.
var MinutesOf = minutesOf

// A Supply is a supply, for its own test.
type Supply = supply

// NewSupply returns the supply of so much in each of some spans.
func NewSupply(spans []instance.Span, rate []int) *Supply {
	var changes []change
	for i := range spans {
		changes = append(changes, open(spans[i:i+1], rate[i])...)
	}
	return newSupply(changes)
}

// Between is between.
func (s *supply) Between(from, to instance.Tick) int { return s.between(from, to) }

// Less is with less.
func (s *supply) Less(other *Supply) *Supply { return s.with(other, less) }

// LeftOutOrNot returns what the prices prove of all plans.
func (p *Prices) LeftOutOrNot() Least { return p.least(p.desk.value(p.best, wish{}).cost) }
