package store_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

const days = 24 * time.Hour

// openFreezer returns books of the bare shop with one roll of forty square
// metres, which bears two days out and thaws for six hours.
func openFreezer(t testing.TB) (*store.Books, *storetest.Clock) {
	t.Helper()
	b, clock := storetest.Open(t)
	storetest.Import(t, b, shoptest.Bare())
	_, err := b.AddRoll(t.Context(), store.NewRoll{
		ID: "r1", Prepreg: "prepreg", Lot: "7", M2: 40, Shelf: clock.Now().Add(90 * days), Limit: 2 * days, Thaw: 6 * time.Hour,
	})
	if err != nil {
		t.Fatal(err)
	}
	return b, clock
}

func moveRoll(t testing.TB, b *store.Books, o crib.RollOrder) store.Roll {
	t.Helper()
	r, err := b.MoveRoll(t.Context(), store.Seen{ID: "r1"}, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A roll that goes out thaws, is drawn from, and uses up its out-time, which
// the shop file's expiry follows; in the freezer it has its shelf life again,
// but not its out-time.
func TestMoveRoll(t *testing.T) {
	b, clock := openFreezer(t)
	supply := func() shop.Supply { return exported(t, b).Supply[0] }
	if got := supply(); got.From.Time().Sub(clock.Now()) != 6*time.Hour || got.Expires.Time().Sub(clock.Now()) != 90*days {
		t.Errorf("frozen the file says %+v", got)
	}
	if r := moveRoll(t, b, crib.RollOrder{Move: crib.TakeOut}); r.Where != crib.Thawing {
		t.Errorf("just out it is %s", r.Where)
	}
	out := clock.Now()
	clock.Advance(6 * time.Hour)
	if r := moveRoll(t, b, crib.RollOrder{Move: crib.Draw, M2: 2.5}); r.Left != 37.5 || r.Where != crib.Out {
		t.Errorf("drawn from it is %+v", r)
	}
	want := shop.Supply{
		ID: "r1", Prepreg: "prepreg", M2: 37.5,
		From: shop.InstantOf(out.Add(6 * time.Hour)), Expires: shop.InstantOf(out.Add(2 * days)),
	}
	if diff := cmp.Diff(want, supply()); diff != "" {
		t.Errorf("out the file says (-want +got)\n%s", diff)
	}
	clock.Advance(18 * time.Hour)
	if r := moveRoll(t, b, crib.RollOrder{Move: crib.PutIn}); r.Where != crib.Freezer || r.OutFor != days {
		t.Errorf("back it is %+v", r)
	}
	clock.Advance(10 * days)
	moveRoll(t, b, crib.RollOrder{Move: crib.TakeOut})
	if got := supply().Expires.Time().Sub(clock.Now()); got != days {
		t.Errorf("out again it is good for %v", got)
	}
	clock.Advance(25 * time.Hour)
	if r, err := b.Roll(t.Context(), "r1"); err != nil || r.Where != crib.Held || !strings.Contains(r.Why, "out-time exceeded: 49.0 h of 48.0 h") {
		t.Errorf("too long out it is %+v, %v", r, err)
	}
	verify(t, b)
}

// A held roll is not in the shop file; where it is the only one, a row says
// that there is nothing, for no row would say that there is no end of it.
func TestMoveRoll_Hold(t *testing.T) {
	b, clock := openFreezer(t)
	moveRoll(t, b, crib.RollOrder{Move: crib.HoldIt, Remark: "bag torn"})
	if got := exported(t, b).Supply; len(got) != 1 || got[0].M2 != 0 {
		t.Errorf("the file says %+v", got)
	}
	if _, err := b.AddRoll(t.Context(), store.NewRoll{ID: "r2", Prepreg: "prepreg", M2: 9, Shelf: clock.Now().Add(days)}); err != nil {
		t.Fatal(err)
	}
	if got := exported(t, b).Supply; len(got) != 1 || got[0].ID != "r2" || got[0].M2 != 9 {
		t.Errorf("beside another the file says %+v", got)
	}
	if r := moveRoll(t, b, crib.RollOrder{Move: crib.Clear, Remark: "retested"}); r.Where != crib.Freezer {
		t.Errorf("cleared it is %+v", r)
	}
	if got := exported(t, b).Supply; len(got) != 2 || got[0].M2 != 40 {
		t.Errorf("cleared the file says %+v", got)
	}
	moveRoll(t, b, crib.RollOrder{Move: crib.Discard, Remark: "spoilt"})
	gone, err := b.Rolls(t.Context(), store.RollFilter{Place: crib.Gone})
	if err != nil || len(gone) != 1 || gone[0].ID != "r1" {
		t.Errorf("gone are %+v, %v", gone, err)
	}
	left, err := b.Rolls(t.Context(), store.RollFilter{Prepreg: "prepreg"})
	if err != nil || len(left) != 1 || left[0].ID != "r2" {
		t.Errorf("left are %+v, %v", left, err)
	}
	verify(t, b)
}

// What cannot be is refused with what can, and what is wrong with its path.
func TestMoveRoll_Refused(t *testing.T) {
	b, clock := openFreezer(t)
	try := func(ctx context.Context, which store.Seen, o crib.RollOrder) error {
		_, err := b.MoveRoll(ctx, which, o)
		return err
	}
	r1 := store.Seen{ID: "r1"}
	if err := try(t.Context(), r1, crib.RollOrder{Move: crib.Draw, M2: 1}); !errors.Is(err, store.ErrConflict) ||
		!strings.Contains(err.Error(), "r1 is in the freezer, so draw is not possible; possible: out, hold, discard") {
		t.Errorf("drawn frozen: %v", err)
	}
	if err := try(t.Context(), store.Seen{ID: "r9"}, crib.RollOrder{Move: crib.TakeOut}); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("no such roll: %v", err)
	}
	if err := try(t.Context(), store.Seen{ID: "r1", Rev: 4}, crib.RollOrder{Move: crib.TakeOut}); !errors.Is(err, store.ErrStale) {
		t.Errorf("stale: %v", err)
	}
	later := crib.RollOrder{Move: crib.HoldIt, At: clock.Now().Add(time.Hour)}
	if got := pathsOf(try(t.Context(), r1, later)); got != "remark at" {
		t.Errorf("held for nothing, not yet: problems at %s", got)
	}
	keyed := store.WithKey(t.Context(), "k")
	clock.Advance(time.Hour)
	for range 2 {
		if err := try(keyed, r1, crib.RollOrder{Move: crib.TakeOut, At: clock.Now().Add(-time.Minute)}); err != nil {
			t.Errorf("taken out a minute ago: %v", err)
		}
	}
	if got := pathsOf(try(t.Context(), r1, crib.RollOrder{Move: crib.PutIn, At: clock.Now().Add(-time.Hour)})); got != "at" {
		t.Errorf("in before it was out: problems at %s", got)
	}
	verify(t, b)
}

// Rolls are entered and corrected, with all that is wrong at once.
func TestAddRoll(t *testing.T) {
	b, clock := openFreezer(t)
	_, err := b.AddRoll(t.Context(), store.NewRoll{ID: "r1", Prepreg: "none", Shelf: clock.Now(), Limit: -1, Thaw: -1, Used: -1})
	if got := pathsOf(err); got != "id prepreg m2 used_minutes expires out_time_minutes thaw_minutes" {
		t.Errorf("problems at %s: %v", got, err)
	}
	change := store.RollChange{Lot: new("8"), Limit: new(time.Duration(0)), Shelf: new(clock.Now().Add(days)), Remark: "label misread"}
	changed, err := b.ChangeRoll(t.Context(), "r1", change, 1)
	if err != nil || changed.Lot != "8" || changed.Limit != 0 || !changed.GoodTil.Equal(clock.Now().Add(days)) || changed.Rev != 2 {
		t.Errorf("%+v, %v", changed, err)
	}
	if _, err := b.ChangeRoll(t.Context(), "r1", change, 1); !errors.Is(err, store.ErrStale) {
		t.Errorf("changed from revision 1: %v", err)
	}
	measured := store.RollChange{Left: new(38.5), Remark: "measured"}
	if changed, err := b.ChangeRoll(t.Context(), "r1", measured, 2); err != nil || changed.Left != 38.5 || changed.Received != 40 {
		t.Errorf("measured %+v, %v", changed, err)
	}
	if _, err := b.ChangeRoll(t.Context(), "r1", store.RollChange{Left: new(0.0)}, 3); pathsOf(err) != "left_m2" {
		t.Errorf("measured as nothing: %v", err)
	}
	change.Shelf = new(clock.Now())
	if _, err := b.ChangeRoll(t.Context(), "r1", change, 3); pathsOf(err) != "expires" {
		t.Errorf("never good: %v", err)
	}
	history, err := b.RollHistory(t.Context(), "r1", 0)
	if err != nil || len(history) != 3 || history[0].M2 != -1.5 || history[1].Remark != "label misread" || history[2].M2 != 40 {
		t.Errorf("history %+v, %v", history, err)
	}
	verify(t, b)
}

// What was cut is drawn from the rolls, whatever the books say of where they
// are; one that they had in the freezer is out, and what they did not have is
// told.
func TestDrawPrepreg(t *testing.T) {
	b, clock := openFreezer(t)
	moveRoll(t, b, crib.RollOrder{Move: crib.TakeOut})
	clock.Advance(8 * time.Hour)
	out := clock.Now().Add(40 * time.Hour)
	if _, err := b.AddRoll(t.Context(), store.NewRoll{ID: "r2", Prepreg: "prepreg", M2: 5, Shelf: clock.Now().Add(9 * days)}); err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct{ m2, lacking, r1, r2 float64 }{{12, 0, 28, 5}, {30, 0, 0, 3}, {4, 1, 0, 0}} {
		good, lacking, err := b.Draw(t.Context(), "prepreg", step.m2)
		if err != nil || lacking != step.lacking {
			t.Fatalf("%g m²: lacking %g, %v", step.m2, lacking, err)
		}
		if r, err := b.Roll(t.Context(), "r2"); err != nil || r.Frozen() != (step.r2 == 5 || step.r2 == 0) {
			t.Errorf("%g m²: r2 is %s, %v", step.m2, r.Where, err)
		}
		if step.r1 > 0 && !good.Equal(out) {
			t.Errorf("%g m² are good until %v, want %v", step.m2, good, out)
		}
		for id, want := range map[string]float64{"r1": step.r1, "r2": step.r2} {
			if r, err := b.Roll(t.Context(), id); err != nil || r.Left != want || r.Gone != (want == 0) {
				t.Errorf("%g m²: %s has %g left, gone %v, %v", step.m2, id, r.Left, r.Gone, err)
			}
		}
	}
	verify(t, b)
}

// What was not cut after all is there again; a roll that it had used up has
// been out all the while, and what was discarded stays so.
func TestUndrawPrepreg(t *testing.T) {
	b, clock := openFreezer(t)
	moveRoll(t, b, crib.RollOrder{Move: crib.TakeOut})
	clock.Advance(8 * time.Hour)
	if _, lacking, err := b.Draw(t.Context(), "prepreg", 40); err != nil || lacking != 0 {
		t.Fatal(lacking, err)
	}
	clock.Advance(2 * time.Hour)
	if err := b.Undraw(t.Context(), "r1", 15); err != nil {
		t.Fatal(err)
	}
	if r, err := b.Roll(t.Context(), "r1"); err != nil || r.Where != crib.Out || r.Left != 15 || r.OutFor != 10*time.Hour {
		t.Errorf("given back it is %+v, %v", r, err)
	}
	verify(t, b)
	if r := moveRoll(t, b, crib.RollOrder{Move: crib.PutIn}); r.OutFor != 10*time.Hour {
		t.Errorf("in the freezer it is %+v", r)
	}
	moveRoll(t, b, crib.RollOrder{Move: crib.Discard, Remark: "spoilt"})
	if err := b.Undraw(t.Context(), "r1", 5); err != nil {
		t.Fatal(err)
	}
	if r, err := b.Roll(t.Context(), "r1"); err != nil || r.Where != crib.Gone || r.Left != 20 {
		t.Errorf("discarded it is %+v, %v", r, err)
	}
	verify(t, b)
}
