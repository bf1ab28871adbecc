package binding

import (
	"fmt"
	"slices"
	"strings"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A limit is one resource that could bind.
type limit struct {
	kind  line.Kind
	index int
}

// kinds are the kinds of causes by the kind of the limit.
var kinds = map[line.Kind]string{
	line.Now: Time, line.Horizon: Time, line.OvenBusy: Oven, line.StationBusy: Station, line.CrewBusy: Crew,
	line.MandrelsOut: Mandrel, line.RacksOut: Rack, line.NoMaterial: Material, line.OpenTime: Lag, line.GreenTime: Lag,
}

// id names a limit's resource.
func (r *reporter) id(l limit) string {
	switch l.kind {
	case line.OvenBusy:
		return r.in.Ovens[l.index].ID
	case line.StationBusy:
		return shop.Stage(l.index).String()
	case line.CrewBusy:
		return r.in.Crews[l.index].ID
	case line.MandrelsOut:
		return r.in.Mandrels[l.index].ID
	case line.RacksOut:
		return r.in.Racks[l.index].ID
	case line.NoMaterial, line.OpenTime:
		return r.in.Prepregs[l.index].ID
	}
	return ""
}

// name names a limit in a sentence, as oven OV1.
func (r *reporter) name(l limit) string { return strings.TrimSpace(kinds[l.kind] + " " + r.id(l)) }

// span returns the time that a stake is about: from when its pieces were tried
// to go in until the plan lets them.
func (r *reporter) span(w *weighing) (from, to instance.Tick) {
	from, to = r.in.Horizon, 0
	for _, lot := range w.lots {
		from = min(from, lot.target)
		if lot.from != nil {
			to = max(to, lot.from.In)
		} else {
			to = r.in.Horizon
		}
	}
	if from >= to {
		from = 0
	}
	return from, to
}

// limitText says how a limit binds some loads, placed or not.
func (r *reporter) limitText(w *weighing, l limit, loads []*line.Load) string {
	from, to := r.span(w)
	runs := runsIn(loads)
	what := r.piecesText(runs)
	switch l.kind {
	case line.OvenBusy:
		return r.ovenText(l.index, loads) + "it is " + r.ovenTaken(l.index, from, to)
	case line.StationBusy:
		stage := shop.Stage(l.index)
		return fmt.Sprintf("%d min of work there for %s (%s), and it is %s", r.work(stage, runs), what,
			counted(len(r.in.Stations[stage].Positions), "position"), r.stationTaken(stage, from, to))
	case line.CrewBusy:
		return fmt.Sprintf("people are lacking for %s; the crew's time is %s", what, r.crewTaken(l.index, from, to))
	case line.MandrelsOut:
		return fmt.Sprintf("%d at once are needed for %s, of the %d that are ready%s", r.onMandrel(l.index, loads), what, r.in.Mandrels[l.index].Total, r.until(w, l, "and so many are not free before"))
	case line.RacksOut:
		racks, pegs := r.racksOf(l.index, loads)
		return fmt.Sprintf("%d with %s are needed for %s, of the %d that there are%s", racks, counted(pegs, "peg"), what, r.in.Racks[l.index].Total, r.until(w, l, "and so many are not free before"))
	case line.NoMaterial:
		return fmt.Sprintf("%s m² are needed for %s%s", figure(area(r.in, l.index, runs)), what, r.until(w, l, "and what is left does not cover it; more comes on"))
	case line.OpenTime:
		return fmt.Sprintf("cut flags may lie for %s before the cure starts, too short for %s to get from cut to the oven any sooner", hours(r.in.Prepregs[l.index].MaxOpen), what)
	}
	return fmt.Sprintf("wrapped pieces may lie for %s before the cure starts, too short for %s to get to the oven any sooner", hours(r.in.MaxGreen), what)
}

// ovenText says for how long one of some loads takes an oven at most.
func (r *reporter) ovenText(oven int, loads []*line.Load) string {
	most := 0
	o := &r.in.Ovens[oven]
	for _, l := range loads {
		if l.Oven == oven {
			most = max(most, o.Load+l.Cure+o.Unload)
		}
	}
	switch {
	case most == 0:
		return ""
	case o.Unattended:
		return "the load takes it for " + hours(most) + ", and "
	}
	return "the load takes it for " + hours(most) + " within one window, and "
}

// runsIn returns all that some loads carry, by section.
func runsIn(loads []*line.Load) (runs []rack.Run) {
	for _, l := range loads {
		for _, run := range l.Runs {
			at := slices.IndexFunc(runs, func(r rack.Run) bool { return r.Section == run.Section })
			if at < 0 {
				runs = append(runs, run)
			} else {
				runs[at].Pieces += run.Pieces
			}
		}
	}
	return runs
}

// piecesText prints how many pieces of which products there are in runs.
func (r *reporter) piecesText(runs []rack.Run) string {
	var products, pieces []int
	for _, run := range runs {
		p := r.in.Sections[run.Section].Product
		at := slices.Index(products, p)
		if at < 0 {
			at = len(products)
			products, pieces = append(products, p), append(pieces, 0)
		}
		pieces[at] += run.Pieces
	}
	const most = 2
	others := 0
	var parts []string
	for i, p := range products {
		if i >= most {
			others += pieces[i]
			continue
		}
		parts = append(parts, fmt.Sprintf("%s of %s", counted(pieces[i], "piece"), r.in.Products[p].ID))
	}
	if others > 0 {
		parts = append(parts, fmt.Sprintf("%d others", others))
	}
	return strings.Join(parts, ", ")
}

// onMandrel returns how many mandrels of a type one of some loads takes at most.
func (r *reporter) onMandrel(mandrel int, loads []*line.Load) (most int) {
	for _, l := range loads {
		n := 0
		for _, run := range l.Runs {
			if r.in.Sections[run.Section].Mandrel == mandrel {
				n += run.Pieces
			}
		}
		most = max(most, n)
	}
	return most
}

// racksOf returns how many racks of a type one of some loads takes at most, and
// how many of their pegs it fills.
func (r *reporter) racksOf(kind int, loads []*line.Load) (most, pegs int) {
	for _, l := range loads {
		racks, filled := 0, 0
		for i := range l.Racks {
			if l.Racks[i].Kind.Rack == kind {
				racks++
				filled += r.filled(&l.Racks[i])
			}
		}
		if racks > most {
			most, pegs = racks, filled
		}
	}
	return most, pegs
}

// filled counts the pegs that a rack's pieces take.
func (r *reporter) filled(k *rack.Rack) (pegs int) {
	for level, runs := range k.Levels {
		for _, run := range runs {
			pegs += run.Pieces * r.in.Hanger.Pegs(run.Section, k.Kind, level)
		}
	}
	return pegs
}

// until adds when a limit's last obstacle ended, where one was met.
func (r *reporter) until(w *weighing, l limit, text string) string {
	for i := len(w.met) - 1; i >= 0; i-- {
		if o := &w.met[i]; o.Kind == l.kind && o.Index == l.index && o.At > 0 && o.At <= r.in.Horizon {
			return ", " + text + " " + r.at(o.At)
		}
	}
	return ""
}

func (r *reporter) work(stage shop.Stage, runs []rack.Run) (minutes int) {
	for _, run := range runs {
		cuts := 1
		if stage == shop.Cut {
			cuts = len(r.in.Sections[run.Section].Cuts)
		}
		for cut := range cuts {
			minutes += r.in.Work(stage, run.Section, cut, run.Pieces)
		}
	}
	return minutes
}
