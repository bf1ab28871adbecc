// Package reference compares plans with optima that others have proven: those of
// benchmark instances, and those that an exact solver proves of small shops. It is
// made of tests alone, and nothing imports it.
//
// What a test expects never comes from the planner's code, and counts only once
// package check has accepted it as a plan of the same shop at the same cost.
//
// Small shops are put to the solver as a program of yes-or-no decisions (model),
// written from the rules alone. Each of its conditions follows from a rule, so that
// its optimum is no more than the cheapest plan costs; that the plan which is read
// from it is valid and costs as much shows that it is no less.
//
// The program knows full hours only. That loses nothing, for everything in a small
// shop takes, opens, closes and is limited by whole hours: take any plan and let all
// that begins begin on the full hour before. What goes on in some hour then was going
// on in that hour's last minute, so that positions, ovens, people, racks and mandrels
// suffice; what followed something still does, for both begin on the hours of their
// beginnings; limits of so many hours between two beginnings are kept; and nothing
// ends later. Two things may end too early, which are wrapping, for green time, and
// trimming, for holding costs: an end soon after a pause becomes one before it. Where
// these matter they go on around the clock.
package reference
