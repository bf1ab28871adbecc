package line

import (
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// plenty is how much there is of what is without limit.
const plenty = 1 << 20

// morePositions is how many positions a station without limit has beside its
// own; no load has so many batches at hand at once.
const morePositions = 32

// Relax lets one resource bind nothing until the returned function puts it back
// as it was: an oven that is open and free at all times, a station with
// positions to spare, a crew, mandrel type, rack type or prepreg without limit,
// flags or wrapped pieces that may lie for as long as they like. Kinds that
// name no resource relax nothing.
//
// It is for asking what if: whatever is done in between must be undone before
// the resource is put back. Several resources are put back in the opposite
// order.
func (t *Timetable) Relax(kind Kind, index int) (putBack func()) {
	switch kind {
	case OvenBusy:
		return t.freeOven(index)
	case StationBusy:
		return t.widenStation(shop.Stage(index))
	case CrewBusy:
		return swap(t.crews[index], crew{free: filled(t.in.Horizon), size: most})
	case MandrelsOut:
		return swap(t.mandrels[index], pool{from: []Tick{0}, free: []int{plenty}})
	case RacksOut:
		return swap(t.racks[index], pool{from: []Tick{0}, free: []int{plenty}})
	case NoMaterial:
		return swap(&t.ledgers[index], nil)
	case OpenTime:
		return swap(&t.in, unlimitedOpen(t.in, index))
	case GreenTime:
		in := *t.in
		in.MaxGreen = instance.Never
		return swap(&t.in, &in)
	}
	return func() {}
}

// swap puts another value in a place and returns what puts the first back.
func swap[T any](at *T, other T) func() {
	old := *at
	*at = other
	return func() { *at = old }
}

func filled(horizon Tick) []int16 {
	free := make([]int16, horizon)
	for t := range free {
		free[t] = most
	}
	return free
}

func (t *Timetable) freeOven(index int) func() {
	o := t.ovens[index]
	oven := *o.oven
	oven.Calendar, oven.Blocked = instance.Always(t.in.Horizon), nil
	return swap(o, ovenLine{oven: &oven, crew: o.crew, endless: true})
}

func (t *Timetable) widenStation(stage shop.Stage) func() {
	own := t.positions[stage]
	wide := append(make([]*position, 0, len(own)+morePositions), own...)
	for range morePositions {
		wide = append(wide, &position{
			stage: stage, number: len(wide), calendar: t.in.Stations[stage].Calendar, last: instance.None, desk: t.desk,
		})
	}
	return swap(&t.positions[stage], wide)
}

// unlimitedOpen returns an instance like in, in which a prepreg's flags may lie
// for as long as they like.
func unlimitedOpen(in *instance.Instance, prepreg int) *instance.Instance {
	out := *in
	out.Prepregs = append([]instance.Prepreg(nil), in.Prepregs...)
	out.Prepregs[prepreg].MaxOpen = instance.Never
	out.Sections = append([]instance.Section(nil), in.Sections...)
	for i := range out.Sections {
		s := &out.Sections[i]
		s.MaxOpen = instance.Never
		for _, cut := range s.Cuts {
			s.MaxOpen = min(s.MaxOpen, out.Prepregs[cut.Prepreg].MaxOpen)
		}
	}
	return &out
}
