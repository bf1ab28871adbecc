package crib

import "slices"

// A Place is where a mandrel is. It is in exactly one at any time.
type Place string

// The places of a mandrel.
const (
	InCrib     Place = "crib"
	Issued     Place = "issued" // on a load, from tack to pull
	Cleaning   Place = "cleaning"
	Recoating  Place = "recoating"
	Inspection Place = "inspection"
	Quarantine Place = "quarantine"
	Regrind    Place = "regrind"
	Scrapped   Place = "scrapped"
)

// Places returns all places, in the order in which lists show them.
func Places() []Place {
	return []Place{InCrib, Issued, Cleaning, Recoating, Inspection, Quarantine, Regrind, Scrapped}
}

// Known reports whether this is one of the places.
func (p Place) Known() bool { return slices.Contains(Places(), p) }

// says completes the sentence "The mandrel is …".
func (p Place) says() string {
	switch p {
	case InCrib:
		return "in the crib"
	case Issued:
		return "issued"
	case Cleaning:
		return "being cleaned"
	case Recoating:
		return "being recoated"
	case Inspection:
		return "in inspection"
	case Quarantine:
		return "in quarantine"
	case Regrind:
		return "out for regrind"
	}
	return "scrapped"
}

// A Move takes a mandrel from one place to another.
type Move string

// The moves of a mandrel.
const (
	Issue        Move = "issue"  // to a load
	Return       Move = "return" // from a load
	Clean        Move = "clean"
	Recoat       Move = "recoat"
	Inspect      Move = "inspect"
	Pass         Move = "pass" // the inspection
	Fail         Move = "fail" // the inspection
	ToQuarantine Move = "quarantine"
	ToRegrind    Move = "regrind"
	Scrap        Move = "scrap"
	ToCrib       Move = "crib" // back to the crib
)

// Moves returns all moves, in the order in which lists show them.
func Moves() []Move {
	return []Move{Issue, Return, ToCrib, Clean, Recoat, Inspect, Pass, Fail, ToQuarantine, ToRegrind, Scrap}
}

// ways says where each move leads from each place; what is not there cannot
// be. Nothing leaves quarantine or regrind for the crib without an inspection,
// and nothing leaves the scrap.
var ways = map[Place]map[Move]Place{
	InCrib: {
		Issue: Issued, Clean: Cleaning, Recoat: Recoating, Inspect: Inspection,
		ToQuarantine: Quarantine, Scrap: Scrapped,
	},
	Issued:    {Return: Cleaning, ToQuarantine: Quarantine, Scrap: Scrapped},
	Cleaning:  {ToCrib: InCrib, Recoat: Recoating, Inspect: Inspection, ToQuarantine: Quarantine, Scrap: Scrapped},
	Recoating: {ToCrib: InCrib, Inspect: Inspection, ToQuarantine: Quarantine, Scrap: Scrapped},
	Inspection: {
		Pass: InCrib, Fail: Quarantine, Clean: Cleaning, Recoat: Recoating, ToRegrind: Regrind, Scrap: Scrapped,
	},
	Quarantine: {Inspect: Inspection, ToRegrind: Regrind, Scrap: Scrapped},
	Regrind:    {Inspect: Inspection, Scrap: Scrapped},
	Scrapped:   {},
}

// From returns the moves that lead on from a place, in the order of Moves.
func From(p Place) []Move {
	var out []Move
	for _, m := range Moves() {
		if _, ok := ways[p][m]; ok {
			out = append(out, m)
		}
	}
	return out
}
