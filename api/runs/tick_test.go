package runs_test

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"blankwright/api/runs"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// tickBooks are books in memory, for the tick. What happens is written down.
type tickBooks struct {
	*books
	settings store.TickSettings
	days     runs.Days
	empty    bool
	wet      error // of Release
	marks    map[time.Time]*store.Tick
	told     []string
}

func newTickBooks(days runs.Days) *tickBooks {
	return &tickBooks{
		books: newBooks(small()), days: days, marks: map[time.Time]*store.Tick{},
		settings: store.TickSettings{On: true, At: 15 * 60, Begun: true},
	}
}

func (b *tickBooks) TickSettings(context.Context) (store.TickSettings, error) { return b.settings, nil }

func (b *tickBooks) BeginTicks(context.Context) error {
	b.settings.Begun = true
	b.settings.Since = time.Date(2027, 3, 1, 15, 0, 0, 0, time.UTC)
	return nil
}

func (b *tickBooks) Days(context.Context) (runs.Days, error) {
	if b.empty {
		return runs.Days{}, store.ErrNotFound
	}
	return b.days, nil
}

func (b *tickBooks) BeginTick(_ context.Context, due time.Time) (bool, error) {
	for other, mark := range b.marks {
		if other.After(due) || other.Equal(due) && mark.State != store.TickRunning {
			return false, nil
		}
	}
	b.marks[due] = &store.Tick{Due: due, State: store.TickRunning}
	return true, nil
}

func (b *tickBooks) EndTick(_ context.Context, due time.Time, plan int64, failure string) error {
	b.marks[due].State = store.TickDone
	b.told = append(b.told, fmt.Sprintf("%s plan %d %s", due.Format("2 Jan 15:04"), plan, failure))
	return nil
}

func (b *tickBooks) Release(_ context.Context, plan int64, until time.Time) error {
	b.told = append(b.told, fmt.Sprintf("release %d until %s", plan, until.Format("2 Jan 15:04")))
	return b.wet
}

// A hand is a clock that a test sets.
type hand struct {
	mu sync.Mutex
	at time.Time
}

func (h *hand) now() time.Time {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.at
}

func (h *hand) set(at time.Time) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.at = at
}

var quiet = slog.New(slog.DiscardHandler)

// A tick plans once when it is due, however often it looks; one that was missed is
// made up for once; one that fails leaves the next as it is.
func TestTick_Look(t *testing.T) {
	b, clock := newTickBooks(runs.Days{Calendar: weekdays(), Zone: time.UTC}), &hand{}
	b.settings.Since = instant(t, "2027-03-01T09:00:00Z")
	tick := runs.NewTick(b, manager(b, runs.Options{Plan: quick, Now: clock.now}), clock.now, quiet)
	steps := []struct {
		at    string
		wet   error
		times int
		want  []string
	}{
		{"2027-03-01T09:00:00Z", nil, 2, nil}, // Monday; Friday's was due before the books began
		{"2027-03-01T14:59:00Z", nil, 1, nil},
		{"2027-03-01T15:00:00Z", nil, 3, []string{"1 Mar 15:00 plan 1 "}},
		{"2027-03-02T15:04:00Z", errTest, 2, []string{"2 Mar 15:00 plan 2 taking stock: the books are wet"}},
		{"2027-03-03T15:00:00Z", nil, 1, []string{"3 Mar 15:00 plan 3 "}},
		{"2027-03-10T08:00:00Z", nil, 2, []string{"9 Mar 15:00 plan 4 "}}, // a week later
		{"2027-03-09T15:01:00Z", nil, 2, nil},                             // a clock that was put back
	}
	for _, step := range steps {
		clock.set(instant(t, step.at))
		b.told, b.trouble = nil, step.wet
		for range step.times {
			if err := tick.Look(context.Background()); err != nil {
				t.Fatal(err)
			}
		}
		if diff := cmp.Diff(step.want, b.told); diff != "" {
			t.Errorf("at %s (-want +got):\n%s", step.at, diff)
		}
	}
}

// The tick's plan is released where that is set; where it cannot be, the plan is
// there all the same, and the tick says so.
func TestTick_Releases(t *testing.T) {
	b, clock := newTickBooks(runs.Days{Calendar: weekdays(), Zone: time.UTC}), &hand{}
	b.settings.ReleaseDays = 1
	tick := runs.NewTick(b, manager(b, runs.Options{Plan: quick, Now: clock.now}), clock.now, quiet)
	for _, step := range []struct {
		at   string
		wet  error
		want []string
	}{
		{"2027-03-04T15:00:00Z", nil, []string{"release 1 until 6 Mar 00:00", "4 Mar 15:00 plan 1 "}},
		{"2027-03-05T15:00:00Z", errTest, []string{
			"release 2 until 9 Mar 00:00", "5 Mar 15:00 plan 2 the plan is there, but was not released: the books are wet",
		}},
	} {
		clock.set(instant(t, step.at))
		b.told, b.wet = nil, step.wet
		if err := tick.Look(context.Background()); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(step.want, b.told); diff != "" {
			t.Errorf("at %s (-want +got):\n%s", step.at, diff)
		}
	}
}

// A tick that is off, or has no calendar yet, does nothing.
func TestTick_Nothing(t *testing.T) {
	clock := &hand{at: instant(t, "2027-03-01T15:00:00Z")}
	for name, change := range map[string]func(*tickBooks){
		"off":            func(b *tickBooks) { b.settings.On = false },
		"first look":     func(b *tickBooks) { b.settings.Begun = false },
		"empty books":    func(b *tickBooks) { b.empty = true },
		"no working day": func(b *tickBooks) { b.days.Calendar = weekdays(); b.days.Calendar.Weekly = shop.Weekly{} },
	} {
		b := newTickBooks(runs.Days{Calendar: weekdays(), Zone: time.UTC})
		change(b)
		tick := runs.NewTick(b, manager(b, runs.Options{Plan: quick, Now: clock.now}), clock.now, quiet)
		for range 2 {
			if err := tick.Look(context.Background()); err != nil || len(b.marks) > 0 {
				t.Errorf("%s: %v, marked %v", name, err, b.marks)
			}
		}
	}
}

// A server that stops leaves a tick that it could not begin to the next start, and
// ends one that has begun with the plan that it has.
func TestTick_Stop(t *testing.T) {
	b, clock := newTickBooks(runs.Days{Calendar: weekdays(), Zone: time.UTC}), &hand{at: instant(t, "2027-03-01T15:00:00Z")}
	g := newGate()
	m := manager(b, runs.Options{Plan: g.plan, Now: clock.now})
	tick := runs.NewTick(b, m, clock.now, quiet)
	if err := tick.Start(context.Background()); err != nil {
		t.Fatal(err)
	}
	<-g.came
	late, cancel := context.WithCancel(context.Background())
	cancel()
	if err := m.Stop(late); !errors.Is(err, context.Canceled) {
		t.Errorf("stopping beside a plan: %v", err)
	}
	close(g.open)
	if err := errors.Join(m.Stop(context.Background()), tick.Stop(context.Background())); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"1 Mar 15:00 plan 1 "}, b.told); diff != "" {
		t.Errorf("told (-want +got):\n%s", diff)
	}
	clock.set(instant(t, "2027-03-02T15:00:00Z"))
	if err := tick.Look(context.Background()); err != nil {
		t.Fatal(err)
	}
	again := runs.NewTick(b, manager(b, runs.Options{Plan: quick, Now: clock.now}), clock.now, quiet)
	if err := again.Look(context.Background()); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"1 Mar 15:00 plan 1 ", "2 Mar 15:00 plan 2 "}, b.told); diff != "" {
		t.Errorf("told (-want +got):\n%s", diff)
	}
}
