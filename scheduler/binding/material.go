package binding

import (
	"fmt"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// area returns what runs draw of a prepreg.
func area(in *instance.Instance, prepreg int, runs []rack.Run) (sum float64) {
	for _, run := range runs {
		for _, cut := range in.Sections[run.Section].Cuts {
			if cut.Prepreg == prepreg {
				sum += float64(run.Pieces) * cut.Area
			}
		}
	}
	return sum
}

// supply returns how much of a prepreg comes before the horizon ends, and keeps
// until it could be in an oven.
func (r *reporter) supply(prepreg int, soonest instance.Tick) (sum float64) {
	for _, row := range r.in.Prepregs[prepreg].Rows {
		if row.From < r.in.Horizon && row.Expires >= max(soonest, row.From) {
			sum += row.Area
		}
	}
	return sum
}

// drawn returns how much of a prepreg the plan's cut tasks draw, and those of
// released work that still begin.
func (r *reporter) drawn(prepreg int) (sum float64) {
	for _, l := range r.a.Loads {
		sum += area(r.in, prepreg, l.Runs)
	}
	for _, t := range r.in.Released.Tasks {
		if t.Stage == shop.Cut && t.Prepreg == prepreg && t.Start >= 0 {
			sum += area(r.in, prepreg, []rack.Run{{Section: t.Section, Pieces: t.Pieces}})
		}
	}
	return sum
}

// noSupply tells for which prepreg of a section there is none at all.
func (r *reporter) noSupply(section int) (Cause, bool) {
	one := []rack.Run{{Section: section, Pieces: 1}}
	for _, cut := range r.in.Sections[section].Cuts {
		if p := &r.in.Prepregs[cut.Prepreg]; p.Limited && cut.Area > 0 && r.supply(cut.Prepreg, 0) == 0 {
			what := fmt.Sprintf("one piece of section %s needs %s m² of %s, and there is none before the horizon ends.",
				r.in.Sections[section].ID, figure(area(r.in, cut.Prepreg, one)), p.ID)
			return Cause{Kind: Material, ID: p.ID, What: what, How: "The supply rows say so."}, true
		}
	}
	return Cause{}, false
}

// lacking tells which prepreg cannot cover runs beside what the plan draws of
// it; ok is false where all can.
func (r *reporter) lacking(runs []rack.Run) (c Cause, ok bool) {
	soonest := instance.Never
	for _, run := range runs {
		q := r.quickest(run.Section)
		soonest = min(soonest, q.CureStart)
	}
	for i := range r.in.Prepregs {
		p := &r.in.Prepregs[i]
		need := area(r.in, i, runs)
		if !p.Limited || need == 0 {
			continue
		}
		there, drawn := r.supply(i, soonest), r.drawn(i)
		if short := need - (there - drawn); short > 1e-6 {
			what := fmt.Sprintf("%s needs %s m² of %s; of the %s m² that there are until the horizon ends the plan draws %s, so that %s m² are lacking. %s.",
				runsText(r.in, runs), figure(need), p.ID, figure(there), figure(drawn), figure(short), r.nextSupply(i))
			return Cause{Kind: Material, ID: p.ID, What: what, How: "The supply rows, less what the plan's cut tasks draw; any other cure of it would take it from another line."}, true
		}
	}
	return Cause{}, false
}

// nextSupply tells when more of a prepreg comes.
func (r *reporter) nextSupply(prepreg int) string {
	for _, row := range r.in.Prepregs[prepreg].Rows {
		if row.From >= r.in.Horizon && row.Area > 0 {
			return fmt.Sprintf("%s m² more come on %s, after the horizon", figure(row.Area), r.at(row.From))
		}
	}
	return "No more is known to come"
}

// firstSupply tells when the first of a prepreg comes.
func (r *reporter) firstSupply(prepreg int) string {
	var first *instance.Supply
	for i := range r.in.Prepregs[prepreg].Rows {
		if row := &r.in.Prepregs[prepreg].Rows[i]; row.Area > 0 && (first == nil || row.From < first.From) {
			first = row
		}
	}
	if first == nil {
		return ""
	}
	return fmt.Sprintf("the first %s m² come on %s; ", figure(first.Area), r.at(first.From))
}

// runsText prints runs, as 4 × BUTT, 4 × TIP.
func runsText(in *instance.Instance, runs []rack.Run) (text string) {
	for i, run := range runs {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%d × %s", run.Pieces, in.Sections[run.Section].ID)
	}
	return text
}
