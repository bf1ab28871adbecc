package store_test

import (
	"slices"
	"testing"

	"blankwright/store"
)

// A piece that a correction brings to a stage whose tasks are all done is told as
// a trouble, until it is counted there.
func TestSnapshot_Waiting(t *testing.T) {
	b := newBench(t)
	load := b.released()
	b.cured(load)
	b.stage(load, "pull")
	strip := b.tasks(load, "TWO-A", "strip")[0]
	stripped := b.do(b.now(strip), store.Scrap{Reason: "wrinkle", Pieces: 1})
	b.stage(load, "strip")
	b.stage(load, "trim")
	if waits := waiting(b); len(waits) > 0 {
		t.Fatalf("waiting are %+v", waits)
	}
	_, err := b.Correct(b.Context(), store.Correction{Report: stripped.ID, Good: stripped.Good + 1, Reason: "it was only dirty"})
	b.must(err)
	b.must(b.Verify(b.Context()))
	waits := waiting(b)
	if len(waits) != 1 || waits[0].Load != load || b.now(store.Task{ID: waits[0].Task}).Stage != "trim" {
		t.Fatalf("waiting are %+v", waits)
	}
	reports, err := b.Reports(b.Context(), store.ReportFilter{Task: waits[0].Task})
	b.must(err)
	_, err = b.Correct(b.Context(), store.Correction{Report: reports[0].ID, Good: reports[0].Good + 1, Reason: "trimmed as well"})
	b.must(err)
	if waits := waiting(b); len(waits) > 0 {
		t.Errorf("waiting are still %+v", waits)
	}
	b.must(b.Verify(b.Context()))
}

func waiting(b *bench) []store.Trouble {
	b.Helper()
	snapshot, err := b.Snapshot(b.Context())
	b.must(err)
	return slices.DeleteFunc(snapshot.Troubles, func(t store.Trouble) bool { return t.Kind != store.TroubleWaiting })
}
