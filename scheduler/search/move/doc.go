// Package move holds the changes that a search tries on an answer, one to a
// file. A move looks at an answer and proposes a change; it neither makes it
// nor judges it. Moves keep no state, so that any number of searches may share
// them.
//
// It imports answer, construct, instance, line and rack.
package move
