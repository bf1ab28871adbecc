// Package crib knows what can happen to mandrels and prepreg rolls: where each
// can be, which moves lead on from there, how cycles and out-time add up, what
// comes due, and which mandrels are picked for a load.
//
// It is plain Go: it reads no clock and no database, and everything it is
// given stays as it is. Package store keeps the records and asks it before
// each move; pages and the API say its words. It imports shop and strict only.
package crib
