package crib

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"blankwright/scheduler/strict"
)

// areaTolerance is how much less than nothing counts as nothing, in m².
const areaTolerance = 1e-6

// A RollOrder is one move of a roll as somebody wants it.
type RollOrder struct {
	Move   RollMove
	At     time.Time
	M2     float64       // of a draw
	Limit  time.Duration // of a clear: the out-time that the roll bears in all; 0 leaves it
	Shelf  time.Time     // of a clear: its new shelf life; zero leaves it
	Remark string
}

// Problems returns what is wrong with an order whatever the roll, each at its
// field's path.
func (o RollOrder) Problems() strict.Problems {
	var out strict.Problems
	say := func(path, format string, args ...any) {
		out = append(out, strict.Problem{Path: path, Message: fmt.Sprintf(format, args...)})
	}
	if !slices.Contains(RollMoves(), o.Move) {
		say("move", "%q is no move; the moves are %s", o.Move, list(RollMoves()))
		return out
	}
	switch draw := o.Move == Draw; {
	case draw && !(o.M2 > 0 && o.M2 <= strict.Most): // so written, it refuses what is no number
		say("m2", "is %g, but must be above 0 and at most %d", o.M2, strict.Most)
	case !draw && o.M2 != 0:
		say("m2", "stands with a draw only, not with %s", o.Move)
	}
	switch {
	case o.Move == Clear:
		out = append(out, LimitProblems("out_time_minutes", o.Limit)...)
		if !o.Shelf.IsZero() {
			out = append(out, InstantProblems("expires", o.Shelf)...)
		}
	case o.Limit != 0:
		say("out_time_minutes", "stands with a clear only, not with %s", o.Move)
	}
	if o.Move != Clear && !o.Shelf.IsZero() {
		say("expires", "stands with a clear only, not with %s", o.Move)
	}
	if o.Remark == "" && slices.Contains([]RollMove{HoldIt, Clear, Discard}, o.Move) {
		say("remark", "is missing: it says why")
	}
	return out
}

// Do returns the roll after an order, which has no problems of its own, or a
// *Refusal that names what is possible instead, or what is wrong with a field.
func (r Roll) Do(o RollOrder) (Roll, error) {
	possible := r.Possible(o.At)
	if !slices.Contains(possible, o.Move) {
		return r, &Refusal{What: r.ID, Move: string(o.Move), Why: r.says(o.At), Possible: words(possible)}
	}
	switch o.Move {
	case TakeOut:
		r.OutSince = o.At
	case PutIn:
		return r.putIn(o.At), nil
	case Draw:
		return r.draw(o)
	case HoldIt:
		r.Hold = o.Remark
	case Clear:
		return r.clear(o)
	case Discard:
		r.Gone = true
		return r.stop(o.At), nil
	}
	return r, nil
}

// stop ends a trip: the clock of the out-time stands still.
func (r Roll) stop(now time.Time) Roll {
	r.Used, r.OutSince = r.OutTime(now), time.Time{}
	return r
}

// putIn puts a roll back into the freezer. One that has no out-time left is
// held there: the freezer gives none back.
func (r Roll) putIn(now time.Time) Roll {
	why := r.Why(now)
	r = r.stop(now)
	if left, limited := r.OutTimeLeft(now); limited && left <= 0 && r.Hold == "" {
		r.Hold = why
	}
	return r
}

// draw takes from a roll; one that is used up is gone.
func (r Roll) draw(o RollOrder) (Roll, error) {
	if o.M2 > r.Left+areaTolerance {
		return r, strict.Problems{{Path: "m2", Message: fmt.Sprintf("is %g, but %s has %g left", o.M2, r.ID, r.Left)}}
	}
	return r.Taken(o.M2, o.At), nil
}

// Taken returns the roll after so much was taken from it at an instant.
func (r Roll) Taken(m2 float64, now time.Time) Roll {
	if r.Left -= m2; r.Left <= areaTolerance {
		r = r.stop(now)
		r.Left, r.Gone = 0, true
	}
	return r
}

// GivenBack returns the roll after so much that was taken turned out not to
// have been. One that it had used up, at an instant, has been out since then,
// and had thawed before.
func (r Roll) GivenBack(m2 float64, emptied time.Time) Roll {
	if r.Gone && r.Left == 0 {
		thawed := min(r.Used, r.Thaw)
		r.Gone, r.OutSince, r.Used = false, emptied.Add(-thawed), r.Used-thawed
	}
	r.Left += m2
	return r
}

// clear lets a held roll be used again, if it is good under the limits that
// the order extends.
func (r Roll) clear(o RollOrder) (Roll, error) {
	cleared := r
	cleared.Hold = ""
	if o.Limit != 0 {
		cleared.Limit = o.Limit
	}
	if !o.Shelf.IsZero() {
		cleared.Shelf = o.Shelf
	}
	why := cleared.Expired(o.At)
	if why == "" {
		return cleared, nil
	}
	path := "expires"
	if left, limited := cleared.OutTimeLeft(o.At); limited && left <= 0 {
		path = "out_time_minutes"
	}
	return r, strict.Problems{{Path: path, Message: "must be extended to clear " + r.ID + ": " + why}}
}

// A Take is what is drawn from one roll.
type Take struct {
	Roll string
	M2   float64
}

// TakeFrom returns from which rolls cutters take so much of a prepreg, and what
// they lack. What was cut was cut, whatever the books say: it is of those out
// in the shop the first to expire, then of those that are thawing or frozen,
// then of what is no longer good; never of what is held by order. The order of
// equals is the rolls'.
func TakeFrom(rolls []Roll, prepreg string, m2 float64, now time.Time) (takes []Take, lacking float64) {
	var fit []Roll
	for _, r := range rolls {
		if r.Prepreg == prepreg && r.Left > 0 && !r.Gone && r.Hold == "" {
			fit = append(fit, r)
		}
	}
	slices.SortStableFunc(fit, func(x, y Roll) int {
		return cmp.Or(nearness(x, now)-nearness(y, now), x.Expires().Compare(y.Expires()), x.From.Compare(y.From))
	})
	for _, r := range fit {
		if m2 <= areaTolerance {
			break
		}
		part := min(m2, r.Left)
		takes = append(takes, Take{r.ID, part})
		m2 -= part
	}
	if m2 <= areaTolerance {
		return takes, 0
	}
	return takes, m2
}

// nearness orders rolls by how likely they are to be cut from: what is no
// longer good is the last, what was not expected yet the last but one.
func nearness(r Roll, now time.Time) int {
	switch {
	case r.Expired(now) != "":
		return len(RollPlaces()) + 1
	case r.From.After(now):
		return len(RollPlaces())
	}
	return slices.Index([]RollPlace{Out, Thawing, Freezer}, r.Place(now))
}

// CutFrom returns the roll as it must have been for somebody to cut from it at
// an instant: in the shop, out of the freezer, and thawed, but not out before
// its last move.
func (r Roll) CutFrom(at, moved time.Time) Roll {
	if !r.Frozen() {
		return r
	}
	r.OutSince = at.Add(-r.Thaw)
	if r.OutSince.Before(moved) {
		r.OutSince = moved
	}
	r.From = earlier(r.From, r.OutSince)
	return r
}
