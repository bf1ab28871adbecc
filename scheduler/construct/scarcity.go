package construct

import (
	"math"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// shares returns, by section, what share of the shop a piece takes: its part of
// what each station and crew can do in the horizon, the scarce ones counting
// more, by the square of how much of them is needed in all.
func shares(in *instance.Instance, list []*want) []float64 {
	out := make([]float64, len(in.Sections))
	pieces := make([]int, len(in.Sections))
	for _, w := range list {
		for _, run := range w.runs {
			pieces[run.Section] += run.Pieces
		}
	}
	weigh := func(capacity float64, use func(section int) float64) {
		need := 0.0
		for s, n := range pieces {
			need += float64(n) * use(s)
		}
		for s := range out {
			out[s] += use(s) * need * need / (capacity*capacity*capacity + 1e-9)
		}
	}
	weighStations(in, weigh)
	weighCrews(in, weigh)
	return out
}

type weigher func(capacity float64, use func(section int) float64)

func weighStations(in *instance.Instance, weigh weigher) {
	for _, stage := range shop.Stages() {
		capacity := 0.0
		for _, p := range in.Stations[stage].Positions {
			capacity += float64(p.Worked(in.Horizon))
		}
		weigh(capacity, func(s int) float64 { return minutesAt(in, stage, s) })
	}
}

func weighCrews(in *instance.Instance, weigh weigher) {
	for c := range in.Crews {
		capacity := 0.0
		for _, shift := range in.Crews[c].Shifts {
			capacity += float64(shift.People) * float64(shift.Calendar.Worked(in.Horizon))
		}
		weigh(capacity, func(s int) (sum float64) {
			for _, stage := range shop.Stages() {
				if in.Stations[stage].Crew == c {
					sum += minutesAt(in, stage, s) * float64(in.Stations[stage].People)
				}
			}
			return sum
		})
	}
}

// minutesAt returns the minutes that a piece takes at a stage.
func minutesAt(in *instance.Instance, stage shop.Stage, section int) float64 {
	sum := in.Sections[section].Minutes[stage]
	if stage == shop.Cut {
		for _, c := range in.Sections[section].Cuts {
			sum += c.Minutes
		}
	}
	return sum
}

// strain returns, by mandrel type, how many of the days left its mandrels must
// go round on for all that is wanted of them: at 1, every day.
func (b *builder) strain(day int) []float64 {
	left := make([]float64, len(b.in.Mandrels))
	for _, w := range b.wants {
		for _, run := range w.runs {
			m := b.in.Sections[run.Section].Mandrel
			left[m] += float64(run.Pieces) / float64(max(1, b.in.Mandrels[m].Total))
		}
	}
	days := float64(b.days[min(day, len(b.days)-1)])
	for m := range left {
		left[m] /= math.Max(1, days)
	}
	return left
}

// daysLeft counts, by day, the days from it on on which mandrels can go round:
// those on which the tack station works.
func daysLeft(in *instance.Instance) []int {
	calendar := in.Stations[shop.Tack].Calendar
	last := in.Day(in.Horizon)
	left := make([]int, last+1)
	for day := last - 1; day >= 0; day-- {
		left[day] = left[day+1]
		if calendar.Worked(in.Midnight(day+1)) > calendar.Worked(in.Midnight(day)) {
			left[day]++
		}
	}
	return left
}
