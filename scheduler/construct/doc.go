// Package construct makes first answers: it takes the demand in the order of
// its due dates, gathers sections that can share a cure into loads, and gives
// each load the oven, profile and day that cost least as things stand.
//
// It imports answer, instance, line and rack.
package construct
