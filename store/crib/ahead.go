package crib

import (
	"time"

	"blankwright/scheduler/shop"
)

// A Day is one local day: its midnights, To not included.
type Day struct {
	Date     shop.Date
	From, To time.Time
}

// DaysFrom returns so many days of a zone from a date on.
func DaysFrom(first shop.Date, count int, zone *time.Location) []Day {
	out := make([]Day, count)
	for i := range out {
		date := first + shop.Date(i)
		out[i] = Day{date, at(shop.At(date, 0, zone)), at(shop.At(date+1, 0, zone))}
	}
	return out
}

// An Outlook is one type of mandrel on one day ahead, as things stand now.
// Ready, Out, Due and Away together are all that are not scrapped.
type Outlook struct {
	Type   string
	Date   shop.Date
	Ready  int // in the crib and not due, now or by the day's end
	Out    int // on a load that does not give them back by the day's end
	Due    int // in the crib by then, but due for recoating or inspection
	Away   int // elsewhere, and not known to be back by then
	Needed int // the most that the plan has out at once on the day
	Short  int // of Needed, what Ready and Out do not meet
}

// Ahead returns the outlook of each type on each day, type by type. The needs
// are the plan's, and left and known what Outstanding makes of them; what comes
// due on the way is told as if each were given the mandrels that Pick names.
func Ahead(days []Day, types []string, needs, left []Need, known []Mandrel, limits map[string]Limits) []Outlook {
	dueAt := comingDue(Pick(left, known, limits), known, limits)
	byType := map[string][]Mandrel{}
	for _, m := range known {
		byType[m.Type] = append(byType[m.Type], m)
	}
	needed := map[string][]Need{}
	for _, n := range needs {
		needed[n.Type] = append(needed[n.Type], n)
	}
	var out []Outlook
	for _, kind := range types {
		for _, day := range days {
			o := Outlook{Type: kind, Date: day.Date, Needed: mostOut(needed[kind], day)}
			for _, m := range byType[kind] {
				*o.count(m, day, dueAt) += 1
			}
			o.Short = max(0, o.Needed-o.Ready-o.Out)
			out = append(out, o)
		}
	}
	return out
}

// count returns the number to which a mandrel belongs on a day.
func (o *Outlook) count(m Mandrel, day Day, dueAt map[string]time.Time) *int {
	if m.Place == Scrapped {
		return new(int)
	}
	free, known := m.free()
	back := known && free.Before(day.To)
	due, comes := dueAt[m.ID]
	switch {
	case back && comes && due.Before(day.To):
		return &o.Due
	case back:
		return &o.Ready
	case m.Place == Issued:
		return &o.Out
	}
	return &o.Away
}

// comingDue returns when mandrels are due: those that are so now since ever,
// others when a choice gives them back after their last cycle.
func comingDue(choices []Choice, mandrels []Mandrel, limits map[string]Limits) map[string]time.Time {
	cycles, due := map[string]Cycles{}, map[string]time.Time{}
	for _, m := range mandrels {
		cycles[m.ID] = m.back()
		if m.comesBackDue(limits[m.Type]) {
			due[m.ID] = m.Back
		}
	}
	for _, choice := range choices {
		for _, chosen := range choice.Mandrels {
			cycles[chosen.ID] = cycles[chosen.ID].add(1)
			if _, already := due[chosen.ID]; !already && len(cycles[chosen.ID].Due(limits[choice.Type])) > 0 {
				due[chosen.ID] = choice.Back
			}
		}
	}
	return due
}

// mostOut returns the most mandrels that the needs of a type have out at once on
// a day: the count rises only where a need begins.
func mostOut(needs []Need, day Day) int {
	most := 0
	for _, n := range needs {
		moment := n.Out
		if moment.Before(day.From) {
			moment = day.From
		}
		if moment.Before(day.To) && n.Holds(moment) {
			most = max(most, outAt(needs, moment))
		}
	}
	return most
}

func outAt(needs []Need, moment time.Time) int {
	out := 0
	for _, n := range needs {
		if n.Holds(moment) {
			out += n.Pieces
		}
	}
	return out
}

// Holds reports whether the need has its mandrels at an instant.
func (n Need) Holds(moment time.Time) bool { return !n.Out.After(moment) && !n.Over(moment) }

// Over reports whether the need has given its mandrels back by an instant.
func (n Need) Over(moment time.Time) bool { return !n.Back.IsZero() && !n.Back.After(moment) }
