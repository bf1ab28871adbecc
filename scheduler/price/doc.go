// Package price asks what a shop's time is worth. It keeps of all rules only that
// the sets which are good by the end of a day cannot have taken more of anything
// than there was of it by then: limits. A price is put on each limit and day, so
// that lines compete for them; what lines and their payments cost at least, less
// what all the room is worth, is less than any plan's late and early sets cost.
//
// It looks at the instance only, never at an answer. What it proves, it proves in
// whole numbers; only the search for good prices is in floating point. It imports
// alone, instance and shop, and rack for what ovens hold.
package price
