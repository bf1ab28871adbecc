package store_test

import (
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"blankwright/scheduler/strict"
	"blankwright/scheduler/thorough"
	"blankwright/store"
)

// Whatever is reported and corrected of a load, in whatever order: what the
// books accept leaves them in balance, and in the end the load can be finished.
func TestReport_Any(t *testing.T) {
	t.Parallel()
	for seed := range thorough.Of[uint64](1, 3) {
		b := newBench(t)
		a := meddler{bench: b, dice: rand.New(rand.NewPCG(seed, 1)), load: b.released()}
		for range 80 {
			a.step()
		}
		b.must(b.Verify(b.Context()))
		a.finish()
		b.must(b.Verify(b.Context()))
		got, err := b.Balance(b.Context())
		b.must(err)
		if got.InWork != 0 || got.Started == 0 {
			t.Errorf("seed %d: %+v when all is finished", seed, got)
		}
	}
}

type meddler struct {
	*bench
	dice *rand.Rand
	load string
}

// step reports something, or corrects it, if the books have it so.
func (a *meddler) step() {
	a.clock.Advance(time.Minute)
	l, err := a.FloorLoad(a.Context(), a.load)
	a.must(err)
	switch a.dice.IntN(12) {
	case 0:
		a.accepts(a.correct())
	case 1:
		_, err = a.ReportIn(a.Context(), a.load, time.Time{})
		a.accepts(err)
	case 2:
		_, err = a.ReportOut(a.Context(), a.load, time.Time{})
		a.accepts(err)
	default:
		for range 4 {
			a.task(l.Tasks[a.dice.IntN(len(l.Tasks))])
		}
	}
}

// accepts fails but for what the books may say.
func (a *meddler) accepts(err error) {
	a.Helper()
	var wrong strict.Problems
	if err != nil && !errors.Is(err, store.ErrConflict) && !errors.As(err, &wrong) {
		a.Fatal(err)
	}
}

func (a *meddler) task(t store.Task) {
	a.Helper()
	switch {
	case t.State == store.TaskWaiting && t.Pieces > 0:
		_, err := a.ReportBegun(a.Context(), t.ID, time.Time{})
		a.accepts(err)
	case t.State == store.TaskBegun:
		r := store.TaskReport{Task: t.ID, Good: t.Live, Dead: t.Pieces - t.Live}
		if t.Live > 0 && a.dice.IntN(4) == 0 {
			r.Good, r.Scrap = t.Live-1, []store.Scrap{{Reason: "bow", Pieces: 1}}
		}
		_, err := a.ReportDone(a.Context(), r)
		a.accepts(err)
	}
}

func (a *meddler) correct() error {
	all, err := a.Reports(a.Context(), store.ReportFilter{})
	a.must(err)
	if len(all) == 0 {
		return nil
	}
	r := all[a.dice.IntN(min(len(all), 12))]
	c := store.Correction{Report: r.ID, Reason: "not so", Withdraw: a.dice.IntN(2) == 0, Good: r.Good, Dead: r.Dead, Scrap: r.Scrap}
	if a.dice.IntN(2) == 0 && r.Good > 0 {
		c.Good, c.Scrap = r.Good-1, []store.Scrap{{Reason: "void", Pieces: 1}}
	}
	_, err = a.Correct(a.Context(), c)
	return err
}

// finish does whatever is left, for as long as that leads on.
func (a *meddler) finish() {
	a.Helper()
	for range 60 {
		a.clock.Advance(time.Minute)
		l, err := a.FloorLoad(a.Context(), a.load)
		a.must(err)
		if !l.Finished.IsZero() {
			return
		}
		for _, t := range l.Tasks {
			a.task(t)
		}
		if _, err = a.ReportIn(a.Context(), a.load, time.Time{}); err == nil {
			_, err = a.ReportOut(a.Context(), a.load, time.Time{})
		} else if l.WentIn && !l.CameOut {
			_, err = a.ReportOut(a.Context(), a.load, time.Time{})
		}
		a.accepts(err)
	}
	l, err := a.FloorLoad(a.Context(), a.load)
	a.must(err)
	for _, t := range l.Tasks {
		if t.State != store.TaskDone && t.Pieces > 0 {
			_, begun := a.ReportBegun(a.Context(), t.ID, time.Time{})
			_, done := a.ReportDone(a.Context(), store.TaskReport{Task: t.ID, Good: t.Live, Dead: t.Pieces - t.Live})
			a.Errorf("left is %+v\n%v\n%v", t, begun, done)
		}
	}
	a.Fatal("the load cannot be finished")
}
