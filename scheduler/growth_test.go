package scheduler_test

import (
	"context"
	"fmt"
	"runtime"
	"testing"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/benchtest"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// BenchmarkPlan_Growth plans grown shops with the usual effort, and tells how long a
// first plan takes, how long one within a fiftieth of the last, and how much memory
// that needs. Sizes go up, for memory that was had once is not given back.
func BenchmarkPlan_Growth(b *testing.B) {
	for _, pieces := range []int{500, 2000, 8000, 20000} {
		b.Run(fmt.Sprint(pieces), func(b *testing.B) {
			s := shoptest.Accepted(shoptest.Grow(pieces, 1))
			for b.Loop() {
				benchmarkGrown(b, s)
			}
		})
	}
}

func benchmarkGrown(b *testing.B, s *shop.Shop) {
	first := benchtest.ProcessorTime()
	_ = construct.Build(instance.New(s), construct.Rules[0], nil).Plan()
	b.ReportMetric((benchtest.ProcessorTime() - first).Seconds(), "first-cpu-s")

	var fall descent
	fall.start()
	r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: -1, Progress: fall.note})
	if err != nil {
		b.Fatal(err)
	}
	end := fall.now(r.Plan.Cost.Total)
	near := fall.within(r.Plan.Cost.Total * 1.02)
	b.ReportMetric(fall.points[0].wall.Seconds(), "first-s")
	b.ReportMetric(near.wall.Seconds(), "near-s")
	b.ReportMetric(near.cpu.Seconds(), "near-cpu-s")
	b.ReportMetric(end.wall.Seconds(), "end-s")
	b.ReportMetric(end.cpu.Seconds(), "end-cpu-s")
	b.ReportMetric(float64(r.Iterations)/(end.cpu-fall.searched.cpu).Seconds(), "iterations/cpu-s")
	b.ReportMetric(r.Plan.Cost.Total, "cost")
	b.ReportMetric(100*r.Plan.Bound.Gap, "gap-%")
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/1e6, "MB")
}

// A descent takes down when a search had come to which cost.
type descent struct {
	begun    time.Time
	cpu      time.Duration
	points   []costAt
	searched costAt // when the search had just begun
}

// A costAt is a cost and when it was reached: on the clock, and in processor time.
type costAt struct {
	cost      float64
	wall, cpu time.Duration
}

func (d *descent) start() { d.begun, d.cpu = time.Now(), benchtest.ProcessorTime() }

func (d *descent) now(cost float64) costAt {
	return costAt{cost, time.Since(d.begun), benchtest.ProcessorTime() - d.cpu}
}

func (d *descent) note(p scheduler.Progress) {
	at := d.now(p.Cost)
	if p.Iteration == 0 {
		d.searched = at
	}
	if n := len(d.points); n == 0 || p.Cost < d.points[n-1].cost {
		d.points = append(d.points, at)
	}
}

// within returns the first point whose cost is no more than a limit, the last where
// only the tidying after the search has come so far.
func (d *descent) within(limit float64) costAt {
	for _, p := range d.points {
		if p.cost <= limit {
			return p
		}
	}
	return d.points[len(d.points)-1]
}
