// Package ovens plans the ovens alone: which pieces share a load and in which
// turn the loads go in, as if the work before and after them took no longer
// than it takes one piece that has the shop to itself. Where the ovens are what
// is scarce, that is most of a plan; where they are not, it is none.
//
// It counts late, hold and oven cost as the plan does, in whole numbers, and
// tries hundreds of thousands of changes in the time in which a timetable of all
// stages tries a few. It knows nothing of other loads' work: whoever asks it
// places its loads in a timetable. It imports alone, cost, instance, line, rack
// and shop.
package ovens
