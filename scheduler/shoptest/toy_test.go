package shoptest_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"blankwright/scheduler/check"
	"blankwright/scheduler/cure"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	. "blankwright/scheduler/shoptest"
)

// toyPositions is one more than the loads that a toy has under way, so that
// a load always comes upon a position that one which may be over has left.
const toyPositions = 3

// toyShop returns a made shop in which a plan is easy: open round the clock,
// with nobody needed, tools and material enough, and nothing in the way. Its
// yields, set-ups, stock, orders and pieces to come are what Make drew.
func toyShop(seed uint64) *shop.Shop {
	s := Make(seed, Size{Days: 40, Pieces: 40, Products: 3})
	always := s.Calendars["always"]
	for id := range s.Calendars {
		s.Calendars[id] = always
	}
	s.Crews, s.Downtime, s.Released, s.Supply = nil, nil, nil, nil
	s.Policy.MaxGreenMinutes = 100000
	for _, stage := range shop.Stages() {
		st := s.Stations.At(stage)
		st.Positions, st.Crew, st.People = toyPositions, "", 0
	}
	for i := range s.Ovens {
		s.Ovens[i].BusyUntil, s.Ovens[i].Crew, s.Ovens[i].People = nil, "", 0
	}
	for i := range s.Racks {
		s.Racks[i].BusyUntil = nil
	}
	for _, t := range s.MandrelTypes {
		for i := range 6 {
			s.Mandrels = append(s.Mandrels, shop.Mandrel{ID: fmt.Sprintf("%s/more-%d", t.ID, i), Type: t.ID, State: shop.Ready})
		}
	}
	for i := range s.Prepregs {
		p := &s.Prepregs[i]
		p.MaxOpenMinutes = 100000
		s.Supply = append(s.Supply,
			shop.Supply{ID: p.ID + " late", Prepreg: p.ID, M2: 1000, From: s.Now, Expires: later(s, 100*1440)},
			shop.Supply{ID: p.ID + " soon", Prepreg: p.ID, M2: 0.5, From: s.Now, Expires: later(s, 10*1440)})
	}
	return s
}

func later(s *shop.Shop, minutes int64) shop.Instant {
	return shop.InstantIn(s.Now.Minute+minutes, s.Zone())
}

// A toy plans with no wit at all: load after load, each three pieces of one
// section, at most two loads under way at a time.
type toy struct {
	s     *shop.Shop
	p     *plan.Plan
	ready int64   // when the next load may begin
	over  []int64 // when each load had all its mandrels clean
	oven  int64
	free  map[string]int64
	key   map[string]string
}

// toyPlan returns a valid plan of so many loads.
func toyPlan(s *shop.Shop, loads int) *plan.Plan {
	t := &toy{
		s: s, p: &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now},
		ready: s.Now.Minute, free: map[string]int64{}, key: map[string]string{},
	}
	for _, stage := range shop.Stages() {
		for i, key := range s.Stations.At(stage).LastSetup {
			if key != nil {
				t.key[fmt.Sprint(stage, i)] = *key
			}
		}
	}
	var sections []*shop.Section
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			sections = append(sections, &s.Products[i].Sections[k])
		}
	}
	for i := range loads {
		t.load(i, sections[i%len(sections)])
	}
	allocate(s, t.p)
	return t.p
}

func (t *toy) load(i int, section *shop.Section) {
	const pieces = 3
	if i > 1 {
		t.ready = max(t.ready, t.over[i-2])
	}
	id, oven := fmt.Sprintf("toy-%s-%d", t.s.Now, i), &t.s.Ovens[0]
	in := max(t.ready, t.oven)
	for stage, from := shop.Cut, t.ready; stage <= shop.Wrap; stage++ {
		from = t.stage(id, section, stage, i, pieces, from)
		in = max(in, from)
	}
	profile := find(t.s.Profiles, func(p shop.Profile) bool { return suits(t.s, &p, section) })
	tool := find(t.s.MandrelTypes, func(m shop.MandrelType) bool { return m.ID == section.Mandrel })
	rack := t.s.Racks[0]
	kg := rack.TareKg + pieces*(section.Kg+tool.Kg)
	start := in + int64(oven.LoadMinutes)
	end := start + int64(cure.Minutes(&profile, t.s.Policy.AmbientC, oven.LagMinutesPerKg*kg))
	out := end + int64(oven.UnloadMinutes)
	t.p.Loads = append(t.p.Loads, shop.Load{
		ID: id, Oven: oven.ID, Profile: profile.ID, In: t.at(in), CureStart: t.at(start), CureEnd: t.at(end), Out: t.at(out),
		Racks: []shop.RackUse{{Rack: rack.ID, Setup: rack.Setups[0].ID, Levels: [][]shop.Hang{{{Section: section.ID, Pieces: pieces}}}}},
	})
	from := out + int64(profile.RestMinutes)
	pulled := t.stage(id, section, shop.Pull, i, pieces, from)
	t.stage(id, section, shop.Trim, i, pieces, t.stage(id, section, shop.Strip, i, pieces, pulled))
	t.ready, t.oven = in, out
	t.over = append(t.over, pulled+int64(tool.TurnaroundMinutes))
}

// stage lays a run's tasks at one stage one after the other, from an instant
// at which all its pieces are there, and returns when the last one ends.
func (t *toy) stage(load string, section *shop.Section, stage shop.Stage, i, pieces int, from int64) int64 {
	position := i % toyPositions
	place := fmt.Sprint(stage, position)
	from = max(from, t.free[place])
	for _, work := range toyWork(section, stage) {
		prepreg, minutes := work.prepreg, work.minutes
		for left := pieces; left > 0; {
			n := min(left, t.s.Policy.TransferPieces)
			key := map[shop.Stage]string{shop.Cut: prepreg, shop.Tack: section.Mandrel, shop.Wrap: section.Tape}[stage]
			setup := key != "" && key != t.key[place]
			need := float64(n) * minutes
			if setup {
				need += float64(t.s.Stations.At(stage).SetupMinutes)
				t.key[place] = key
			}
			end := from + max(1, int64(math.Ceil(need-1e-6)))
			t.p.Tasks = append(t.p.Tasks, shop.Task{
				Load: load, Section: section.ID, Stage: stage, Prepreg: prepreg, Position: position + 1,
				Pieces: n, Setup: setup, Start: t.at(from), End: t.at(end),
			})
			from, left = end, left-n
		}
	}
	t.free[place] = from
	return from
}

// A cutting is the minutes of a piece, of one prepreg at cut.
type cutting struct {
	prepreg string
	minutes float64
}

// toyWork returns what is to be done to a piece at a stage: one thing, but for
// each prepreg at cut.
func toyWork(section *shop.Section, stage shop.Stage) []cutting {
	if stage != shop.Cut {
		return []cutting{{minutes: section.Minutes.At(stage)}}
	}
	var out []cutting
	for _, f := range section.Flags {
		i := slices.IndexFunc(out, func(c cutting) bool { return c.prepreg == f.Prepreg })
		if i < 0 {
			i, out = len(out), append(out, cutting{prepreg: f.Prepreg})
		}
		out[i].minutes += f.CutMinutes
	}
	return out
}

func (t *toy) at(minute int64) shop.Instant { return shop.InstantIn(minute, t.s.Zone()) }

// allocate gives good sets to lines in the file's order as they become good,
// as rule R13 counts them, and fills in the cost that the checker counts.
func allocate(s *shop.Shop, p *plan.Plan) {
	p.Allocations = nil
	times := []int64{s.Now.Minute}
	for _, t := range p.Tasks {
		times = append(times, max(t.End.Minute, s.Now.Minute))
	}
	for _, in := range s.Incoming {
		times = append(times, in.At.Minute)
	}
	slices.Sort(times)
	given := map[string]int{}
	for _, product := range s.Products {
		for _, at := range slices.Compact(slices.Clone(times)) {
			fresh := goodSets(s, p, &product, at) - given[product.ID]
			for _, line := range s.Demand {
				n := min(fresh, line.Quantity-given[line.ID])
				if line.Product != product.ID || n <= 0 {
					continue
				}
				p.Allocations = append(p.Allocations, plan.Allocation{Line: line.ID, Sets: n, DoneAt: shop.InstantIn(at, s.Zone())})
				given[line.ID] += n
				given[product.ID] += n
				fresh -= n
			}
		}
	}
	p.Cost, p.Bound = plan.Cost{}, plan.Bound{}
	p.Cost = check.Plan(s, p).Cost
	if p.Cost.Total > 0 {
		p.Bound.Gap = 1
	}
}

// goodSets counts a product's good sets at an instant.
func goodSets(s *shop.Shop, p *plan.Plan, product *shop.Product, at int64) int {
	least := math.MaxInt
	for _, section := range product.Sections {
		good, trimmed := 0, 0
		for _, in := range s.Incoming {
			if in.Section == section.ID && in.At.Minute <= at {
				good += in.Pieces
			}
		}
		for _, t := range p.Tasks {
			old := isHeld(s, t.Load) && t.End.Minute <= s.Now.Minute
			if t.Section == section.ID && t.Stage == shop.Trim && t.End.Minute <= at && !old {
				trimmed += t.Pieces
			}
		}
		least = min(least, good+int(math.Floor(section.Yield*float64(trimmed)+1e-6)))
	}
	return product.Stock + least
}

func isHeld(s *shop.Shop, load string) bool {
	return s.Released != nil && slices.ContainsFunc(s.Released.Loads, func(l shop.Load) bool { return l.ID == load })
}

// continued returns what is left of a plan when its shop has advanced to s:
// the released work, and the loads that had not begun, as they were planned.
func continued(s *shop.Shop, p *plan.Plan) *plan.Plan {
	out := &plan.Plan{Format: p.Format, Shop: s.Name, Now: s.Now}
	left := map[string]bool{}
	for _, load := range p.Loads {
		first := load.In.Minute
		for _, t := range p.Tasks {
			if t.Load == load.ID {
				first = min(first, t.Start.Minute)
			}
		}
		if left[load.ID] = isHeld(s, load.ID) || first > s.Now.Minute; left[load.ID] {
			out.Loads = append(out.Loads, load)
		}
	}
	for _, t := range p.Tasks {
		if left[t.Load] {
			out.Tasks = append(out.Tasks, t)
		}
	}
	slices.SortStableFunc(out.Loads, func(a, b shop.Load) int { return cmp.Compare(a.In.Minute, b.In.Minute) })
	allocate(s, out)
	return out
}
