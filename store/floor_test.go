package store_test

import (
	"context"
	"testing"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/check"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/store"
	"blankwright/store/crib"
	"blankwright/store/storetest"
)

// A bench is a yard with work, and what a test does in it again and again.
type bench struct {
	*testing.T
	*store.Books
	clock *storetest.Clock
}

// newBench returns the yard's books with an order of eight sets of TWO, worked
// in batches of four, each with an hour of work at a stage.
func newBench(t *testing.T) *bench {
	b := &bench{T: t}
	b.Books, b.clock = storetest.Open(t)
	storetest.Import(t, b.Books, yardWithWork())
	return b
}

// yardWithWork is the yard of newBench.
func yardWithWork() *shop.Shop {
	s := storetest.Yard()
	s.Policy.TransferPieces = 4
	for i := range s.Products[1].Sections {
		s.Products[1].Sections[i].Minutes = shop.Minutes{Tack: 15, Roll: 15, Wrap: 15, Pull: 15, Strip: 15, Trim: 15}
	}
	shoptest.AddLine(s, "TWO", 8, 20, 1)
	return s
}

// plan plans the shop as it stands, judges that, and keeps it.
func (b *bench) plan() int64 {
	b.Helper()
	snap, err := b.Snapshot(b.Context())
	b.must(err)
	s, err := shop.Read(snap.Shop.Encode())
	b.must(err)
	r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: 50})
	b.must(err)
	for _, breach := range check.Plan(s, r.Plan).Breaches {
		b.Errorf("the plan breaks %s", breach)
	}
	id, err := b.BeginPlan(b.Context(), store.PlanByRequest)
	b.must(err)
	files := store.PlanFiles{Shop: s.Encode(), Plan: r.Plan.Encode(), Report: []byte("{}")}
	b.must(b.KeepPlan(b.Context(), id, store.Figures{Now: s.Now.Time()}, files, nil))
	return id
}

// released releases all of a new plan, and returns its first load's id.
func (b *bench) released() string {
	b.Helper()
	r, err := b.Release(b.Context(), b.plan(), b.clock.Now().Add(60*24*time.Hour))
	b.must(err)
	return r.Loads[0]
}

func (b *bench) must(err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

// tasks returns a load's tasks at a stage of a section.
func (b *bench) tasks(load, section, stage string) []store.Task {
	b.Helper()
	l, err := b.FloorLoad(b.Context(), load)
	b.must(err)
	var out []store.Task
	for _, t := range l.Tasks {
		if t.Section == section && t.Stage == stage {
			out = append(out, t)
		}
	}
	return out
}

// do reports a task as begun now, and half an hour later as done.
func (b *bench) do(t store.Task, scrap ...store.Scrap) store.Report {
	b.Helper()
	_, err := b.ReportBegun(b.Context(), t.ID, time.Time{})
	b.must(err)
	b.clock.Advance(30 * time.Minute)
	scrapped := 0
	for _, s := range scrap {
		scrapped += s.Pieces
	}
	r, err := b.ReportDone(b.Context(), store.TaskReport{Task: t.ID, Good: t.Live - scrapped, Scrap: scrap, Dead: t.Pieces - t.Live})
	b.must(err)
	b.must(b.Verify(b.Context()))
	return r
}

// stage does all of a load at a stage that has anything to do.
func (b *bench) stage(load, stage string) {
	b.Helper()
	for _, section := range []string{"TWO-A", "TWO-B"} {
		for _, t := range b.tasks(load, section, stage) {
			if t.State == store.TaskWaiting && t.Pieces > 0 {
				b.do(b.now(t))
			}
		}
	}
}

// now returns a task as it stands now.
func (b *bench) now(t store.Task) store.Task {
	b.Helper()
	out, err := b.FloorTask(b.Context(), t.ID)
	b.must(err)
	return out
}

// cured has a load cut, tacked, rolled, wrapped and cured.
func (b *bench) cured(load string) {
	b.Helper()
	for _, stage := range []string{"cut", "tack", "roll", "wrap"} {
		b.stage(load, stage)
	}
	_, err := b.ReportIn(b.Context(), load, time.Time{})
	b.must(err)
	b.clock.Advance(2 * time.Hour)
	_, err = b.ReportOut(b.Context(), load, time.Time{})
	b.must(err)
}

func (b *bench) stock(product string) int {
	b.Helper()
	all, err := b.Stock(b.Context())
	b.must(err)
	for _, h := range all {
		if h.Product == product {
			return h.OnHand
		}
	}
	return 0
}

func (b *bench) balance(want store.Balance) {
	b.Helper()
	got, err := b.Balance(b.Context())
	b.must(err)
	if got != want {
		b.Errorf("the balance is %+v, not %+v", got, want)
	}
}

// scrapMandrel scraps a mandrel.
func scrapMandrel(b *bench, id string) {
	b.Helper()
	_, err := b.MoveMandrels(b.Context(), []store.Seen{{ID: id}}, crib.Order{Move: crib.Scrap, Remark: "snapped"})
	b.must(err)
}
