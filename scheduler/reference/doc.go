// Package reference compares plans with optima that others have proven. It is
// made of tests alone, and nothing imports it.
//
// What a test expects never comes from the planner's own code, and counts only
// once package check has accepted it as a plan of the same shop at the same cost.
package reference
