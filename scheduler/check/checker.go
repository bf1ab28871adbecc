package check

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A checker holds one plan under judgement, with what it names looked up.
type checker struct {
	shop    *shop.Shop
	plan    *plan.Plan
	zone    *time.Location
	now     int64
	horizon int64
	known   *catalogue

	loads     []*load                // in the plan's order
	tasks     []*task                // in the plan's order
	positions []*position            // by stage and number, those with a task
	hours     map[string]hours       // by calendar id
	downtime  map[string][]span      // by resource
	ships     map[shipping]shop.Date // ship dates found so far

	meaningful bool // every reference names something
	breaches   []Breach
}

func newChecker(s *shop.Shop, p *plan.Plan) *checker {
	zone, err := time.LoadLocation(s.Timezone)
	if err != nil {
		panic("check: a shop that was read has a time zone, not " + s.Timezone)
	}
	c := &checker{shop: s, plan: p, zone: zone, now: s.Now.Minute, known: newCatalogue(s)}
	c.horizon = clock(c.date(c.now)+shop.Date(s.HorizonDays), 0, zone)
	c.ships = map[shipping]shop.Date{}
	return c
}

// resolve looks up all that the plan names. It needs every reference good.
func (c *checker) resolve() {
	c.openCalendars()
	released := map[string]bool{}
	if c.shop.Released != nil {
		for _, l := range c.shop.Released.Loads {
			released[l.ID] = true
		}
	}
	byID := map[string]*load{}
	for i := range c.plan.Loads {
		l := c.resolveLoad(&c.plan.Loads[i])
		l.released = released[l.ID]
		byID[l.ID] = l
		c.loads = append(c.loads, l)
	}
	for i := range c.plan.Tasks {
		c.tasks = append(c.tasks, c.resolveTask(i, byID[c.plan.Tasks[i].Load]))
	}
	c.fillPositions()
	c.findSetups()
}

func (c *checker) resolveLoad(of *shop.Load) *load {
	l := &load{Load: of, where: "load " + of.ID, oven: c.known.ovens[of.Oven], profile: c.known.profiles[of.Profile]}
	for _, use := range of.Racks {
		l.kg += c.known.racks[use.Rack].TareKg + c.hungKg(&use)
		for _, level := range use.Levels {
			for _, hang := range level {
				l.run(c.known.sections[hang.Section]).pieces += hang.Pieces
			}
		}
	}
	return l
}

// hungKg returns what the pieces on a rack weigh, with their mandrels.
func (c *checker) hungKg(use *shop.RackUse) float64 {
	var kg float64
	for _, level := range use.Levels {
		for _, hang := range level {
			section := c.known.sections[hang.Section]
			kg += float64(hang.Pieces) * (section.Kg + c.known.mandrelTypes[section.Mandrel].Kg)
		}
	}
	return kg
}

func (c *checker) resolveTask(index int, l *load) *task {
	of := &c.plan.Tasks[index]
	t := &task{Task: of, index: index, load: l, section: c.known.sections[of.Section], station: c.shop.Stations.At(of.Stage)}
	r := l.run(t.section)
	r.tasks[t.Stage] = append(r.tasks[t.Stage], t)
	l.tasks = append(l.tasks, t)
	return t
}

// fillPositions gathers the tasks by position, and gives them its hours.
func (c *checker) fillPositions() {
	type place struct {
		stage  shop.Stage
		number int
	}
	at := map[place]*position{}
	for _, t := range c.tasks {
		key := place{t.Stage, t.Position}
		if at[key] == nil {
			at[key] = &position{stage: t.Stage, number: t.Position, there: t.Position >= 1 && t.Position <= t.station.Positions}
			c.positions = append(c.positions, at[key])
		}
		at[key].tasks = append(at[key].tasks, t)
	}
	for _, p := range c.positions {
		slices.SortStableFunc(p.tasks, func(a, b *task) int {
			return cmp.Or(cmp.Compare(a.Start.Minute, b.Start.Minute), cmp.Compare(a.End.Minute, b.End.Minute))
		})
		open := c.positionHours(p)
		for _, t := range p.tasks {
			t.hours = open
		}
	}
	slices.SortFunc(c.positions, func(a, b *position) int {
		return cmp.Or(cmp.Compare(a.stage, b.stage), cmp.Compare(a.number, b.number))
	})
}

// positionHours returns the station's calendar less the position's downtime;
// no hours for a position that is not there.
func (c *checker) positionHours(p *position) hours {
	if !p.there {
		return nil
	}
	closed := slices.Clone(c.downtime[p.stage.String()])
	closed = append(closed, c.downtime[fmt.Sprintf("%s/%d", p.stage, p.number)]...)
	return c.hours[c.shop.Stations.At(p.stage).Calendar].without(closed)
}

// date returns the local date of a minute.
func (c *checker) date(minute int64) shop.Date {
	y, m, d := time.Unix(minute*60, 0).In(c.zone).Date()
	return shop.Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// at names a minute in a message, in the shop's local time.
func (c *checker) at(minute int64) string {
	return time.Unix(minute*60, 0).In(c.zone).Format(time.RFC3339)
}
