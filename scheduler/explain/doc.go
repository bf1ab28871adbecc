// Package explain tells what a line waits for by what one thing more would
// bring: the plan goes on in a shop that has one mandrel, rack, oven, position,
// person or roll more, or a wider limit, and is compared with the same plan that
// goes on as long without.
//
// In both shops the plan goes down to where no change of a few sorts betters it
// (search.Descend). What is found with the one thing more is also tried without
// it, and what that brings there is taken off: chance is nowhere in it, and luck
// is not put down to a mandrel. A gain is a plan that was found, so that at
// least so much is to be had; where nothing was found, more may still be there.
//
// It changes neither the shop nor the plan. It imports answer, binding,
// instance, line, plan, relax, search and shop.
package explain
