// Package alone follows one piece through a shop that has nothing else to do:
// what calendars, downtime, released ovens and the first material leave it. No
// plan has a piece sooner, which is why bounds and reasons rest on it.
//
// It looks at the instance only, never at an answer. It imports instance, rack
// and shop.
package alone

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A Path is the quickest way of one piece through the shop. Every instant after
// the one at which it gets stuck is instance.Never.
type Path struct {
	Ends               [shop.StageCount]instance.Tick // by stage
	Way                instance.Way                   // undefined where Out is Never
	In, CureStart, Out instance.Tick
	Rested             instance.Tick // when it can be pulled, by whatever way
	Back               instance.Tick // when its mandrel is free again, by whatever way
}

// Trimmed returns when the piece is done.
func (p *Path) Trimmed() instance.Tick { return p.Ends[shop.Trim] }

// A Walk follows pieces of one section through a shop.
type Walk struct {
	Cures   []Cure // ways that can carry a piece, ovens in the shop's order
	in      *instance.Instance
	section int
	cut     instance.Tick // when its first flags are cut
}

// A Cure is a way and the least cure minutes of its loads that hold a piece of a
// section.
type Cure struct {
	instance.Way
	Minutes instance.Tick
}

// Of returns the walk of a section's pieces.
func Of(in *instance.Instance, section int) *Walk {
	w := &Walk{in: in, section: section, cut: firstCut(in, section)}
	for _, way := range in.Ways(section) {
		// Pack takes the lightest set of racks.
		if racks, ok := in.Ovens[way.Oven].Room.Pack([]rack.Run{{Section: section, Pieces: 1}}); ok {
			kg := in.Hanger.Piece(section).Kg + rack.Tare(racks)
			w.Cures = append(w.Cures, Cure{way, in.CureMinutes(way.Oven, way.Profile, kg)})
		}
	}
	return w
}

// Quickest returns the quickest path of a piece that is tacked at ready or later
// and cut at now or later.
func (w *Walk) Quickest(ready instance.Tick) Path {
	p := stuck()
	p.Ends[shop.Cut] = w.cut
	at := max(ready, w.cut)
	for _, stage := range []shop.Stage{shop.Tack, shop.Roll, shop.Wrap} {
		at = through(w.in, stage, w.section, 0, at)
		p.Ends[stage] = at
	}
	w.cured(&p)
	return p
}

// Wrapped returns the quickest path of a piece that is wrapped at an instant.
func (w *Walk) Wrapped(at instance.Tick) Path {
	p := stuck()
	p.Ends[shop.Wrap] = at
	w.cured(&p)
	return p
}

// cured follows the wrapped piece to its end by whatever way is the quickest.
func (w *Walk) cured(p *Path) {
	for _, c := range w.Cures {
		w.cure(p, c)
	}
}

// Quickest returns the quickest path of a piece of a section; see Walk.
func Quickest(in *instance.Instance, section int, ready instance.Tick) Path {
	return Of(in, section).Quickest(ready)
}

// stuck returns the path that gets nowhere.
func stuck() (p Path) {
	for stage := range p.Ends {
		p.Ends[stage] = instance.Never
	}
	p.In, p.CureStart, p.Out = instance.Never, instance.Never, instance.Never
	p.Rested, p.Back = instance.Never, instance.Never
	return p
}

// cure follows the wrapped piece through an oven to its end, and keeps what of
// it is quicker than what is known.
func (w *Walk) cure(p *Path, c Cure) {
	q := *p
	q.Way = c.Way
	q.In, q.Out = Cured(w.in, c.Oven, c.Minutes, p.Ends[shop.Wrap])
	if q.Out >= instance.Never {
		return
	}
	q.CureStart = q.In + w.in.Ovens[c.Oven].Load
	p.Rested = min(p.Rested, q.Out+w.in.Profiles[c.Profile].Rest)
	q.finish(w.in, c.Profile, w.section)
	turn := w.in.Shop.MandrelTypes[w.in.Sections[w.section].Mandrel].TurnaroundMinutes
	p.Back = min(p.Back, w.in.Cleaning.Ahead(q.Ends[shop.Pull], turn))
	if q.Trimmed() < p.Trimmed() || p.Out >= instance.Never {
		q.Rested, q.Back = p.Rested, p.Back
		*p = q
	}
}

// finish follows a piece from its oven to its end.
func (p *Path) finish(in *instance.Instance, profile, section int) {
	at := p.Out + in.Profiles[profile].Rest
	for _, stage := range []shop.Stage{shop.Pull, shop.Strip, shop.Trim} {
		at = through(in, stage, section, 0, at)
		p.Ends[stage] = at
	}
}

// Finished returns when a piece of a section is done at the earliest that comes
// out of an oven at an instant, cured under a profile.
func Finished(in *instance.Instance, section, profile int, out instance.Tick) instance.Tick {
	p := Path{Out: out}
	p.finish(in, profile, section)
	return p.Trimmed()
}

// firstCut returns when the flags of a piece can be cut at the earliest.
func firstCut(in *instance.Instance, section int) (done instance.Tick) {
	for i, cut := range in.Sections[section].Cuts {
		from := instance.Tick(0)
		if p := &in.Prepregs[cut.Prepreg]; p.Limited {
			from = instance.Never
			for _, row := range p.Rows {
				if row.Area > 0 {
					from = min(from, max(0, row.From))
				}
			}
		}
		done = max(done, through(in, shop.Cut, section, i, from))
	}
	return done
}

// through returns when a piece that is ready leaves a stage at the earliest.
func through(in *instance.Instance, stage shop.Stage, section, cut int, ready instance.Tick) instance.Tick {
	return Through(in, stage, in.Work(stage, section, cut, 1), ready)
}

// Through returns when a task of some minutes, at least 1, that could start at
// ready ends at the earliest.
func Through(in *instance.Instance, stage shop.Stage, work, ready instance.Tick) instance.Tick {
	if ready >= instance.Never {
		return instance.Never
	}
	best := instance.Never
	work = max(1, work)
	for _, p := range in.Stations[stage].Positions {
		if start := p.Next(ready); start < instance.Never {
			best = min(best, p.Ahead(start, work))
		}
	}
	if best > in.Horizon {
		return instance.Never
	}
	return best
}

// Cured returns when a load of some cure minutes goes into an oven, at ready or
// later, and is out at the earliest.
func Cured(in *instance.Instance, number int, cure, ready instance.Tick) (start, out instance.Tick) {
	if ready >= instance.Never {
		return instance.Never, instance.Never
	}
	oven := &in.Ovens[number]
	for at := ready; ; {
		start = window(oven.Calendar, at, oven.Load)
		out = window(oven.Calendar, start+oven.Load+cure, oven.Unload) + oven.Unload
		if start >= instance.Never || out > in.Horizon {
			return instance.Never, instance.Never
		}
		if next, free := clear(oven, start, out); !free {
			at = next
			continue
		}
		if oven.Unattended || oven.Calendar.Holds(start, out) {
			return start, out
		}
		at = oven.Calendar.Spans[oven.Calendar.At(start)].To
	}
}

// window returns the earliest start from t on of so many minutes that one span
// holds.
func window(c *instance.Calendar, t, minutes instance.Tick) instance.Tick {
	if t >= instance.Never {
		return instance.Never
	}
	for i := c.At(t); i < len(c.Spans); i++ {
		if start := max(t, c.Spans[i].From); start+minutes <= c.Spans[i].To {
			return start
		}
	}
	return instance.Never
}

// clear reports whether an oven is free of downtime and released loads between
// two instants, and else from when on to try again.
func clear(oven *instance.Oven, from, to instance.Tick) (instance.Tick, bool) {
	for _, b := range oven.Blocked {
		if b.From < to && from < b.To {
			return max(b.To, from+1), false
		}
	}
	return 0, true
}
