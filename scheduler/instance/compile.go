package instance

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"blankwright/scheduler/cure"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// New compiles a shop that shop.Read has accepted.
func New(s *shop.Shop) *Instance {
	c := &compiler{s: s, in: &Instance{Shop: s}}
	c.clock()
	c.index()
	c.stations()
	c.crews()
	c.prepregs()
	c.racks()
	c.ovens()
	c.sections()
	c.mandrels()
	c.demand()
	c.released()
	c.turns()
	c.anew()
	c.splits()
	return c.in
}

// A compiler carries what New needs on the way.
type compiler struct {
	s         *shop.Shop
	in        *Instance
	horizon   int64
	calendars map[string]*Calendar
	spans     map[string][]shop.Span
	ids       map[string]map[string]int // kind -> id -> index
}

// cleaningDays is how far back mandrels pulled before now are followed; one
// that takes longer to clean is taken to have been pulled then.
const cleaningDays = 31

func (c *compiler) clock() {
	in, s := c.in, c.s
	in.zone, in.base, in.today = s.Zone(), s.Now.Minute, s.Today()
	c.horizon = s.Horizon()
	in.Horizon = Tick(c.horizon - in.base)
	for day := 0; day <= s.HorizonDays; day++ {
		in.midnights = append(in.midnights, Tick(shop.At(in.today+shop.Date(day), 0, in.zone)-in.base))
	}
	c.calendars, c.spans = map[string]*Calendar{}, map[string][]shop.Span{}
	for id, calendar := range s.Calendars {
		// The day before today too, whose last window may run into today.
		c.spans[id] = calendar.Spans(in.today-1, in.today+shop.Date(s.HorizonDays)+1, in.zone)
		c.calendars[id] = newCalendar(c.spans[id], in.base, in.base, c.horizon)
	}
	pulling := s.Calendars[s.Stations.Pull.Calendar]
	past := in.today - cleaningDays
	in.Cleaning = newCalendar(pulling.Spans(past, in.today+shop.Date(s.HorizonDays)+1, in.zone),
		in.base, shop.At(past, 0, in.zone), c.horizon)
	in.Transfer, in.MaxGreen = s.Policy.TransferPieces, s.Policy.MaxGreenMinutes
}

func (c *compiler) index() {
	s := c.s
	c.ids = map[string]map[string]int{}
	number(c, "crew", s.Crews, func(r *shop.Crew) string { return r.ID })
	number(c, "resin", s.Resins, func(r *shop.Resin) string { return r.ID })
	number(c, "tape", s.Tapes, func(r *shop.Tape) string { return r.ID })
	number(c, "prepreg", s.Prepregs, func(r *shop.Prepreg) string { return r.ID })
	number(c, "profile", s.Profiles, func(r *shop.Profile) string { return r.ID })
	number(c, "oven", s.Ovens, func(r *shop.Oven) string { return r.ID })
	number(c, "rack", s.Racks, func(r *shop.Rack) string { return r.ID })
	number(c, "mandrel", s.MandrelTypes, func(r *shop.MandrelType) string { return r.ID })
	number(c, "product", s.Products, func(r *shop.Product) string { return r.ID })
}

func number[T any](c *compiler, kind string, rows []T, id func(*T) string) {
	c.ids[kind] = make(map[string]int, len(rows))
	for i := range rows {
		c.ids[kind][id(&rows[i])] = i
	}
}

// find returns the index of an id, None for an empty or unknown one.
func (c *compiler) find(kind, id string) int {
	if i, ok := c.ids[kind][id]; ok {
		return i
	}
	return None
}

func (c *compiler) tick(i shop.Instant) Tick { return Tick(i.Minute - c.in.base) }

// downtime returns the holes of a resource, in minutes since the epoch.
func (c *compiler) downtime(resources ...string) []shop.Span {
	var holes []shop.Span
	for _, d := range c.s.Downtime {
		for _, r := range resources {
			if d.Resource == r {
				holes = append(holes, shop.Span{From: d.From.Minute, To: d.To.Minute})
			}
		}
	}
	return holes
}

func (c *compiler) stations() {
	for _, stage := range shop.Stages() {
		from := c.s.Stations.At(stage)
		st := &c.in.Stations[stage]
		*st = Station{
			Stage: stage, Setup: from.SetupMinutes, Crew: c.find("crew", from.Crew), People: from.People,
			Calendar: c.calendars[from.Calendar],
		}
		if st.People == 0 {
			st.Crew = None
		}
		for n := range from.Positions {
			holes := c.downtime(stage.String(), stage.String()+"/"+strconv.Itoa(n+1))
			open := c.spans[from.Calendar]
			if len(holes) > 0 {
				open = shop.Minus(open, holes)
			}
			st.Positions = append(st.Positions, newCalendar(open, c.in.base, c.in.base, c.horizon))
			st.Last = append(st.Last, c.lastKey(stage, from.LastSetup, n))
		}
	}
}

func (c *compiler) lastKey(stage shop.Stage, last []*string, n int) int {
	kind := map[shop.Stage]string{shop.Cut: "prepreg", shop.Tack: "mandrel", shop.Wrap: "tape"}[stage]
	if kind == "" || n >= len(last) || last[n] == nil {
		return None
	}
	return c.find(kind, *last[n])
}

func (c *compiler) crews() {
	for _, crew := range c.s.Crews {
		to := Crew{ID: crew.ID}
		for _, shift := range crew.Shifts {
			to.Shifts = append(to.Shifts, Shift{c.calendars[shift.Calendar], shift.People})
		}
		c.in.Crews = append(c.in.Crews, to)
	}
}

func (c *compiler) prepregs() {
	for _, p := range c.s.Prepregs {
		to := Prepreg{ID: p.ID, MaxOpen: p.MaxOpenMinutes}
		for _, row := range c.s.Supply {
			if row.Prepreg == p.ID {
				to.Limited = true
				to.Rows = append(to.Rows, Supply{row.M2, c.tick(row.From), c.tick(row.Expires)})
			}
		}
		sort.SliceStable(to.Rows, func(i, j int) bool {
			a, b := to.Rows[i], to.Rows[j]
			if a.Expires != b.Expires {
				return a.Expires < b.Expires
			}
			return a.From < b.From
		})
		c.in.Prepregs = append(c.in.Prepregs, to)
	}
	for _, p := range c.s.Profiles {
		c.in.Profiles = append(c.in.Profiles, Profile{p.ID, p.RestMinutes})
	}
}

func (c *compiler) racks() {
	var kinds []*rack.Kind
	for r, from := range c.s.Racks {
		c.in.Racks = append(c.in.Racks, c.rackPool(from))
		for i, setup := range from.Setups {
			kind := &rack.Kind{Rack: r, Setup: i, Count: from.Count, Tare: from.TareKg, MaxKg: from.MaxKg}
			for _, l := range setup.Levels {
				kind.Levels = append(kind.Levels, rack.Level{Clear: l.ClearMM, Pegs: l.Pegs, Pitch: l.PitchMM})
			}
			kinds = append(kinds, kind)
		}
	}
	var pieces []rack.Piece
	for _, product := range c.s.Products {
		for _, section := range product.Sections {
			m := c.s.MandrelTypes[c.find("mandrel", section.Mandrel)]
			pieces = append(pieces, rack.Piece{Hang: m.HangMM, Width: section.ODMM + c.s.Policy.GapMM, Kg: section.Kg + m.Kg})
		}
	}
	c.in.Hanger = rack.NewHanger(kinds, pieces)
}

func (c *compiler) rackPool(from shop.Rack) Pool {
	free := []Tick{}
	for _, until := range from.BusyUntil {
		free = append(free, c.tick(until))
	}
	for len(free) < from.Count {
		free = append(free, 0)
	}
	return newPool(from.ID, free)
}

// newPool returns the pool of things that are free from the given ticks on.
func newPool(id string, free []Tick) Pool {
	sort.Ints(free)
	p := Pool{ID: id, From: []Tick{0}, Count: []int{0}, Total: len(free)}
	for _, t := range free {
		if t = max(t, 0); t > p.From[len(p.From)-1] {
			p.From, p.Count = append(p.From, t), append(p.Count, p.Count[len(p.Count)-1])
		}
		p.Count[len(p.Count)-1]++
	}
	return p
}

func (c *compiler) ovens() {
	for _, o := range c.s.Ovens {
		to := Oven{
			ID: o.ID, Calendar: c.calendars[o.Calendar], Unattended: o.Unattended,
			Load: o.LoadMinutes, Unload: o.UnloadMinutes, Lag: o.LagMinutesPerKg,
			RunCost: o.RunCost, HourCost: o.HourCost, Crew: c.find("crew", o.Crew), People: o.People,
		}
		if to.People == 0 {
			to.Crew = None
		}
		if o.BusyUntil != nil {
			to.Blocked = append(to.Blocked, Span{-Never, c.tick(*o.BusyUntil)})
		}
		for _, hole := range c.downtime("oven:" + o.ID) {
			to.Blocked = append(to.Blocked, Span{Tick(hole.From - c.in.base), Tick(hole.To - c.in.base)})
		}
		for _, id := range o.Profiles {
			to.Profiles = append(to.Profiles, c.find("profile", id))
		}
		to.Room = rack.NewOven(c.in.Hanger, o.Bays, o.MaxKg, c.clearing(o.HeightMM))
		c.in.Ovens = append(c.in.Ovens, to)
	}
}

// clearing returns the kinds of racks that go into an oven of a height.
func (c *compiler) clearing(height float64) (kinds []*rack.Kind) {
	for _, k := range c.in.Hanger.Kinds {
		if c.s.Racks[k.Rack].Setups[k.Setup].OuterHeightMM <= height+1e-6 {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

func (c *compiler) mandrels() {
	free := make([][]Tick, len(c.s.MandrelTypes))
	for _, m := range c.s.Mandrels {
		if m.State != shop.Ready {
			continue
		}
		from := Tick(0)
		if m.ReadyAt != nil {
			from = c.tick(*m.ReadyAt)
		}
		t := c.find("mandrel", m.Type)
		free[t] = append(free[t], from)
	}
	for t, m := range c.s.MandrelTypes {
		c.in.Mandrels = append(c.in.Mandrels, newPool(m.ID, free[t]))
	}
}

func (c *compiler) sections() {
	c.in.sectionIndex = map[string]int{}
	for p := range c.s.Products {
		from := &c.s.Products[p]
		product := Product{ID: from.ID, Index: p, Stock: from.Stock}
		for i := range from.Sections {
			index := len(c.in.Sections)
			c.in.sectionIndex[from.Sections[i].ID] = index
			product.Sections = append(product.Sections, index)
			c.in.Sections = append(c.in.Sections, c.section(&from.Sections[i], index, p))
		}
		c.in.Products = append(c.in.Products, product)
	}
	for _, i := range c.s.Incoming {
		section := &c.in.Sections[c.in.sectionIndex[i.Section]]
		section.Incoming = append(section.Incoming, Good{max(0, c.tick(i.At)), i.Pieces})
	}
	for i := range c.in.Sections {
		inOrder(c.in.Sections[i].Incoming)
	}
}

func inOrder(goods []Good) {
	sort.SliceStable(goods, func(i, j int) bool { return goods[i].At < goods[j].At })
}

func (c *compiler) section(from *shop.Section, index, product int) Section {
	to := Section{
		ID: from.ID, Index: index, Product: product, Yield: from.Yield, MaxOpen: Never,
		Mandrel: c.find("mandrel", from.Mandrel), Tape: c.find("tape", from.Tape), Cuts: c.cuts(from),
	}
	for _, stage := range shop.Stages() {
		to.Minutes[stage] = from.Minutes.At(stage)
	}
	for _, cut := range to.Cuts {
		to.MaxOpen = min(to.MaxOpen, c.in.Prepregs[cut.Prepreg].MaxOpen)
	}
	for i := range c.s.Profiles {
		to.Profiles = append(to.Profiles, len(c.faults(&c.s.Profiles[i], from)) == 0)
	}
	return to
}

func (c *compiler) cuts(from *shop.Section) (cuts []Cut) {
	for p := range c.s.Prepregs {
		cut := Cut{Prepreg: p}
		found := false
		for _, f := range from.Flags {
			if f.Prepreg == c.s.Prepregs[p].ID {
				found = true
				cut.Minutes += f.CutMinutes
			}
		}
		if found {
			cut.Area = from.M2(&c.s.Prepregs[p])
			cuts = append(cuts, cut)
		}
	}
	return cuts
}

func (c *compiler) faults(p *shop.Profile, section *shop.Section) []string {
	return Faults(c.s, p, section)
}

// Faults returns why a profile does not qualify for a section (rule R1), one
// reason for each thing that stands against it.
func Faults(s *shop.Shop, p *shop.Profile, section *shop.Section) (faults []string) {
	add := func(fault string) {
		if fault != "" {
			faults = append(faults, fault)
		}
	}
	if len(section.Profiles) > 0 && !contains(section.Profiles, p.ID) {
		add("the section asks for " + strings.Join(section.Profiles, " or "))
	}
	resins := map[string]bool{}
	for _, f := range section.Flags {
		for i := range s.Prepregs {
			resin := s.Prepregs[i].Resin
			if s.Prepregs[i].ID != f.Prepreg || resins[resin] {
				continue
			}
			resins[resin] = true
			for r := range s.Resins {
				if s.Resins[r].ID == resin {
					add(cure.Resin(p, &s.Resins[r], s.Policy.AmbientC))
				}
			}
		}
	}
	for t := range s.Tapes {
		if s.Tapes[t].ID == section.Tape {
			add(cure.Tape(p, &s.Tapes[t], s.Policy.AmbientC))
		}
	}
	return faults
}

func contains(list []string, id string) bool {
	for _, x := range list {
		if x == id {
			return true
		}
	}
	return false
}

// CureMinutes returns the cure minutes of a load of so many kilograms, racks
// included, in an oven under a profile (rule R2).
func (in *Instance) CureMinutes(oven, profile int, kg float64) Tick {
	lag := kg * in.Ovens[oven].Lag
	return cure.Minutes(&in.Shop.Profiles[profile], in.Shop.Policy.AmbientC, lag)
}

// CureSpan returns the same as CureMinutes, not rounded.
func (in *Instance) CureSpan(oven, profile int, kg float64) float64 {
	lag := kg * in.Ovens[oven].Lag
	return cure.Span(&in.Shop.Profiles[profile], in.Shop.Policy.AmbientC, lag)
}

// Work returns the minutes, without set-up, that so many pieces of a section
// need at a stage; cut is the index of its prepreg's Cut there.
func (in *Instance) Work(stage shop.Stage, section, cut, pieces int) Tick {
	minutes := in.Sections[section].Minutes[stage]
	if stage == shop.Cut {
		minutes = in.Sections[section].Cuts[cut].Minutes
	}
	return Tick(math.Ceil(float64(pieces)*minutes - 1e-6))
}
