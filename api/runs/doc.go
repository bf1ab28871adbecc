// Package runs plans in the background and tells what plans mean: one run at a
// time with its progress, the daily tick, when each line ships, what changed
// between two plans, and what needs eyes.
//
// It knows neither HTTP nor SQL: what it needs of the books are small interfaces,
// and what it knows of a plan are pure functions of the shop and the plan. It may
// be imported by the packages of api; it imports store and scheduler.
package runs
