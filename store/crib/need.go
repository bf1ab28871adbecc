package crib

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"blankwright/scheduler/shop"
)

// A Need is mandrels of one type that a load takes at one tack task and gives
// back, clean, together. What one task takes may come back at different times;
// that is several needs.
type Need struct {
	Load    string
	Section string
	Type    string
	Pieces  int
	Out     time.Time
	Back    time.Time // never, and so zero, where no pull task gives them back
}

// Needs returns what the tasks of a shop's loads take and give back, by when
// it is taken. The first that are tacked are the first that are pulled, so at
// every instant as many are out as rule R9 counts. A task of a section or type
// that the shop does not have needs nothing.
func Needs(s *shop.Shop, tasks []shop.Task) []Need {
	n := needer{shop: s, zone: s.Zone(), types: map[string]*shop.MandrelType{}, sections: map[string]*shop.Section{}}
	for i := range s.MandrelTypes {
		n.types[s.MandrelTypes[i].ID] = &s.MandrelTypes[i]
	}
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			n.sections[section.ID] = section
		}
	}
	return n.needs(tasks)
}

type needer struct {
	shop     *shop.Shop
	zone     *time.Location
	types    map[string]*shop.MandrelType
	sections map[string]*shop.Section
}

// A runKey names the pieces of one section in one load.
type runKey struct{ load, section string }

func (n *needer) needs(tasks []shop.Task) []Need {
	tacks, pulls := map[runKey][]shop.Task{}, map[runKey][]shop.Task{}
	for _, t := range tasks {
		switch key := (runKey{t.Load, t.Section}); t.Stage {
		case shop.Tack:
			tacks[key] = append(tacks[key], t)
		case shop.Pull:
			pulls[key] = append(pulls[key], t)
		}
	}
	var out []Need
	for key, taken := range tacks {
		if section := n.sections[key.section]; section != nil && n.types[section.Mandrel] != nil {
			out = append(out, n.run(section, taken, pulls[key])...)
		}
	}
	slices.SortFunc(out, func(x, y Need) int {
		return cmp.Or(x.Out.Compare(y.Out), cmp.Compare(x.Load, y.Load), cmp.Compare(x.Section, y.Section), x.Back.Compare(y.Back))
	})
	return out
}

// run matches a run's tack and pull tasks, first in, first out.
func (n *needer) run(section *shop.Section, tacks, pulls []shop.Task) []Need {
	byStart(tacks)
	byStart(pulls)
	turnaround := n.types[section.Mandrel].TurnaroundMinutes
	var out []Need
	for _, tack := range tacks {
		for left := tack.Pieces; left > 0; {
			need := Need{Load: tack.Load, Section: tack.Section, Type: section.Mandrel, Pieces: left, Out: at(tack.Start.Minute)}
			if len(pulls) > 0 {
				need.Pieces = min(left, pulls[0].Pieces)
				need.Back = at(Worked(n.shop, pulls[0].End.Minute, turnaround, n.zone))
				if pulls[0].Pieces -= need.Pieces; pulls[0].Pieces == 0 {
					pulls = pulls[1:]
				}
			}
			if need.Pieces > 0 {
				out = append(out, need)
			}
			left -= need.Pieces
		}
	}
	return out
}

// StillOut parts needs by the mandrels that came off their loads already, used, by
// load and type: those that are still out, and those that are off, which clean,
// bent or scrapped are counted where they are now. What was to come back first is
// what has come back.
func StillOut(needs []Need, used map[LoadType]int) (out, off []Need) {
	out, left := slices.Clone(needs), maps.Clone(used)
	first := make([]*Need, len(out))
	for i := range out {
		first[i] = &out[i]
	}
	slices.SortStableFunc(first, func(x, y *Need) int {
		return cmp.Or(never(x)-never(y), x.Back.Compare(y.Back))
	})
	for _, n := range first {
		if back := min(n.Pieces, left[n.key()]); back > 0 {
			gone := *n
			gone.Pieces = back
			off = append(off, gone)
			n.Pieces -= back
			left[n.key()] -= back
		}
	}
	return slices.DeleteFunc(out, func(n Need) bool { return n.Pieces == 0 }), off
}

// never is 1 for what gives nothing back, which sorts it last.
func never(n *Need) int {
	if n.Back.IsZero() {
		return 1
	}
	return 0
}

func byStart(tasks []shop.Task) {
	slices.SortStableFunc(tasks, func(x, y shop.Task) int { return cmp.Compare(x.Start.Minute, y.Start.Minute) })
}

func at(minute int64) time.Time { return time.Unix(minute*60, 0).UTC() }

// maxTurnaroundDays is how far ahead Worked looks: a pull station that is
// closed for longer gives nothing back.
const maxTurnaroundDays = 366

// Worked returns the minute at which so many working minutes of the pull
// station have passed after an instant, as rule R9 counts a turnaround. Where
// the station does not open for that long within a year, it is a year later.
func Worked(s *shop.Shop, from int64, minutes int, zone *time.Location) int64 {
	left := int64(minutes)
	if left <= 0 {
		return from
	}
	calendar := s.Calendars[s.Stations.Pull.Calendar]
	first := shop.DateAt(from, zone)
	for days := shop.Date(7); ; days = maxTurnaroundDays {
		if found, ok := worked(calendar.Spans(first, first+days, zone), from, left); ok {
			return found
		}
		if days == maxTurnaroundDays {
			return shop.At(first+days, 0, zone)
		}
	}
}

func worked(spans []shop.Span, at, left int64) (int64, bool) {
	for _, open := range spans {
		from := max(open.From, at)
		if length := open.To - from; length >= left {
			return from + left, true
		} else if length > 0 {
			left -= length
		}
	}
	return 0, false
}
