package runs_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

// deskOf returns the desk of new books that hold a shop.
func deskOf(t *testing.T, s *shop.Shop) (runs.Desk, *storetest.Clock) {
	t.Helper()
	b, clock := storetest.Open(t)
	if err := b.Import(t.Context(), s.Encode()); err != nil {
		t.Fatal(err)
	}
	return runs.Desk{Books: b}, clock
}

// Stock is the shop with what was promised, and with the mandrels that are due.
func TestDesk_Stock(t *testing.T) {
	d, _ := deskOf(t, small())
	ctx, promised := t.Context(), bareDay(7)
	terms := store.LineTerms{Product: "P", Quantity: 3, Due: bareDay(5), Promised: &promised}
	if _, err := d.ChangeLine(ctx, "D1", terms, 0); err != nil {
		t.Fatal(err)
	}
	if _, err := d.SetMandrelLimit(ctx, "mandrel", crib.Limits{Inspection: 5}, 0); err != nil {
		t.Fatal(err)
	}
	if _, err := d.HoldLine(ctx, "D1", store.Hold{Why: "a deposit"}, 0); err != nil {
		t.Fatal(err)
	}
	six := 6
	worn := store.MandrelChange{All: &six, SinceInspection: &six}
	if _, err := d.ChangeMandrel(ctx, "m7", worn, 0); err != nil {
		t.Fatal(err)
	}
	stock, err := d.Stock(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if len(stock.Shop.Demand) != 1 || len(stock.Troubles) > 0 {
		t.Errorf("demand %+v, troubles %+v", stock.Shop.Demand, stock.Troubles)
	}
	if diff := cmp.Diff(map[string]shop.Date{"D1": promised}, stock.Promised); diff != "" {
		t.Errorf("promised (-want +got):\n%s", diff)
	}
	held := []runs.HeldLine{{Line: "D1", Product: "P", Sets: 3, Promised: promised, Why: "a deposit"}}
	if diff := cmp.Diff(held, stock.Held); diff != "" {
		t.Errorf("held (-want +got):\n%s", diff)
	}
	want := []runs.DueTool{{Mandrel: "m7", Type: "mandrel", Why: "due for inspection (6 of 5 cycles)"}}
	if diff := cmp.Diff(want, stock.Due); diff != "" {
		t.Errorf("due (-want +got):\n%s", diff)
	}
}

// Empty books have neither a stock nor days.
func TestDesk_Empty(t *testing.T) {
	b, _ := storetest.Open(t)
	d := runs.Desk{Books: b}
	if _, err := d.Stock(t.Context()); !errors.Is(err, store.ErrConflict) {
		t.Errorf("stock: %v", err)
	}
	if _, err := d.Days(t.Context()); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("days: %v", err)
	}
}

// Days are those of the shipping calendar, in the shop's zone.
func TestDesk_Days(t *testing.T) {
	s := small()
	s.Timezone, s.Policy.ShippingCalendar = "America/St_Johns", "weekdays"
	s.Calendars["weekdays"] = weekdays()
	d, _ := deskOf(t, s)
	days, err := d.Days(t.Context())
	if diff := cmp.Diff(weekdays(), days.Calendar); err != nil || diff != "" || days.Zone.String() != s.Timezone {
		t.Errorf("%v, zone %s, calendar (-want +got):\n%s", err, days.Zone, diff)
	}
}

// Day after day the tick plans the books and releases the next day's work, or finds
// that there is none; the next plan keeps what is released, and tells of what became
// impossible.
func TestDesk_Ticks(t *testing.T) {
	d, clock := deskOf(t, small())
	ctx := t.Context()
	one := 1
	if _, err := d.ChangeTick(ctx, 0, store.TickChange{ReleaseDays: &one}); err != nil {
		t.Fatal(err)
	}
	m := manager(d, runs.Options{Plan: quick, Now: clock.Now})
	tick := runs.NewTick(d, m, clock.Now, quiet)
	for day := range 4 {
		clock.Set(storetest.Start.AddDate(0, 0, day).Add(15 * time.Hour))
		if err := tick.Look(ctx); err != nil {
			t.Fatal(err)
		}
	}
	ticks, err := d.Ticks(ctx, 0)
	if err != nil || len(ticks) != 4 {
		t.Fatalf("ticks %+v, %v", ticks, err)
	}
	for _, tick := range ticks {
		if tick.State != store.TickDone || tick.Failure != "" {
			t.Errorf("tick %+v", tick)
		}
	}
	releases, err := d.Releases(ctx, 0, 0)
	if err != nil || len(releases) == 0 {
		t.Fatalf("releases %+v, %v", releases, err)
	}
	latest, err := m.Views().Latest(ctx)
	if err != nil || latest.Shop.Released == nil {
		t.Fatalf("the latest plan's shop has no released work: %v", err)
	}
	notices, err := d.Notices(ctx, store.NoticeFilter{})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range notices {
		if n.Kind != runs.NoticeOvertaken || !strings.HasPrefix(n.Text, n.Subject) || !strings.Contains(n.Text, ". What would mend it: ") {
			t.Errorf("notice %+v", n)
		}
	}
}
