package crib

import "blankwright/scheduler/shop"

// wordPlaces says where a mandrel is of which a shop file states such a word.
var wordPlaces = map[string]Place{
	"crib": InCrib, "in crib": InCrib, "prepped": InCrib,
	"issued": Issued, "out": Issued, "in oven": Issued,
	"cleaning": Cleaning, "to clean": Cleaning,
	"recoating": Recoating, "to recoat": Recoating,
	"inspection": Inspection, "due": Inspection,
	"quarantine": Quarantine,
	"regrind":    Regrind, "out for regrind": Regrind,
	"scrapped": Scrapped, "scrap": Scrapped,
}

// PlaceOf returns where a mandrel of a shop file is, later saying that its
// ready_at is still to come. A word that nobody here knows means quarantine:
// it keeps the mandrel out of every plan, and an inspection decides.
func PlaceOf(state string, later bool) Place {
	switch place, known := wordPlaces[state]; {
	case state == shop.Ready && later:
		return Cleaning
	case state == shop.Ready:
		return InCrib
	case known:
		return place
	}
	return Quarantine
}

// WordOf returns the state and ready_at's presence that a shop file states of
// a mandrel: whether it counts, and whether only from Back on. One on a load
// of the books counts, for the released load says when it is back.
func (m Mandrel) WordOf(l Limits) (state string, back bool) {
	switch {
	case m.Place == Issued && m.Load != "":
		return shop.Ready, false
	case m.Place == InCrib && len(m.Due(l)) > 0:
		return "due", false
	case m.Place == InCrib:
		return shop.Ready, false
	case !m.Back.IsZero() && !m.comesBackDue(l):
		return shop.Ready, true
	}
	return string(m.Place), false
}

// comesBackDue reports whether the mandrel will be due when it is back from
// where it is.
func (m Mandrel) comesBackDue(l Limits) bool { return len(m.back().Due(l)) > 0 }

// back returns the cycles with which the mandrel will be back from where it
// is: recoating and an inspection mend what they are for.
func (m Mandrel) back() Cycles {
	after := m.Cycles
	switch m.Place {
	case Issued:
		after = after.add(1)
	case Recoating:
		after.SinceRecoat = 0
	case Inspection:
		after.SinceInspection = 0
	}
	return after
}
