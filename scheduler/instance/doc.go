// Package instance is a shop made ready for planning: every id an index, every
// instant a Tick counted from the shop's now, every price a whole number of
// the smallest money that the sums need.
//
// This is the one place where a shop's units become the engine's, and back.
// It holds no plan and no algorithm. It imports shop, cure and rack.
package instance
