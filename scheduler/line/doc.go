// Package line is the timetable: it gives a load its oven, its racks and a
// time and position for every task, in what the loads before it have left.
//
// A load is placed as late upstream as its oven start allows (so that flags do
// not lie open and mandrels are not held for nothing) and as early downstream
// as it can (so that mandrels come back). Every change is on a trail and can
// be taken back exactly, so that a search may try a change, look at the cost
// and think better of it.
//
// It imports instance, rack and shop. It does not count money: cost does.
package line
