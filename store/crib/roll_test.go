package crib_test

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/store/crib"
)

const day = 24 * time.Hour

// fresh is a roll that bears fourteen days out and thaws for eight hours.
func fresh() crib.Roll {
	return crib.Roll{
		ID: "R1", Prepreg: "UD", Lot: "7", Received: 40, Left: 40,
		From: noon.Add(-30 * day), Shelf: noon.Add(300 * day), Limit: 14 * day, Thaw: 8 * time.Hour,
	}
}

// do makes moves that must be possible.
func do(t *testing.T, r crib.Roll, orders ...crib.RollOrder) crib.Roll {
	t.Helper()
	for _, o := range orders {
		if problems := o.Problems(); len(problems) > 0 {
			t.Fatal(problems)
		}
		var err error
		if r, err = r.Do(o); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// Out-time sums over trips, thaw included; the freezer pauses it and gives
// none back, and what is out is good for what is left of it (common practice,
// no source).
func TestRoll_OutTime(t *testing.T) {
	r := do(t, fresh(),
		crib.RollOrder{Move: crib.TakeOut, At: noon},
		crib.RollOrder{Move: crib.PutIn, At: noon.Add(3 * day)},
		crib.RollOrder{Move: crib.TakeOut, At: noon.Add(100 * day)})
	now := noon.Add(101 * day)
	if got := r.OutTime(now); got != 4*day {
		t.Errorf("out-time %v, want four days", got)
	}
	if got, want := r.Expires(), noon.Add(111*day); !got.Equal(want) {
		t.Errorf("expires %v, want %v", got, want)
	}
	frozen := do(t, r, crib.RollOrder{Move: crib.PutIn, At: now})
	if !frozen.Expires().Equal(frozen.Shelf) || frozen.OutTime(now.Add(day)) != 4*day {
		t.Errorf("in the freezer it expires %v after %v out", frozen.Expires(), frozen.OutTime(now.Add(day)))
	}
}

// A roll is where its moves and the clock have brought it, and can do what it
// can do there.
func TestRoll_Place(t *testing.T) {
	out := crib.RollOrder{Move: crib.TakeOut, At: noon}
	tests := []struct {
		name   string
		orders []crib.RollOrder
		after  time.Duration
		want   crib.RollPlace
		can    []crib.RollMove
	}{
		{"new", nil, 0, crib.Freezer, []crib.RollMove{crib.TakeOut, crib.HoldIt, crib.Discard}},
		{"just out", []crib.RollOrder{out}, 0, crib.Thawing, []crib.RollMove{crib.PutIn, crib.HoldIt, crib.Discard}},
		{"thawed", []crib.RollOrder{out}, 8 * time.Hour, crib.Out, []crib.RollMove{crib.PutIn, crib.Draw, crib.HoldIt, crib.Discard}},
		{"out for too long", []crib.RollOrder{out}, 14 * day, crib.Held, []crib.RollMove{crib.PutIn, crib.HoldIt, crib.Clear, crib.Discard}},
		{
			"frozen too late",
			[]crib.RollOrder{out, {Move: crib.PutIn, At: noon.Add(15 * day)}},
			20 * day,
			crib.Held,
			[]crib.RollMove{crib.TakeOut, crib.Clear, crib.Discard},
		},
		{"old", nil, 300 * day, crib.Held, []crib.RollMove{crib.TakeOut, crib.HoldIt, crib.Clear, crib.Discard}},
		{
			"suspect",
			[]crib.RollOrder{{Move: crib.HoldIt, At: noon, Remark: "bag torn"}},
			0,
			crib.Held,
			[]crib.RollMove{crib.TakeOut, crib.Clear, crib.Discard},
		},
		{"thrown away", []crib.RollOrder{{Move: crib.Discard, At: noon, Remark: "too old"}}, 0, crib.Gone, []crib.RollMove{}},
		{
			"used up", []crib.RollOrder{out, {Move: crib.Draw, At: noon.Add(day), M2: 40}}, day, crib.Gone, []crib.RollMove{},
		},
	}
	for _, test := range tests {
		r, now := do(t, fresh(), test.orders...), noon.Add(test.after)
		if got := r.Place(now); got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
		if diff := cmp.Diff(test.can, r.Possible(now)); diff != "" {
			t.Errorf("%s: possible (-want +got)\n%s", test.name, diff)
		}
	}
}

// What cannot be is refused, with the place, the reason and what can be.
func TestRoll_Refused(t *testing.T) {
	out := do(t, fresh(), crib.RollOrder{Move: crib.TakeOut, At: noon})
	later := fresh()
	later.From = noon.Add(day)
	tests := []struct {
		name  string
		roll  crib.Roll
		order crib.RollOrder
		want  string
	}{
		{
			"drawn frozen", fresh(),
			crib.RollOrder{Move: crib.Draw, At: noon, M2: 1},
			"R1 is in the freezer, so draw is not possible; possible: out, hold, discard",
		},
		{
			"drawn in its bag", out,
			crib.RollOrder{Move: crib.Draw, At: noon, M2: 1},
			"R1 is thawing until 2026-03-02T20:00:00Z, so draw is not possible; possible: in, hold, discard",
		},
		{
			"drawn past its out-time", out,
			crib.RollOrder{Move: crib.Draw, At: noon.Add(15 * day), M2: 1},
			"R1 is held (out-time exceeded: 360.0 h of 336.0 h), so draw is not possible; possible: in, hold, clear, discard",
		},
		{
			"out before it is there", later,
			crib.RollOrder{Move: crib.TakeOut, At: noon},
			"R1 is not here before 2026-03-03T12:00:00Z, so out is not possible; possible: hold, discard",
		},
		{
			"more than there is", out,
			crib.RollOrder{Move: crib.Draw, At: noon.Add(day), M2: 40.1},
			"m2: is 40.1, but R1 has 40 left",
		},
		{
			"cleared as it is", out,
			crib.RollOrder{Move: crib.Clear, At: noon.Add(15 * day), Remark: "retested"},
			"out_time_minutes: must be extended to clear R1: out-time exceeded: 360.0 h of 336.0 h",
		},
		{
			"cleared past its shelf life", fresh(),
			crib.RollOrder{Move: crib.Clear, At: noon.Add(301 * day), Remark: "retested"},
			"expires: must be extended to clear R1: shelf life ended 2026-12-27T12:00:00Z",
		},
	}
	for _, test := range tests {
		after, err := test.roll.Do(test.order)
		if err == nil || err.Error() != test.want {
			t.Errorf("%s: got %v, want %s", test.name, err, test.want)
		}
		if after != test.roll {
			t.Errorf("%s: the refused move changed %+v", test.name, after)
		}
	}
}

// A retested roll is cleared under limits that somebody has extended, and its
// out-time counts on.
func TestRoll_Clear(t *testing.T) {
	now := noon.Add(15 * day)
	r := do(t, fresh(), crib.RollOrder{Move: crib.TakeOut, At: noon},
		crib.RollOrder{Move: crib.Clear, At: now, Limit: 20 * day, Remark: "retested"})
	if got := r.Place(now); got != crib.Out || r.OutTime(now) != 15*day {
		t.Errorf("%s after %v out", got, r.OutTime(now))
	}
	if want := noon.Add(20 * day); !r.Expires().Equal(want) {
		t.Errorf("expires %v, want %v", r.Expires(), want)
	}
}

// Whatever is ordered whenever: out-time is what the trips say and never
// shrinks, the area that came is there or was drawn, what is possible is, and
// nobody draws from a roll that is frozen, thawing, held or gone.
func TestRoll_AnyOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, now := fresh(), noon
		var trips time.Duration
		var out time.Time
		drawn := 0.0
		step := func(t *rapid.T) {
			now = now.Add(time.Duration(rapid.IntRange(0, 100).Draw(t, "hours")) * time.Hour)
			o := anyRollOrder(t, now)
			place, can, before := r.Place(now), slices.Contains(r.Possible(now), o.Move), r
			after, err := r.Do(o)
			var refusal *crib.Refusal
			if !can != errors.As(err, &refusal) || err != nil && after != before {
				t.Fatalf("%+v, %+v: possible %v, got %v", before, o, can, err)
			}
			if err != nil {
				return
			}
			if o.Move == crib.Draw {
				drawn += o.M2
				if place != crib.Out {
					t.Fatalf("drawn from a roll that is %s", place)
				}
			}
			if before.Frozen() && !after.Frozen() {
				out = now
			}
			if !before.Frozen() && after.Frozen() {
				trips += now.Sub(out)
			}
			r = after
		}
		t.Repeat(map[string]func(*rapid.T){
			"step": step,
			"": func(t *rapid.T) {
				want := trips
				if !r.Frozen() {
					want += now.Sub(out)
				}
				if r.OutTime(now) != want {
					t.Fatalf("out-time %v, but the trips took %v", r.OutTime(now), want)
				}
				if math.Abs(r.Received-drawn-r.Left) > 1e-5 {
					t.Fatalf("%g came, %g drawn, %g left", r.Received, drawn, r.Left)
				}
				if r.Place(now) == crib.Out && !now.Before(r.Expires()) {
					t.Fatal("out to be cut, but expired")
				}
			},
		})
	})
}

// anyRollOrder draws an order without problems of its own.
func anyRollOrder(t *rapid.T, now time.Time) crib.RollOrder {
	o := crib.RollOrder{Move: rapid.SampledFrom(crib.RollMoves()).Draw(t, "move"), At: now, Remark: "so"}
	switch o.Move {
	case crib.Draw:
		o.M2 = rapid.Float64Range(0.01, 15).Draw(t, "m2")
	case crib.Clear:
		o.Limit = time.Duration(rapid.IntRange(0, 30).Draw(t, "limit")) * day
	case crib.Discard:
		if rapid.IntRange(0, 3).Draw(t, "keep") > 0 {
			o.Move = crib.PutIn
		}
	}
	if problems := o.Problems(); len(problems) > 0 {
		t.Fatal(problems)
	}
	return o
}

// An order that makes no sense is refused whatever the roll.
func TestRollOrder_Problems(t *testing.T) {
	for _, test := range []struct {
		name  string
		order crib.RollOrder
		want  int
	}{
		{"no such move", crib.RollOrder{Move: "eat"}, 1},
		{"nothing drawn", crib.RollOrder{Move: crib.Draw}, 1},
		{"drawn by going out", crib.RollOrder{Move: crib.TakeOut, M2: 3}, 1},
		{"cleared for nothing", crib.RollOrder{Move: crib.Clear}, 1},
		{"extended on the way out", crib.RollOrder{Move: crib.TakeOut, Limit: day, Shelf: noon}, 2},
		{"well said", crib.RollOrder{Move: crib.Draw, M2: 3}, 0},
	} {
		if got := test.order.Problems(); len(got) != test.want {
			t.Errorf("%s: %v, want %d problems", test.name, got, test.want)
		}
	}
}

// Cutters take from what lies out and expires first, then from what the books
// have elsewhere, last from what is no longer good, never from what is held by
// order; and it is told what they lack.
func TestTakeFrom(t *testing.T) {
	out := func(id string, left float64, since time.Duration) crib.Roll {
		r := fresh()
		r.ID, r.Left, r.OutSince = id, left, noon.Add(-since)
		return r
	}
	held := out("held", 50, day)
	held.Hold = "bag torn"
	frozen := fresh()
	frozen.ID, frozen.Left = "frozen", 5
	other := out("other", 50, day)
	other.Prepreg = "scrim"
	coming := fresh()
	coming.ID, coming.Left, coming.From = "coming", 1, noon.Add(day)
	rolls := []crib.Roll{
		out("spent", 1, 20*day), coming, frozen, held, out("thawing", 4, time.Hour), out("young", 3, day), out("old", 2, 5*day), other,
	}
	all := []crib.Take{
		{Roll: "old", M2: 2}, {Roll: "young", M2: 3}, {Roll: "thawing", M2: 4}, {Roll: "frozen", M2: 5}, {Roll: "coming", M2: 1}, {Roll: "spent", M2: 1},
	}
	for _, test := range []struct {
		m2      float64
		want    []crib.Take
		lacking float64
	}{
		{1, []crib.Take{{Roll: "old", M2: 1}}, 0},
		{4, []crib.Take{{Roll: "old", M2: 2}, {Roll: "young", M2: 2}}, 0},
		{14, all[:4], 0},
		{16, all, 0},
		{17, all, 1},
	} {
		got, lacking := crib.TakeFrom(rolls, "UD", test.m2, noon)
		if diff := cmp.Diff(test.want, got); diff != "" || lacking != test.lacking {
			t.Errorf("%g m²: lacking %g (-want +got)\n%s", test.m2, lacking, diff)
		}
	}
}

// Whoever cut from a roll that the books had in the freezer had taken it out
// and thawed it, but not before its last move.
func TestRoll_CutFrom(t *testing.T) {
	for _, test := range []struct {
		name  string
		moved time.Time
		want  time.Time
	}{
		{"long in the freezer", noon.Add(-day), noon.Add(-8 * time.Hour)},
		{"put there an hour ago", noon.Add(-time.Hour), noon.Add(-time.Hour)},
	} {
		r := fresh().CutFrom(noon, test.moved)
		if !r.OutSince.Equal(test.want) || !r.Expires().Equal(test.want.Add(14*day)) {
			t.Errorf("%s: out since %v, good until %v", test.name, r.OutSince, r.Expires())
		}
	}
	early := fresh()
	early.From = noon.Add(day)
	if r := early.CutFrom(noon, noon.Add(-day)); r.From.After(noon) || r.Place(noon) != crib.Out {
		t.Errorf("come early it is %s, here from %v", r.Place(noon), r.From)
	}
}
