package ternpoint

import (
	"math"

	"blankwright/scheduler/cure"
	"blankwright/scheduler/shop"
)

// A bench lays the tasks of the work under way on the first position of each
// station, one after the other, in the floor's hours.
type bench struct {
	s       *shop.Shop
	yard    yard
	hours   []shop.Span // the floor's
	section map[string]*shop.Section
	free    map[shop.Stage]int64
	key     map[shop.Stage]string
	tasks   []shop.Task
}

// daysBack is as far as work under way can have begun: beyond any week's end.
const daysBack = 7

func newBench(s *shop.Shop) *bench {
	y := newYard(s.Today())
	floor := s.Calendars["floor"]
	b := &bench{
		s: s, yard: y, hours: floor.Spans(y.today-daysBack, y.today+daysBack, y.zone),
		section: map[string]*shop.Section{}, free: map[shop.Stage]int64{}, key: map[shop.Stage]string{},
	}
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			b.section[s.Products[i].Sections[k].ID] = &s.Products[i].Sections[k]
		}
	}
	for _, stage := range shop.Stages() {
		if last := s.Stations.At(stage).LastSetup; len(last) > 0 {
			b.key[stage] = *last[0]
		}
	}
	return b
}

// fill sets the instants of a charge's load.
func (b *bench) fill(c *charge) {
	oven := ovenOf(b.s, c.load.Oven)
	in := b.yard.in(0, c.in).Minute
	start := in + int64(oven.LoadMinutes)
	end := start + b.cureMinutes(&c.load, oven)
	c.load.In, c.load.CureStart = b.instant(in), b.instant(start)
	c.load.CureEnd, c.load.Out = b.instant(end), b.instant(end+int64(oven.UnloadMinutes))
}

// cureMinutes returns the minutes that a load takes at its weight.
func (b *bench) cureMinutes(load *shop.Load, oven *shop.Oven) int64 {
	kg := 0.0
	for _, use := range load.Racks {
		kg += b.tare(use.Rack)
	}
	for _, run := range runs(load) {
		kg += float64(run.Pieces) * b.pieceKg(run.Section)
	}
	profile := b.profile(load.Profile)
	return int64(cure.Minutes(profile, b.s.Policy.AmbientC, oven.LagMinutesPerKg*kg))
}

func (b *bench) tare(rack string) float64 {
	for _, r := range b.s.Racks {
		if r.ID == rack {
			return r.TareKg
		}
	}
	panic("ternpoint: no rack " + rack)
}

func (b *bench) pieceKg(section string) float64 {
	s := b.section[section]
	for _, t := range b.s.MandrelTypes {
		if t.ID == s.Mandrel {
			return s.Kg + t.Kg
		}
	}
	panic("ternpoint: no mandrel type " + s.Mandrel)
}

func (b *bench) profile(id string) *shop.Profile {
	for i := range b.s.Profiles {
		if b.s.Profiles[i].ID == id {
			return &b.s.Profiles[i]
		}
	}
	panic("ternpoint: no profile " + id)
}

func ovenOf(s *shop.Shop, id string) *shop.Oven {
	for i := range s.Ovens {
		if s.Ovens[i].ID == id {
			return &s.Ovens[i]
		}
	}
	panic("ternpoint: no oven " + id)
}

// before lays a charge's tasks up to wrap, from the start of the latest stretch
// of the floor's hours from which they are all done when the load goes in.
func (b *bench) before(c *charge) {
	for i := len(b.hours) - 1; i >= 0; i-- {
		if b.hours[i].From >= c.load.In.Minute {
			continue
		}
		trial := b.copy()
		if trial.lay(c, shop.Cut, shop.Wrap, b.hours[i].From) <= c.load.In.Minute {
			*b = *trial
			return
		}
	}
	panic("ternpoint: no time to hang load " + c.load.ID)
}

// after lays a charge's tasks from pull, which may start when it has rested.
func (b *bench) after(c *charge) {
	rest := b.profile(c.load.Profile).RestMinutes
	b.lay(c, shop.Pull, shop.Trim, c.load.Out.Minute+int64(rest))
}

// copy returns a bench on which to try something.
func (b *bench) copy() *bench {
	out := *b
	out.free, out.key = map[shop.Stage]int64{}, map[shop.Stage]string{}
	for stage, at := range b.free {
		out.free[stage] = at
	}
	for stage, key := range b.key {
		out.key[stage] = key
	}
	out.tasks = b.tasks[:len(b.tasks):len(b.tasks)]
	return &out
}

// lay adds a charge's tasks from one stage to another, none before from, and
// returns when the last of them ends.
func (b *bench) lay(c *charge, first, last shop.Stage, from int64) int64 {
	end := from
	for _, run := range runs(&c.load) {
		ready := map[int]int64{}
		for stage := first; stage <= last; stage++ {
			ready = b.stage(c, run, stage, from, ready)
		}
		for _, at := range ready {
			end = max(end, at)
		}
	}
	return end
}

// runs returns a load's runs in the order in which they hang, each on however
// many levels.
func runs(load *shop.Load) []shop.Hang {
	var out []shop.Hang
	at := map[string]int{}
	for _, rack := range load.Racks {
		for _, level := range rack.Levels {
			for _, hang := range level {
				i, known := at[hang.Section]
				if !known {
					i = len(out)
					at[hang.Section] = i
					out = append(out, shop.Hang{Section: hang.Section})
				}
				out[i].Pieces += hang.Pieces
			}
		}
	}
	return out
}

// stage adds a run's tasks at one stage. ready says when each batch is done at
// the stage before; the result, when it is done at this.
func (b *bench) stage(c *charge, run shop.Hang, stage shop.Stage, from int64, ready map[int]int64) map[int]int64 {
	pieces := run.Pieces
	if stage >= shop.Strip && run.Section == c.scrapped {
		pieces--
	}
	done := map[int]int64{}
	for _, prepreg := range b.prepregs(run.Section, stage) {
		left := pieces
		for batch := 0; left > 0; batch++ {
			t := shop.Task{
				Load: c.load.ID, Section: run.Section, Stage: stage, Prepreg: prepreg, Position: 1,
				Pieces: min(left, b.s.Policy.TransferPieces),
			}
			b.work(&t, max(from, ready[batch]))
			b.tasks = append(b.tasks, t)
			done[batch] = max(done[batch], t.End.Minute)
			left -= t.Pieces
		}
	}
	return done
}

// prepregs returns what is cut for a section, each prepreg once; at the other
// stages, the one nameless thing that is worked on.
func (b *bench) prepregs(section string, stage shop.Stage) []string {
	if stage != shop.Cut {
		return []string{""}
	}
	var out []string
	seen := map[string]bool{}
	for _, f := range b.section[section].Flags {
		if !seen[f.Prepreg] {
			seen[f.Prepreg] = true
			out = append(out, f.Prepreg)
		}
	}
	return out
}

// work sets a task's instants and whether it needs a set-up: from the first
// minute of the floor's hours at which it may start and its position is free.
func (b *bench) work(t *shop.Task, from int64) {
	key := b.keyOf(t)
	t.Setup = key != "" && key != b.key[t.Stage]
	if key != "" {
		b.key[t.Stage] = key
	}
	left := b.minutes(t)
	from = max(from, b.free[t.Stage])
	started := false
	for _, span := range b.hours {
		at := max(span.From, from)
		if at >= span.To {
			continue
		}
		if !started {
			t.Start, started = b.instant(at), true
		}
		worked := min(left, span.To-at)
		if left -= worked; left == 0 {
			t.End = b.instant(at + worked)
			b.free[t.Stage] = at + worked
			return
		}
	}
	panic("ternpoint: no time for a task of load " + t.Load)
}

func (b *bench) minutes(t *shop.Task) int64 {
	section := b.section[t.Section]
	per := section.Minutes.At(t.Stage)
	if t.Stage == shop.Cut {
		for _, f := range section.Flags {
			if f.Prepreg == t.Prepreg {
				per += f.CutMinutes
			}
		}
	}
	total := per * float64(t.Pieces)
	if t.Setup {
		total += float64(b.s.Stations.At(t.Stage).SetupMinutes)
	}
	return max(1, int64(math.Ceil(total-1e-6)))
}

func (b *bench) keyOf(t *shop.Task) string {
	switch t.Stage {
	case shop.Cut:
		return t.Prepreg
	case shop.Tack:
		return b.section[t.Section].Mandrel
	case shop.Wrap:
		return b.section[t.Section].Tape
	}
	return ""
}

func (b *bench) instant(minute int64) shop.Instant { return shop.InstantIn(minute, b.yard.zone) }
