package search

import (
	"math"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// pressure is what a working minute is worth at each stage, beyond its cost: in
// a shop whose people or positions are nearly always busy, every minute that
// one task takes makes others late. A search adds it to the cost when it judges
// a change, so that it gathers runs and saves set-ups even before the time that
// this leaves is used. The best answer is judged by its cost alone.
type pressure [shop.StageCount]float64

// newPressure prices a minute of each stage by the late cost as it stands and by
// how busy the stage and its crew are.
func newPressure(a *answer.Answer) (p pressure) {
	minutes := a.Table.Minutes()
	total := 0
	for _, m := range minutes {
		total += m
	}
	price := float64(a.Cost().Late) / float64(total+1)
	for st := range p {
		busy := math.Max(stationLoad(a, st, minutes), crewLoad(a, st, minutes))
		p[st] = keen * price * math.Pow(math.Min(1, busy), steep)
	}
	return p
}

// keen and steep shape the pressure: how strong it is in a shop that is busy all
// the time, and how soon it is gone in one that is not.
const (
	keen  = 2.0
	steep = 6
)

// of returns the pressure of all the minutes that an answer takes.
func (p *pressure) of(a *answer.Answer) answer.Money {
	minutes := a.Table.Minutes()
	sum := 0.0
	for st, m := range minutes {
		sum += p[st] * float64(m)
	}
	return answer.Money(sum)
}

// stationLoad returns the share of a station's open minutes that is worked.
func stationLoad(a *answer.Answer, st int, minutes [shop.StageCount]int) float64 {
	open := 0
	for _, c := range a.In.Stations[st].Positions {
		open += c.Worked(a.In.Horizon)
	}
	return float64(minutes[st]) / float64(open+1)
}

// crewLoad returns the share of a station's crew's minutes that is worked.
func crewLoad(a *answer.Answer, st int, minutes [shop.StageCount]int) float64 {
	crew := a.In.Stations[st].Crew
	if crew == instance.None {
		return 0
	}
	there, worked := 0, 0
	for _, shift := range a.In.Crews[crew].Shifts {
		there += shift.People * shift.Calendar.Worked(a.In.Horizon)
	}
	for s := range a.In.Stations {
		if a.In.Stations[s].Crew == crew {
			worked += minutes[s] * a.In.Stations[s].People
		}
	}
	return float64(worked) / float64(there+1)
}
