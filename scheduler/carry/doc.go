// Package carry moves released work on: from what was planned and what has
// really happened so far, to what is still possible from now.
//
// The order of the work stays as it was released: on each position, and in
// each oven. Nothing is brought forward, nothing is planned anew, no line and
// no cost is looked at. What cannot happen any more as it was meant is carried
// on all the same, so that the shop has one consistent picture, and is told as
// a Trouble.
//
// It imports shop only; store and tests may import it.
package carry
