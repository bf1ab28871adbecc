package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"blankwright/scheduler/shop"
)

// A Station is one stage's day, position by position.
type Station struct {
	Stage     shop.Stage `json:"stage"`
	Positions []Position `json:"positions"`
}

// Working reports whether any position has a task.
func (s *Station) Working() bool {
	return slices.ContainsFunc(s.Positions, func(p Position) bool { return len(p.Tasks) > 0 })
}

// A Position is the queue of one workplace. OpenMinutes are the day's working
// minutes, downtime left out; WorkedMinutes those that its tasks take.
type Position struct {
	Number        int       `json:"number"` // from 1
	OpenMinutes   int64     `json:"open_minutes"`
	WorkedMinutes int64     `json:"worked_minutes"`
	Closures      []Closure `json:"closures"`
	Tasks         []Task    `json:"tasks"` // by start
}

// A Task is one entry of a queue. SetUp names the prepreg, mandrel type or
// tape to set up before it, and is empty where nothing is.
type Task struct {
	Load      string       `json:"load"`
	Section   string       `json:"section"`
	Product   string       `json:"product"` // its name
	Pieces    int          `json:"pieces"`
	Prepreg   string       `json:"prepreg,omitempty"` // at cut
	Mandrel   string       `json:"mandrel"`           // type
	Tape      string       `json:"tape"`
	SetUp     string       `json:"set_up,omitempty"`
	Start     shop.Instant `json:"start"`
	End       shop.Instant `json:"end"`
	CarriedIn bool         `json:"carried_in"` // began on a day before
	CarriedOn bool         `json:"carried_on"` // ends on a day after
}

// stations returns all seven, each with all its positions.
func (b *builder) stations() []Station {
	out := make([]Station, shop.StageCount)
	for i, stage := range shop.Stages() {
		out[i].Stage = stage
		for n := 1; n <= len(b.queues[stage]); n++ {
			out[i].Positions = append(out[i].Positions, b.position(stage, n))
		}
	}
	return out
}

func (b *builder) position(stage shop.Stage, number int) Position {
	resources := []string{stage.String(), fmt.Sprintf("%s/%d", stage, number)}
	p := Position{Number: number, Closures: b.closures(resources...), Tasks: []Task{}}
	open := b.open(stage, p.Closures)
	p.OpenMinutes = length(open)
	var worked []shop.Span
	for _, t := range b.queues[stage][number-1] {
		spans := meet(open, shop.Span{From: t.Start.Minute, To: t.End.Minute})
		if b.concerns(t, spans) {
			p.Tasks = append(p.Tasks, b.task(t))
			worked = append(worked, spans...)
		}
	}
	p.WorkedMinutes = length(shop.Union(worked))
	slices.SortStableFunc(p.Tasks, func(x, y Task) int {
		return cmp.Or(cmp.Compare(x.Start.Minute, y.Start.Minute), cmp.Compare(x.End.Minute, y.End.Minute))
	})
	return p
}

// open returns the day's working minutes of a position.
func (b *builder) open(stage shop.Stage, closures []Closure) []shop.Span {
	calendar := b.shop.Calendars[b.shop.Stations.At(stage).Calendar]
	var holes []shop.Span
	for _, c := range closures {
		holes = append(holes, shop.Span{From: c.From.Minute, To: c.To.Minute})
	}
	return shop.Minus(calendar.Spans(b.date, b.date+1, b.zone), holes)
}

// concerns reports whether a task belongs on the day's sheet: it is worked,
// begins or ends on it. A pause from one day to the next is no work.
func (b *builder) concerns(t *shop.Task, worked []shop.Span) bool {
	return len(worked) > 0 || b.holds(t.Start.Minute) || b.holds(t.End.Minute-1)
}

func (b *builder) task(t *shop.Task) Task {
	section := b.section(t.Section)
	return Task{
		Load: t.Load, Section: t.Section, Product: b.productName(t.Section), Pieces: t.Pieces,
		Prepreg: t.Prepreg, Mandrel: section.Mandrel, Tape: section.Tape, SetUp: setUp(t, section),
		Start: b.instant(t.Start.Minute), End: b.instant(t.End.Minute),
		CarriedIn: t.Start.Minute < b.from, CarriedOn: t.End.Minute > b.to,
	}
}

// setUp returns what a task sets up: the key of rule R7.
func setUp(t *shop.Task, section *shop.Section) string {
	if !t.Setup {
		return ""
	}
	switch t.Stage {
	case shop.Cut:
		return t.Prepreg
	case shop.Tack:
		return section.Mandrel
	case shop.Wrap:
		return section.Tape
	}
	return ""
}

// meet returns the parts of spans that lie in one more.
func meet(spans []shop.Span, with shop.Span) []shop.Span {
	var out []shop.Span
	for _, s := range spans {
		if part := (shop.Span{From: max(s.From, with.From), To: min(s.To, with.To)}); part.From < part.To {
			out = append(out, part)
		}
	}
	return out
}
