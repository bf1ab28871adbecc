package scheduler_test

import (
	"math"
	"slices"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A toyShop is a shop that an oracle understands, in minutes from now.
type toyShop struct {
	s          *shop.Shop
	horizon    int
	midnights  []int // that begin the days; the first, now
	dates      []int // the midnights, and that which ends the horizon: what is done then is done on a date of its own
	stations   [shop.StageCount]*clockwork
	last       [shop.StageCount]string // what is set up
	oven       *clockwork
	shut       []shop.Span // when the oven takes no load
	cleaning   *clockwork
	sections   []toySection
	maxOpen    map[string]int
	turnaround map[string]int
	ready      map[string][]int // by mandrel type: when each is there
	racks      []int            // when each is there
	suits      map[int][]bool   // by profile: the sections that it suits
	ovens      map[int]*ovenTable
	ships      map[string][]shop.Date // by product and day
}

type toySection struct {
	shop.Section
	product  int
	prepregs []string
	cut      map[string]float64 // minutes by prepreg
	kg, hang float64            // with its mandrel
}

func newToyShop(s *shop.Shop) *toyShop {
	t := &toyShop{
		s: s, horizon: int(s.Horizon() - s.Now.Minute), midnights: []int{0}, maxOpen: map[string]int{},
		turnaround: map[string]int{}, ready: map[string][]int{}, suits: map[int][]bool{}, ovens: map[int]*ovenTable{}, ships: map[string][]shop.Date{},
	}
	for day := 1; day < s.HorizonDays; day++ {
		t.midnights = append(t.midnights, int(shop.At(s.Today()+shop.Date(day), 0, s.Zone())-s.Now.Minute))
	}
	t.dates = append(slices.Clone(t.midnights), t.horizon)
	shipping := s.Calendars[s.Policy.ShippingCalendar]
	for _, p := range s.Products {
		for day := range s.HorizonDays + 1 {
			t.ships[p.ID] = append(t.ships[p.ID], shop.ShipDate(&shipping, s.Today()+shop.Date(day), p.FinishDays, s.Zone()))
		}
	}
	t.addClocks()
	t.addTools()
	for p := range s.Products {
		for _, section := range s.Products[p].Sections {
			t.addSection(p, section)
		}
	}
	for profile := range s.Profiles {
		for i := range t.sections {
			t.suits[profile] = append(t.suits[profile], t.suit(profile, &t.sections[i]))
		}
	}
	return t
}

func (t *toyShop) clock(calendar string, closed []shop.Span) *clockwork {
	c := t.s.Calendars[calendar]
	first := t.s.Today() - 1
	spans := c.Spans(first, first+shop.Date(t.s.HorizonDays)+3, t.s.Zone())
	return newClockwork(shop.Minus(spans, closed), t.s.Now.Minute, t.horizon)
}

func (t *toyShop) addClocks() {
	down := map[string][]shop.Span{}
	for _, d := range t.s.Downtime {
		down[d.Resource] = append(down[d.Resource], shop.Span{From: d.From.Minute, To: d.To.Minute})
	}
	for _, stage := range shop.Stages() {
		st := t.s.Stations.At(stage)
		name := stage.String()
		t.stations[stage] = t.clock(st.Calendar, slices.Concat(down[name], down[name+"/1"]))
		if len(st.LastSetup) > 0 && st.LastSetup[0] != nil {
			t.last[stage] = *st.LastSetup[0]
		}
	}
	t.cleaning = t.clock(t.s.Stations.Pull.Calendar, nil)
	oven := &t.s.Ovens[0]
	t.oven = t.clock(oven.Calendar, nil)
	t.shut = down["oven:"+oven.ID]
	if oven.BusyUntil != nil {
		t.shut = append(t.shut, shop.Span{From: math.MinInt32, To: oven.BusyUntil.Minute})
	}
}

func (t *toyShop) addTools() {
	since := func(at shop.Instant) int { return max(0, int(at.Minute-t.s.Now.Minute)) }
	for _, m := range t.s.MandrelTypes {
		t.turnaround[m.ID] = m.TurnaroundMinutes
	}
	for _, m := range t.s.Mandrels {
		switch {
		case m.State != shop.Ready:
		case m.ReadyAt == nil:
			t.ready[m.Type] = append(t.ready[m.Type], 0)
		default:
			t.ready[m.Type] = append(t.ready[m.Type], since(*m.ReadyAt))
		}
	}
	for i := range t.s.Racks[0].Count {
		if i < len(t.s.Racks[0].BusyUntil) {
			t.racks = append(t.racks, since(t.s.Racks[0].BusyUntil[i]))
		} else {
			t.racks = append(t.racks, 0)
		}
	}
	for _, p := range t.s.Prepregs {
		t.maxOpen[p.ID] = p.MaxOpenMinutes
	}
}

func (t *toyShop) addSection(product int, section shop.Section) {
	out := toySection{Section: section, product: product, cut: map[string]float64{}, kg: section.Kg}
	for _, f := range section.Flags {
		if _, known := out.cut[f.Prepreg]; !known {
			out.prepregs = append(out.prepregs, f.Prepreg)
		}
		out.cut[f.Prepreg] += f.CutMinutes
	}
	for _, m := range t.s.MandrelTypes {
		if m.ID == section.Mandrel {
			out.kg, out.hang = out.kg+m.Kg, m.HangMM
		}
	}
	t.sections = append(t.sections, out)
}

// suit asks the checker whether a profile qualifies for a section, and the oven
// has it (R1).
func (t *toyShop) suit(profile int, section *toySection) bool {
	rack := &t.s.Racks[0]
	p := &plan.Plan{Format: plan.Format, Shop: t.s.Name, Now: t.s.Now, Loads: []shop.Load{{
		ID: "L", Oven: t.s.Ovens[0].ID, Profile: t.s.Profiles[profile].ID, In: t.s.Now, CureStart: t.s.Now, CureEnd: t.s.Now, Out: t.s.Now,
		Racks: []shop.RackUse{{Rack: rack.ID, Setup: rack.Setups[0].ID, Levels: [][]shop.Hang{{{Section: section.ID, Pieces: 1}}}}},
	}}}
	rules := check.Plan(t.s, p).Rules()
	if slices.Contains(rules, check.RuleFile) {
		panic("the oracle's own load has no meaning")
	}
	return !slices.Contains(rules, "R1")
}

// hang returns a load of some pieces by section, ok false where no set-up takes
// them or the profile does not suit them (R2, R3).
func (t *toyShop) hang(profile int, pieces []int) (l aLoad, ok bool) {
	rack, oven := &t.s.Racks[0], &t.s.Ovens[0]
	kg := 0.0
	for i, n := range pieces {
		if n > 0 && !t.suits[profile][i] {
			return l, false
		}
		kg += float64(n) * t.sections[i].kg
	}
	if kg > rack.MaxKg+1e-6 || kg+rack.TareKg > oven.MaxKg+1e-6 {
		return l, false
	}
	for i := range rack.Setups {
		setup := &rack.Setups[i]
		if setup.OuterHeightMM > oven.HeightMM+1e-6 {
			continue
		}
		l = aLoad{profile: profile, pieces: pieces, setup: setup, levels: make([][]shop.Hang, len(setup.Levels))}
		if t.hangPiece(&l, slices.Clone(pieces), make([]int, len(setup.Levels)), 0) {
			l.cure = t.cureMinutes(profile, kg+rack.TareKg)
			return l, true
		}
	}
	return l, false
}

// hangPiece hangs the pieces that are left, of the i-th section and those after
// it, on the levels of a load's set-up, of which so many pegs are used.
func (t *toyShop) hangPiece(l *aLoad, left, used []int, i int) bool {
	for ; i < len(left) && left[i] == 0; i++ {
	}
	if i == len(left) {
		return true
	}
	section := &t.sections[i]
	for k, level := range l.setup.Levels {
		pegs := max(1, int(math.Ceil((section.ODMM+t.s.Policy.GapMM)/level.PitchMM-1e-6)))
		if section.hang > level.ClearMM+1e-6 || used[k]+pegs > level.Pegs {
			continue
		}
		left[i], used[k] = left[i]-1, used[k]+pegs
		if t.hangPiece(l, left, used, i) {
			l.levels[k] = append(l.levels[k], shop.Hang{Section: section.ID, Pieces: 1})
			return true
		}
		left[i], used[k] = left[i]+1, used[k]-pegs
	}
	return false
}

// cureMinutes returns how long a load of so many kilograms cures (R2).
func (t *toyShop) cureMinutes(profile int, kg float64) int {
	p := &t.s.Profiles[profile]
	at := t.s.Policy.AmbientC
	sum := t.s.Ovens[0].LagMinutesPerKg * kg
	for _, s := range p.Segments {
		sum += math.Abs(s.ToC-at)/s.RampCPerMin + s.SoakMinutes
		at = s.ToC
	}
	sum += max(0, (at-p.CoolToC)/p.CoolCPerMin)
	return int(math.Ceil(sum - 1e-6))
}

// An ovenTable says, of loads of some cure minutes, when they can go in at the
// earliest from each minute on, and when one that goes in then can be out (R4).
type ovenTable struct{ in, out []int }

// ovenTable makes the table of so many cure minutes, or finds it made.
func (t *toyShop) ovenTable(cure int) *ovenTable {
	if table, made := t.ovens[cure]; made {
		return table
	}
	oven := &t.s.Ovens[0]
	past := t.horizon + 1
	table := &ovenTable{in: slices.Repeat([]int{past}, past+1), out: slices.Repeat([]int{past}, past+1)}
	unload := slices.Clone(table.in) // by minute: when unloading can begin from it on
	for at := t.horizon - 1; at >= 0; at-- {
		if unload[at] = unload[at+1]; t.oven.until[at] >= at+oven.UnloadMinutes {
			unload[at] = at
		}
		table.in[at] = table.in[at+1]
		if done := at + oven.LoadMinutes + cure; done < past {
			table.out[at] = min(past, unload[done]+oven.UnloadMinutes)
		}
		if t.takes(at, table.out[at]) {
			table.in[at] = at
		}
	}
	t.ovens[cure] = table
	return table
}

// takes reports whether the oven can take a load between two instants.
func (t *toyShop) takes(in, out int) bool {
	oven := &t.s.Ovens[0]
	if out > t.horizon || t.oven.until[in] < in+oven.LoadMinutes || !oven.Unattended && t.oven.until[in] < out {
		return false
	}
	from, to := t.s.Now.Minute+int64(in), t.s.Now.Minute+int64(out)
	return !slices.ContainsFunc(t.shut, func(s shop.Span) bool { return s.From < to && from < s.To })
}
