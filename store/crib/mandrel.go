package crib

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"blankwright/scheduler/strict"
)

// A Mandrel is one tool as it stands.
type Mandrel struct {
	ID    string
	Type  string
	Place Place
	Load  string    // while issued; empty where it is out on work that is not in the books
	Back  time.Time // when it is to be back in the crib; zero where nobody has said
	Cycles
}

// Cycles counts how often a mandrel was worked with. A cycle is one load, and
// counts when the mandrel leaves it.
type Cycles struct {
	All             int
	SinceRecoat     int
	SinceInspection int
}

// Limits are the cycles after which mandrels of a type are due; 0 sets none.
type Limits struct {
	Recoat     int
	Inspection int
}

// A Due is what a mandrel must go through before it is issued again.
type Due struct {
	Move   Move // Recoat or Inspect
	Cycles int
	Limit  int
}

// String says what is due and why.
func (d Due) String() string {
	what := "inspection"
	if d.Move == Recoat {
		what = "recoating"
	}
	return fmt.Sprintf("due for %s (%d of %d cycles)", what, d.Cycles, d.Limit)
}

// Due returns what is due after these cycles.
func (c Cycles) Due(l Limits) []Due {
	var out []Due
	if l.Recoat > 0 && c.SinceRecoat >= l.Recoat {
		out = append(out, Due{Recoat, c.SinceRecoat, l.Recoat})
	}
	if l.Inspection > 0 && c.SinceInspection >= l.Inspection {
		out = append(out, Due{Inspect, c.SinceInspection, l.Inspection})
	}
	return out
}

// add returns the cycles after n more.
func (c Cycles) add(n int) Cycles {
	return Cycles{c.All + n, c.SinceRecoat + n, c.SinceInspection + n}
}

// An Order is one move as somebody wants it.
type Order struct {
	Move    Move
	At      time.Time
	Load    string    // of an issue
	Until   time.Time // when it is to be back in the crib; zero where nobody knows
	Unused  bool      // of a return: it was not worked with, so no cycle counts
	Damaged bool      // of a return: into quarantine
	Remark  string
}

// Problems returns what is wrong with an order whatever the mandrel, each at
// its field's path.
func (o Order) Problems() strict.Problems {
	var out strict.Problems
	say := func(path, format string, args ...any) {
		out = append(out, strict.Problem{Path: path, Message: fmt.Sprintf(format, args...)})
	}
	if !slices.Contains(Moves(), o.Move) {
		say("move", "%q is no move; the moves are %s", o.Move, list(Moves()))
		return out
	}
	switch issue := o.Move == Issue; {
	case issue && o.Load == "":
		say("load", "is missing: a mandrel is issued to a load")
	case !issue && o.Load != "":
		say("load", "stands with an issue only, not with %s", o.Move)
	}
	if o.Move != Return && o.Unused {
		say("unused", "stands with a return only, not with %s", o.Move)
	}
	if o.Move != Return && o.Damaged {
		say("damaged", "stands with a return only, not with %s", o.Move)
	}
	if o.Remark == "" && (o.Damaged || slices.Contains([]Move{Fail, ToQuarantine, Scrap}, o.Move)) {
		say("remark", "is missing: it says what is wrong with the mandrel")
	}
	return append(out, o.untilProblems()...)
}

// untilProblems judges when the mandrel is to be back.
func (o Order) untilProblems() strict.Problems {
	away := []Move{Issue, Return, Clean, Recoat, Inspect, ToRegrind}
	switch {
	case o.Until.IsZero():
		return nil
	case !slices.Contains(away, o.Move) || o.Unused || o.Damaged:
		return strict.Problems{{Path: "until", Message: "stands only with a move after which the mandrel comes back: " + list(away)}}
	case !o.Until.After(o.At):
		return strict.Problems{{Path: "until", Message: "is not after the move, at " + o.At.UTC().Format(time.RFC3339)}}
	}
	return InstantProblems("until", o.Until)
}

// Possible returns the moves that lead on from where the mandrel is. One that
// is due cannot be issued.
func (m Mandrel) Possible(l Limits) []Move {
	moves := From(m.Place)
	if len(m.Due(l)) > 0 {
		moves = slices.DeleteFunc(moves, func(move Move) bool { return move == Issue })
	}
	return moves
}

// Do returns the mandrel after an order, which has no problems of its own, or
// a *Refusal that names what is possible instead.
func (m Mandrel) Do(o Order, l Limits) (Mandrel, error) {
	possible := m.Possible(l)
	if !slices.Contains(possible, o.Move) {
		return m, &Refusal{What: m.ID, Move: string(o.Move), Why: m.says(o.Move, l), Possible: words(possible)}
	}
	after := m
	after.Place, after.Load, after.Back = m.target(o), o.Load, o.Until
	if m.Place == Issued && !o.Unused {
		after.Cycles = m.add(1)
	}
	switch {
	case o.Move == Pass:
		after.SinceInspection = 0
	case m.Place == Recoating && (o.Move == ToCrib || o.Move == Inspect):
		after.SinceRecoat = 0
	}
	return after, nil
}

// target returns where an order leads that is possible.
func (m Mandrel) target(o Order) Place {
	switch {
	case o.Unused && !o.Damaged:
		return InCrib
	case o.Damaged:
		return Quarantine
	}
	return ways[m.Place][o.Move]
}

// says completes the sentence "It is …" for whoever wanted a move.
func (m Mandrel) says(wanted Move, l Limits) string {
	says := m.Place.says()
	if m.Place == Issued && m.Load != "" {
		says += " to load " + m.Load
	}
	if wanted == Issue && m.Place == InCrib {
		for _, due := range m.Due(l) {
			says += ", " + due.String()
		}
	}
	return says
}

// A Refusal is a move that cannot be, and what can be instead.
type Refusal struct {
	What     string // the id
	Move     string
	Why      string // completes "It is …"
	Possible []string
}

// Error says what cannot be, why, and what can.
func (r *Refusal) Error() string {
	possible := "nothing"
	if len(r.Possible) > 0 {
		possible = strings.Join(r.Possible, ", ")
	}
	return fmt.Sprintf("%s is %s, so %s is not possible; possible: %s", r.What, r.Why, r.Move, possible)
}

func words[W ~string](from []W) []string {
	out := make([]string, len(from))
	for i, w := range from {
		out[i] = string(w)
	}
	return out
}

func list[W ~string](from []W) string { return strings.Join(words(from), ", ") }
