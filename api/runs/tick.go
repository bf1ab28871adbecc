package runs

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"github.com/robfig/cron/v3"

	"blankwright/store"
)

// TickBooks are what the tick needs of the shop's books.
type TickBooks interface {
	TickSettings(ctx context.Context) (store.TickSettings, error)
	// BeginTicks has ticks be due from now on, unless they are already.
	BeginTicks(ctx context.Context) error
	// Days returns the shop's working days; store.ErrNotFound as long as the books
	// are empty.
	Days(ctx context.Context) (Days, error)
	// BeginTick marks a due time as begun, and returns false where it, or a later
	// one, was marked before: but for one that was begun and never ended, because the
	// server did, and has not been begun anew.
	BeginTick(ctx context.Context, due time.Time) (bool, error)
	// EndTick says what came of a tick: a plan, a failure, or both where the plan is
	// there and could not be released.
	EndTick(ctx context.Context, due time.Time, plan int64, failure string) error
	// Release freezes what of a plan begins before an instant.
	Release(ctx context.Context, plan int64, until time.Time) error
}

// Requester makes plans.
type Requester interface {
	Request(ctx context.Context, ask Ask) (run *Run, joined bool, err error)
}

// TickActor is who the trail names for what the tick does.
const TickActor = "tick"

// A Tick has the books planned once a working day. It looks each minute whether a
// tick is due that has not been: so a change of its time, of the calendar or of the
// clocks needs no care, and what was missed while the server was down is made up
// for, once.
type Tick struct {
	books TickBooks
	runs  Requester
	now   func() time.Time
	log   *slog.Logger
	cron  *cron.Cron
	first sync.WaitGroup // the look at the start, which cron knows nothing of
}

// NewTick returns a tick that does not yet look.
func NewTick(books TickBooks, runs Requester, now func() time.Time, log *slog.Logger) *Tick {
	return &Tick{books: books, runs: runs, now: now, log: log}
}

// Start looks at once, and then each minute until Stop. Looks never overlap: where
// one still waits for its plan, those that come meanwhile are left out. One that
// panics is told to the log, and the next one looks again.
func (t *Tick) Start(ctx context.Context) error {
	// UTC has no hour twice and skips none; the shop's own time is reckoned in Look.
	t.cron = cron.New(cron.WithLocation(time.UTC), cron.WithLogger(cronLog{t.log}))
	job := t.job(ctx)
	if _, err := t.cron.AddJob("* * * * *", job); err != nil {
		return fmt.Errorf("starting the tick: %w", err)
	}
	t.cron.Start()
	t.first.Go(job.Run)
	return nil
}

// Stop looks no more, and returns when the last look has ended, or with ctx's error.
// A look that waits for a plan ends when that does.
func (t *Tick) Stop(ctx context.Context) error {
	if t.cron == nil {
		return nil // it never started
	}
	return await(ctx, func() {
		<-t.cron.Stop().Done()
		t.first.Wait()
	})
}

// job is one look. SkipIfStillRunning is outside: a job that panics must still give
// its place back.
func (t *Tick) job(ctx context.Context) cron.Job {
	log := cronLog{t.log}
	return cron.NewChain(cron.SkipIfStillRunning(log), cron.Recover(log)).Then(cron.FuncJob(func() {
		if err := t.Look(ctx); err != nil {
			t.log.Error("tick", "error", err)
		}
	}))
}

// Look makes the tick that is due, if any has not been.
func (t *Tick) Look(ctx context.Context) error {
	settings, err := t.books.TickSettings(ctx)
	switch {
	case err != nil:
		return err
	case !settings.Begun:
		return t.books.BeginTicks(ctx)
	case !settings.On:
		return nil
	}
	days, err := t.books.Days(ctx)
	if errors.Is(err, store.ErrNotFound) {
		return nil // the books are empty yet
	} else if err != nil {
		return err
	}
	due, ok := days.LastDue(settings.At, t.now())
	if !ok || !due.After(settings.Since) {
		return nil
	}
	ctx = store.WithActor(ctx, TickActor)
	if begun, err := t.books.BeginTick(ctx, due); err != nil || !begun {
		return err
	}
	return t.make(ctx, due, settings, days)
}

// make plans, releases where that is set, and says what came of it.
func (t *Tick) make(ctx context.Context, due time.Time, settings store.TickSettings, days Days) error {
	t.log.Info("tick", "due", due)
	run, _, err := t.runs.Request(ctx, Ask{Why: store.PlanByTick})
	if errors.Is(err, ErrStopping) {
		return nil // the mark stands unended: the tick is made up for at the next start
	}
	if err != nil {
		return errors.Join(err, t.books.EndTick(ctx, due, 0, err.Error()))
	}
	<-run.Done()
	if p := run.Progress(); p.Stage == StageFailed {
		return t.books.EndTick(ctx, due, run.ID, p.Failure)
	}
	if settings.ReleaseDays > 0 {
		if err := t.books.Release(ctx, run.ID, days.EndOfWork(settings.ReleaseDays, due)); err != nil {
			return t.books.EndTick(ctx, due, run.ID, "the plan is there, but was not released: "+err.Error())
		}
	}
	return t.books.EndTick(ctx, due, run.ID, "")
}

// cronLog writes what cron tells to our log; its own news are of no interest.
type cronLog struct{ log *slog.Logger }

// Info does nothing.
func (cronLog) Info(string, ...any) {}

// Error writes an error.
func (l cronLog) Error(err error, msg string, more ...any) {
	l.log.Error("tick: "+msg, append([]any{"error", err}, more...)...)
}
