package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/carry"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/strict"
	"blankwright/store"
)

// Scrap lowers what follows, and the balance is kept all along; good pieces are
// loose until each section has one, then they are sets in stock.
func TestReport_Through(t *testing.T) {
	b := newBench(t)
	load := b.released()
	b.stage(load, "cut")
	tacks := b.tasks(load, "TWO-A", "tack")
	b.do(tacks[0], store.Scrap{Reason: "mis-tack", Pieces: 1})
	b.balance(store.Balance{Started: 4, Scrapped: 1, InWork: 3})
	b.cured(load)
	b.stage(load, "pull")
	b.balance(store.Balance{Started: 16, Scrapped: 1, InWork: 15})
	b.stage(load, "strip")
	trims := b.tasks(load, "TWO-A", "trim")
	b.do(trims[0], store.Scrap{Reason: "void", Pieces: 1}, store.Scrap{Reason: "split", Pieces: 1})
	loose, err := b.Loose(b.Context())
	b.must(err)
	if diff := cmp.Diff([]store.Loose{{Section: "TWO-A", Pieces: trims[0].Live - 2}}, loose); diff != "" {
		t.Errorf("loose pieces (-want +got):\n%s", diff)
	}
	if in := exported(t, b.Books).Incoming; len(in) != 1 || in[0].Pieces != 2 {
		t.Errorf("incoming in the file: %+v", in)
	}
	b.stage(load, "trim")
	b.balance(store.Balance{Started: 16, Trimmed: 13, Scrapped: 3})
	if got := b.stock("TWO"); got != 5 {
		t.Errorf("%d sets are in stock", got)
	}
}

// What cannot have happened is refused, with what would be possible.
func TestReport_Refused(t *testing.T) {
	b := newBench(t)
	load := b.released()
	cuts, tacks := b.tasks(load, "TWO-A", "cut"), b.tasks(load, "TWO-A", "tack")
	begun := func(task store.Task) error { _, err := b.ReportBegun(b.Context(), task.ID, time.Time{}); return err }
	done := func(r store.TaskReport) error { _, err := b.ReportDone(b.Context(), r); return err }
	in := func() error { _, err := b.ReportIn(b.Context(), load, time.Time{}); return err }
	out := func() error { _, err := b.ReportOut(b.Context(), load, time.Time{}); return err }

	refuses(t, begun(tacks[0]), store.ErrConflict, "0 pieces of section TWO-A of load "+load+" have come to tack")
	refuses(t, done(store.TaskReport{Task: cuts[0].ID, Good: 4}), store.ErrConflict, "was not begun")
	refuses(t, in(), store.ErrConflict, "is not wrapped yet")
	refuses(t, out(), store.ErrConflict, "did not go in")
	refuses(t, begun(store.Task{ID: 999}), store.ErrNotFound, "")
	b.must(begun(cuts[0]))
	refuses(t, begun(cuts[0]), store.ErrConflict, "was begun at")
	refuses(t, begun(cuts[1]), store.ErrConflict, "in work, since")
	for _, c := range []struct {
		report store.TaskReport
		want   strict.Problems
	}{
		{store.TaskReport{Good: 3}, strict.Problems{{Path: "good", Message: "and scrap are 3 together, but the task has 4 pieces: each is one or the other"}}},
		{store.TaskReport{Good: -1, Dead: 1}, strict.Problems{
			{Path: "good", Message: "is -1, but must be at least 0"},
			{Path: "dead", Message: "is 1, but must be from 0 to 0: so many pieces that were scrapped before are still on mandrels"},
		}},
		{store.TaskReport{Good: 4, At: b.clock.Now().Add(time.Minute)}, strict.Problems{{Path: "at", Message: "2027-03-01T00:01:00Z is still to come"}}},
		{store.TaskReport{Good: 3, Scrap: []store.Scrap{{Reason: "void", Pieces: 0}, {Reason: "void", Pieces: 1}}}, strict.Problems{
			{Path: "scrap[0].pieces", Message: "is 0, but must be at least 1"},
			{Path: "scrap[1].reason", Message: `"void" is there twice`},
		}},
	} {
		c.report.Task = cuts[0].ID
		var got strict.Problems
		if err := done(c.report); !errors.As(err, &got) {
			t.Errorf("%+v: %v", c.report, err)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", c.report, diff)
		}
	}
	b.must(b.Verify(b.Context()))
}

// The same report twice under one key is one.
func TestReport_Once(t *testing.T) {
	b := newBench(t)
	cut := b.tasks(b.released(), "TWO-A", "cut")[0]
	ctx := store.WithKey(b.Context(), "k1")
	first, err := b.ReportBegun(ctx, cut.ID, time.Time{})
	b.must(err)
	second, err := b.ReportBegun(ctx, cut.ID, time.Time{})
	b.must(err)
	if first.ID != second.ID {
		t.Errorf("reports %d and %d", first.ID, second.ID)
	}
}

// A dead piece may be found in any batch that is pulled, but must be found in
// the last.
func TestReport_Dead(t *testing.T) {
	b := newBench(t)
	load := b.released()
	for _, stage := range []string{"cut", "tack", "roll"} {
		b.stage(load, stage)
	}
	b.do(b.tasks(load, "TWO-A", "wrap")[1], store.Scrap{Reason: "tape ridge", Pieces: 1})
	b.cured(load)
	pulls := b.tasks(load, "TWO-A", "pull")
	_, err := b.ReportBegun(b.Context(), pulls[0].ID, time.Time{})
	b.must(err)
	_, err = b.ReportDone(b.Context(), store.TaskReport{Task: pulls[0].ID, Good: 3, Dead: 1})
	b.must(err)
	last := b.now(pulls[1])
	if last.Pieces != 4 || last.Live != 4 {
		t.Fatalf("the last batch is %+v", last)
	}
	b.stage(load, "pull")
	if strips := b.tasks(load, "TWO-A", "strip"); strips[0].Pieces+strips[1].Pieces != 7 {
		t.Errorf("stripped are %d and %d", strips[0].Pieces, strips[1].Pieces)
	}
}

// A correction changes all that followed from a report: pieces, loose pieces
// and stock.
func TestCorrect(t *testing.T) {
	b := newBench(t)
	load := b.released()
	b.cured(load)
	for _, stage := range []string{"pull", "strip", "trim"} {
		b.stage(load, stage)
	}
	trim := b.tasks(load, "TWO-A", "trim")[0]
	reports, err := b.Reports(b.Context(), store.ReportFilter{Task: trim.ID, Limit: 1})
	b.must(err)
	c := store.Correction{Report: reports[0].ID, Reason: "two had voids", Good: 2, Scrap: []store.Scrap{{Reason: "void", Pieces: 2}}}
	_, err = b.Correct(b.Context(), c)
	b.must(err)
	b.must(b.Verify(b.Context()))
	if got := b.stock("TWO"); got != 6 {
		t.Errorf("%d sets are in stock", got)
	}
	b.balance(store.Balance{Started: 16, Trimmed: 14, Scrapped: 2})
	_, err = b.Correct(b.Context(), store.Correction{Report: reports[0].ID, Reason: "they had not", Good: 4})
	b.must(err)
	b.must(b.Verify(b.Context()))
	if got := b.stock("TWO"); got != 8 {
		t.Errorf("%d sets are in stock", got)
	}
}

// Reports are withdrawn from the last to the first; what rests on others is
// refused, and says on which.
func TestCorrect_Withdraw(t *testing.T) {
	b := newBench(t)
	load := b.released()
	b.cured(load)
	b.stage(load, "pull")
	all, err := b.Reports(b.Context(), store.ReportFilter{Load: load})
	b.must(err)
	withdraw := func(r store.Report) error {
		_, err := b.Correct(b.Context(), store.Correction{Report: r.ID, Reason: "not so", Withdraw: true})
		return err
	}
	refuses(t, withdraw(all[len(all)-1]), store.ErrConflict, "withdraw that report first")
	refuses(t, withdraw(all[len(all)-2]), store.ErrConflict, "correct those reports first")
	for _, r := range all {
		if err := withdraw(r); err != nil {
			t.Fatalf("report %+v: %v", r, err)
		}
	}
	refuses(t, withdraw(all[0]), store.ErrConflict, "is withdrawn")
	b.balance(store.Balance{})
	b.must(b.Verify(b.Context()))
	b.must(b.Unrelease(b.Context(), 1))
}

// A cut task draws from the rolls when it is begun, and gives it back when it
// was not begun after all.
func TestReport_Draws(t *testing.T) {
	b := newBench(t)
	product, err := b.Thing(b.Context(), "product", "TWO")
	b.must(err)
	var p shop.Product
	b.must(strict.Read(product.Body, &p).Err())
	p.Sections[0].Flags[0] = shop.Flag{Prepreg: "prepreg", LengthMM: 1000, ButtMM: 500, TipMM: 500}
	_, err = b.PutThing(b.Context(), "product", "TWO", strict.Encode(p), 0)
	b.must(err)
	_, err = b.AddRoll(b.Context(), store.NewRoll{ID: "R1", Prepreg: "prepreg", M2: 40, Shelf: b.clock.Now().Add(90 * 24 * time.Hour)})
	b.must(err)
	left := func() float64 { r, err := b.Roll(b.Context(), "R1"); b.must(err); return r.Left }
	cut := b.tasks(b.released(), "TWO-A", "cut")[0]
	r, err := b.ReportBegun(b.Context(), cut.ID, time.Time{})
	b.must(err)
	if got := left(); got != 38 {
		t.Errorf("%g m2 are left", got)
	}
	_, err = b.Correct(b.Context(), store.Correction{Report: r.ID, Reason: "wrong flag", Withdraw: true})
	b.must(err)
	if got := left(); got != 40 {
		t.Errorf("%g m2 are left", got)
	}
	b.must(b.Verify(b.Context()))
}

// What can no longer happen is told with the snapshot, by the task's id.
func TestSnapshot_Troubles(t *testing.T) {
	b := newBench(t)
	load := b.released()
	for _, m := range exported(t, b.Books).Mandrels[:90] {
		scrapMandrel(b, m.ID)
	}
	snap, err := b.Snapshot(b.Context())
	b.must(err)
	if len(snap.Troubles) != 1 {
		t.Fatalf("the troubles are %+v", snap.Troubles)
	}
	trouble := snap.Troubles[0]
	if task := b.now(store.Task{ID: trouble.Task}); trouble.Kind != carry.KindMandrels || trouble.Load != load || task.Stage != "tack" {
		t.Errorf("the trouble is %+v, of task %+v", trouble, task)
	}
}
