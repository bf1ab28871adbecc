package store_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

// Whatever is ordered of whatever mandrels: what their records call possible
// is done with all that are named, anything else with none; nothing else
// changes; all books balance, and the shop file stays valid.
func TestCrib_AnyOrders(t *testing.T) {
	for seed := range uint64(3) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			b, clock := storetest.Open(t)
			s := toolShop()
			s.Released = workOf(s, "L1", needed, 6*60)
			storetest.Import(t, b, s)
			if _, err := b.SetMandrelLimit(t.Context(), "mandrel", crib.Limits{Recoat: 3, Inspection: 4}, 0); err != nil {
				t.Fatal(err)
			}
			dice := rand.New(rand.NewPCG(seed, 7))
			for range 80 {
				clock.Advance(time.Duration(dice.IntN(60)) * time.Minute)
				tryOrder(t, b, dice)
			}
			verify(t, b)
		})
	}
}

// needed is how many mandrels load L1 takes.
const needed = 25

// tryOrder makes a random order and holds what came of it to what was possible.
func tryOrder(t *testing.T, b *store.Books, dice *rand.Rand) {
	t.Helper()
	before := allOf(t, b)
	o := crib.Order{Move: crib.Moves()[dice.IntN(len(crib.Moves()))], Remark: "so"}
	switch o.Move {
	case crib.Issue:
		o.Load = "L1"
	case crib.Return:
		o.Unused, o.Damaged = dice.IntN(4) == 0, dice.IntN(6) == 0
	case crib.Scrap:
		if dice.IntN(4) > 0 {
			o.Move = crib.ToCrib
		}
	}
	ids := make([]string, 1+dice.IntN(2))
	for i := range ids {
		ids[i] = fmt.Sprintf("m%d", 1+dice.IntN(6))
	}
	_, err := b.MoveMandrels(t.Context(), some(ids...), o)
	after := allOf(t, b)
	if want := mayAll(before, ids, o); want != (err == nil) {
		t.Fatalf("%s of %v: possible %v, but: %v", o.Move, ids, want, err)
	}
	for id := range before {
		if moved := err == nil && slices.Contains(ids, id); !moved && !cmp.Equal(before[id], after[id]) {
			t.Fatalf("%s of %v changed %s (-before +after)\n%s", o.Move, ids, id, cmp.Diff(before[id], after[id]))
		} else if moved && (after[id].Rev != before[id].Rev+1 || after[id].Place == before[id].Place) {
			t.Fatalf("%s left %s as it was: %+v", o.Move, id, after[id])
		}
	}
	if _, err := shop.Read(export(t, b)); err != nil {
		t.Fatal(err)
	}
}

func allOf(t *testing.T, b *store.Books) map[string]store.Mandrel {
	t.Helper()
	list, err := b.Mandrels(t.Context(), store.MandrelFilter{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]store.Mandrel{}
	for _, m := range list {
		out[m.ID] = m
	}
	return out
}

// mayAll tells from the records whether an order is possible. Load L1 takes
// mandrels of the type that all but m6 are.
func mayAll(all map[string]store.Mandrel, ids []string, o crib.Order) bool {
	had := 0
	for _, m := range all {
		had += m.All // in these books, all cycles are of L1
		if m.Load != "" {
			had++
		}
	}
	for i, id := range ids {
		if slices.Contains(ids[:i], id) || !slices.Contains(all[id].Moves, o.Move) {
			return false
		}
	}
	return o.Move != crib.Issue || !slices.Contains(ids, "m6") && had+len(ids) <= needed
}

// Of many who take the same mandrel at once one gets it, and the others are
// told where it went.
func TestMoveMandrels_AtOnce(t *testing.T) {
	b, _ := openCrib(t)
	const callers = 8
	var wait sync.WaitGroup
	failed := make([]error, callers)
	for i := range callers {
		wait.Go(func() {
			_, failed[i] = b.MoveMandrels(t.Context(), some("m1"), crib.Order{Move: crib.Issue, Load: "L1"})
		})
	}
	wait.Wait()
	got := 0
	for _, err := range failed {
		var impossible *store.Impossible
		switch {
		case err == nil:
			got++
		case !errors.As(err, &impossible) || impossible.Refusals[0].Why != "issued to load L1":
			t.Errorf("refused by %v", err)
		}
	}
	if got != 1 {
		t.Errorf("%d callers got it", got)
	}
	verify(t, b)
}
