// Package scheduler plans a shop: it reads what shop.Read made of a shop file
// and answers with a plan, a proven lower bound of its cost, and what holds
// back each line that is late.
//
// Its parts, each a package that can be tested alone, from the ground up:
//
//	shop, plan     the problem and the answer as files state them
//	cure, rack     what a profile does; what hangs where
//	instance       the problem on integers
//	line           the timetable of all stages
//	cost           money, and who gets which set
//	answer         loads, timetable and cost, changed and taken back as one
//	construct      first answers
//	search, move   what makes them better
//	tidy           what a search leaves undone
//	bound          what no plan can beat
//	binding        why a line is late
//	check          an independent judge of plans, which shares none of this
//
// Everything here is pure: no clock, no environment, no log, no randomness but
// that of a seed. The same shop, seed and effort give the same bytes.
package scheduler
