package binding

import (
	"fmt"
	"slices"
	"strings"

	"blankwright/scheduler/alone"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// quickest returns the path of a section's piece alone in an empty shop.
func (r *reporter) quickest(section int) alone.Path { return quickestIn(r.in, section) }

func quickestIn(in *instance.Instance, section int) alone.Path {
	ready := instance.Never
	pool := &in.Mandrels[in.Sections[section].Mandrel]
	for i, n := range pool.Count {
		if n > 0 {
			ready = pool.From[i]
			break
		}
	}
	return alone.Quickest(in, section, ready)
}

// slowest returns which of some sections an empty shop has last, and its path.
func (r *reporter) slowest(sections []int) (section int, path alone.Path) {
	section = instance.None
	for _, s := range sections {
		if q := r.quickest(s); section == instance.None || q.Trimmed() > path.Trimmed() {
			section, path = s, q
		}
	}
	return section, path
}

// soonest returns when a line's last set could be trimmed in an empty shop; 0
// where it needs no new piece.
func (r *reporter) soonest(f *fate) instance.Tick {
	sections := r.newSections(&stake{product: f.line.Product, sets: r.in.Wanted(f.line.Product)})
	if len(sections) == 0 {
		return 0
	}
	_, path := r.slowest(sections)
	return path.Trimmed()
}

const emptyShop = "Even alone in an empty shop no piece is quicker."

// tooSoon tells that a line is due before any plan can ship it, where that is
// so, and by how many days.
func (r *reporter) tooSoon(f *fate, sections []int) (c Cause, days int) {
	section, path := r.slowest(sections)
	if section == instance.None || path.Trimmed() >= instance.Never {
		return Cause{}, 0
	}
	product := &r.in.Products[f.line.Product]
	ship := product.Ship[r.in.Day(path.Trimmed())]
	if days = int(ship - f.line.Claim); days <= 0 {
		return Cause{}, 0
	}
	what := fmt.Sprintf("one piece of section %s would be tacked by %s, in oven %s from %s to %s and trimmed by %s; with %s it ships on %s, %s after it is due.",
		r.in.Sections[section].ID, r.at(path.Ends[shop.Tack]), r.in.Ovens[path.Way.Oven].ID, r.at(path.In), r.at(path.Out), r.at(path.Trimmed()),
		counted(r.in.Shop.Products[product.Index].FinishDays, "finish day"), ship, counted(days, "day"))
	c = r.heldUp(section, &path, ship)
	c.What, c.How = c.What+what, emptyShop
	return c, days
}

// heldUp returns what makes even an empty shop slow: the first material, the
// first mandrel or the ovens' downtime and released loads, where a piece would
// ship sooner without; else it is time alone.
func (r *reporter) heldUp(section int, path *alone.Path, ship shop.Date) Cause {
	s := &r.in.Sections[section]
	sooner := func(in *instance.Instance) bool {
		q := quickestIn(in, section)
		return r.in.Products[s.Product].Ship[r.in.Day(min(q.Trimmed(), r.in.Horizon))] < ship
	}
	for _, cut := range s.Cuts {
		in := *r.in
		in.Prepregs = slices.Clone(in.Prepregs)
		if in.Prepregs[cut.Prepreg].Limited = false; sooner(&in) {
			return Cause{Kind: Material, ID: in.Prepregs[cut.Prepreg].ID, What: r.firstSupply(cut.Prepreg)}
		}
	}
	in := *r.in
	in.Mandrels = slices.Clone(in.Mandrels)
	if in.Mandrels[s.Mandrel] = (instance.Pool{From: []instance.Tick{0}, Count: []int{1}, Total: 1}); sooner(&in) {
		from := r.in.Mandrels[s.Mandrel].From
		first := from[min(1, len(from)-1)] // where none is ready at once, the second step is the first
		return Cause{Kind: Mandrel, ID: r.in.Mandrels[s.Mandrel].ID, What: "none is ready before " + r.at(first) + "; "}
	}
	in = *r.in
	in.Ovens = slices.Clone(in.Ovens)
	for o := range in.Ovens {
		in.Ovens[o].Blocked = nil
	}
	if sooner(&in) {
		return Cause{Kind: Oven, ID: r.in.Ovens[path.Way.Oven].ID, What: "downtime and released work hold the ovens; "}
	}
	return Cause{Kind: Time}
}

// chain prints the instants of a path, as far as it gets.
func (r *reporter) chain(p *alone.Path) string {
	var steps []string
	add := func(what string, t instance.Tick) {
		if t < instance.Never {
			steps = append(steps, what+" "+r.at(t))
		}
	}
	add("cut by", p.Ends[shop.Cut])
	add("tacked by", p.Ends[shop.Tack])
	add("rolled by", p.Ends[shop.Roll])
	add("wrapped by", p.Ends[shop.Wrap])
	if p.Out < instance.Never {
		add("in oven "+r.in.Ovens[p.Way.Oven].ID, p.In)
	}
	add("out", p.Out)
	add("pulled by", p.Ends[shop.Pull])
	add("stripped by", p.Ends[shop.Strip])
	add("trimmed by", p.Ends[shop.Trim])
	return strings.Join(steps, ", ")
}

// stuck tells where the quickest piece of a section gets stuck; ok is false
// where an empty shop can make it.
func (r *reporter) stuck(section int) (c Cause, ok bool) {
	path := r.quickest(section)
	if path.Trimmed() < instance.Never {
		return Cause{}, false
	}
	so := "no piece of section " + r.in.Sections[section].ID + " can be made: "
	if done := r.chain(&path); done != "" {
		so = "one piece of section " + r.in.Sections[section].ID + " would be " + done + "; "
	}
	end := "the horizon ends " + r.at(r.in.Horizon)
	if c, ok := r.noSupply(section); ok {
		return c, true
	}
	for _, stage := range shop.Stages() {
		if stage == shop.Pull && path.Out >= instance.Never {
			return r.stuckAtOven(section, so, end), true
		}
		if path.Ends[stage] >= instance.Never {
			return r.stuckAt(stage, so, end), true
		}
	}
	return Cause{}, false
}

func (r *reporter) stuckAt(stage shop.Stage, so, end string) Cause {
	open := 0
	for _, p := range r.in.Stations[stage].Positions {
		open += p.Worked(r.in.Horizon)
	}
	if open == 0 {
		return Cause{Kind: Station, ID: stage.String(), What: so + fmt.Sprintf("the station %s has no open minute before %s.", stage, end), How: emptyShop}
	}
	return Cause{Kind: Time, What: so + fmt.Sprintf("%s would come after that, and %s.", stage, end), How: emptyShop}
}

// stuckAtOven tells which hours the ovens that could cure a section have.
func (r *reporter) stuckAtOven(section int, so, end string) Cause {
	var parts []string
	first := ""
	for _, w := range r.in.Ways(section) {
		o := &r.in.Ovens[w.Oven]
		if first == "" {
			first = o.ID
		}
		longest := 0
		for _, s := range o.Calendar.Spans {
			longest = max(longest, s.To-s.From)
		}
		cure := r.in.CureMinutes(w.Oven, w.Profile, r.in.Hanger.Piece(section).Kg)
		parts = append(parts, fmt.Sprintf("oven %s takes %d + %d + %d min for load, cure %s and unload, its longest window has %d min",
			o.ID, o.Load, cure, o.Unload, r.in.Profiles[w.Profile].ID, longest))
	}
	return Cause{Kind: Oven, ID: first, What: so + "no oven can cure it before " + end + ". " + listed(parts) + ".", How: emptyShop}
}
