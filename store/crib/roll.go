package crib

import (
	"fmt"
	"slices"
	"time"
)

// A RollPlace is where a roll of prepreg is, or why nobody may use it there.
type RollPlace string

// The places of a roll.
const (
	Freezer RollPlace = "freezer"
	Thawing RollPlace = "thawing" // out, in its sealed bag
	Out     RollPlace = "out"
	Held    RollPlace = "held" // whether in the freezer or out
	Gone    RollPlace = "gone" // used up or discarded
)

// RollPlaces returns all places, in the order in which lists show them.
func RollPlaces() []RollPlace { return []RollPlace{Freezer, Thawing, Out, Held, Gone} }

// A Roll is one roll of prepreg as it stands. Its out-time is the time that it
// was out of the freezer, thaw included, summed over all trips; the freezer
// pauses it and nothing takes it back.
type Roll struct {
	ID       string
	Prepreg  string
	Lot      string
	Received float64       // m²
	Left     float64       // m²
	From     time.Time     // it is in the shop from then on
	Shelf    time.Time     // it is good until then at most, frozen or not
	Limit    time.Duration // of out-time; 0 where none is stated
	Thaw     time.Duration // from the freezer until its bag may be opened
	Used     time.Duration // out-time of the trips that have ended
	OutSince time.Time     // zero while it is frozen
	Hold     string        // why it is held by order; empty where it is not
	Gone     bool
}

// Frozen reports whether the roll is in the freezer, held or not.
func (r Roll) Frozen() bool { return r.OutSince.IsZero() }

// OutTime returns the out-time used by an instant.
func (r Roll) OutTime(now time.Time) time.Duration {
	if r.Frozen() || now.Before(r.OutSince) {
		return r.Used
	}
	return r.Used + now.Sub(r.OutSince)
}

// OutTimeLeft returns the out-time left at an instant, and whether any limit
// is stated. It is negative where the limit was exceeded.
func (r Roll) OutTimeLeft(now time.Time) (time.Duration, bool) {
	return r.Limit - r.OutTime(now), r.Limit > 0
}

// Expires returns until when the roll is good as it is now: its shelf life,
// or, while it is out, the end of its out-time if that is sooner. A frozen roll
// without any out-time left has never been good.
func (r Roll) Expires() time.Time {
	switch {
	case r.Limit == 0:
		return r.Shelf
	case r.Frozen() && r.Used >= r.Limit:
		return earlier(r.From, r.Shelf)
	case r.Frozen():
		return r.Shelf
	}
	return earlier(r.Shelf, r.OutSince.Add(r.Limit-r.Used))
}

// Expired says why the roll is no longer good at an instant, or "".
func (r Roll) Expired(now time.Time) string {
	if now.Before(r.Expires()) {
		return ""
	}
	if left, limited := r.OutTimeLeft(now); limited && left <= 0 {
		return fmt.Sprintf("out-time exceeded: %s of %s", hours(r.OutTime(now)), hours(r.Limit))
	}
	return "shelf life ended " + r.Shelf.UTC().Format(time.RFC3339)
}

// Opens returns from when the roll may be cut from, as it is now: once it has
// thawed, which a frozen one could do from now on.
func (r Roll) Opens(now time.Time) time.Time {
	thawed := r.OutSince.Add(r.Thaw)
	if r.Frozen() {
		thawed = now.Add(r.Thaw)
	}
	if r.Thaw == 0 || r.From.After(thawed) {
		return r.From
	}
	return thawed
}

// Why says why the roll is held at an instant: by order, or because it is no
// longer good. It is empty where it is not held, or gone.
func (r Roll) Why(now time.Time) string {
	switch {
	case r.Gone:
		return ""
	case r.Hold != "":
		return r.Hold
	}
	return r.Expired(now)
}

// Place returns where the roll is at an instant. What is no longer good is
// held without anybody's order.
func (r Roll) Place(now time.Time) RollPlace {
	switch {
	case r.Gone:
		return Gone
	case r.Why(now) != "":
		return Held
	case r.Frozen():
		return Freezer
	case r.Opens(now).After(now):
		return Thawing
	}
	return Out
}

func earlier(x, y time.Time) time.Time {
	if x.Before(y) {
		return x
	}
	return y
}

func hours(d time.Duration) string { return fmt.Sprintf("%.1f h", d.Hours()) }

// A RollMove changes where a roll is, or what is left of it.
type RollMove string

// The moves of a roll.
const (
	TakeOut RollMove = "out"
	PutIn   RollMove = "in"
	Draw    RollMove = "draw"
	HoldIt  RollMove = "hold"
	Clear   RollMove = "clear"
	Discard RollMove = "discard"
)

// RollMoves returns all moves, in the order in which lists show them.
func RollMoves() []RollMove { return []RollMove{TakeOut, PutIn, Draw, HoldIt, Clear, Discard} }

// Possible returns the moves that a roll can make at an instant. A held one
// can still go in and out of the freezer; one that is yet to come cannot.
func (r Roll) Possible(now time.Time) []RollMove {
	place := r.Place(now)
	can := map[RollMove]bool{
		TakeOut: place != Gone && r.Frozen() && !now.Before(r.From),
		PutIn:   place != Gone && !r.Frozen(),
		Draw:    place == Out,
		HoldIt:  place != Gone && r.Hold == "",
		Clear:   place == Held,
		Discard: place != Gone,
	}
	return slices.DeleteFunc(RollMoves(), func(m RollMove) bool { return !can[m] })
}

// says completes the sentence "It is …".
func (r Roll) says(now time.Time) string {
	switch r.Place(now) {
	case Freezer:
		if now.Before(r.From) {
			return "not here before " + r.From.UTC().Format(time.RFC3339)
		}
		return "in the freezer"
	case Thawing:
		return "thawing until " + r.Opens(now).UTC().Format(time.RFC3339)
	case Out:
		return "out of the freezer"
	case Held:
		return "held (" + r.Why(now) + ")"
	}
	return "gone"
}
