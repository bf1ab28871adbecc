package runs_test

import (
	"context"
	"errors"
	"log/slog"
	"slices"
	"sync"
	"testing"
	"time"

	"blankwright/api/runs"
	"blankwright/scheduler"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
	"blankwright/store"
)

// books are books in memory, for runs.
type books struct {
	mu      sync.Mutex
	shop    *shop.Shop
	trouble error // of taking stock
	stock   runs.Stock
	plans   []store.Plan
	files   map[int64]store.PlanFiles
	raised  map[int64][]store.Raised
}

func newBooks(s *shop.Shop) *books {
	return &books{shop: s, files: map[int64]store.PlanFiles{}, raised: map[int64][]store.Raised{}}
}

func (b *books) Stock(context.Context) (*runs.Stock, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	stock := b.stock
	stock.Shop = b.shop
	return &stock, b.trouble
}

func (b *books) BeginPlan(_ context.Context, why string) (int64, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	id := int64(len(b.plans) + 1)
	b.plans = append(b.plans, store.Plan{ID: id, Why: why, State: store.PlanRunning})
	return id, nil
}

func (b *books) KeepPlan(_ context.Context, id int64, f store.Figures, files store.PlanFiles, raised []store.Raised) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	p := &b.plans[id-1]
	p.State, p.Figures = store.PlanProposal, f
	b.files[id], b.raised[id] = files, raised
	return nil
}

func (b *books) FailPlan(_ context.Context, id int64, why string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.plans[id-1].State, b.plans[id-1].Failure = store.PlanFailed, why
	return nil
}

func (b *books) EndPlans(ctx context.Context) error {
	for _, p := range b.plans {
		if p.State == store.PlanRunning {
			if err := b.FailPlan(ctx, p.ID, "ended"); err != nil {
				return err
			}
		}
	}
	return nil
}

func (b *books) LatestPlan(context.Context) (store.Plan, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, p := range slices.Backward(b.plans) {
		if p.State == store.PlanProposal && p.Why != store.PlanByQuote {
			return p, nil
		}
	}
	return store.Plan{}, store.ErrNotFound
}

func (b *books) PlanFiles(_ context.Context, id int64) (store.PlanFiles, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	files, ok := b.files[id]
	if !ok {
		return files, store.ErrNotFound
	}
	return files, nil
}

func (b *books) plan(id int64) store.Plan {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.plans[id-1]
}

// small is a shop with two lines that is planned in no time.
func small() *shop.Shop {
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 3, 5, 1)
	shoptest.AddLine(s, "P", 2, 9, 1)
	return shoptest.Accepted(s)
}

// late is a shop of which a line is due before anything can be done.
func late() *shop.Shop {
	s := shoptest.Bare()
	s.Policy.LateCost = 1
	shoptest.AddLine(s, "P", 3, -5, 1)
	return shoptest.Accepted(s)
}

// A madeShop is a random shop with a plan of it.
type madeShop struct {
	shop *shop.Shop
	*scheduler.Result
}

// madeShops returns some random shops with their plans, by seed.
func madeShops(t *testing.T) []madeShop {
	t.Helper()
	list, err := allMade()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

var allMade = sync.OnceValues(func() ([]madeShop, error) {
	var list []madeShop
	for seed := range uint64(30) {
		s := shoptest.Make(seed, shoptest.Size{Pieces: 30})
		r, err := scheduler.Plan(context.Background(), s, scheduler.Options{Effort: 50})
		if err != nil {
			return nil, err
		}
		list = append(list, madeShop{s, r})
	}
	return list, nil
})

// manager returns a manager that tells nothing to any log.
func manager(b runs.Books, o runs.Options) *runs.Manager {
	o.Log = slog.New(slog.DiscardHandler)
	return runs.NewManager(b, o)
}

// quick is the planner, whatever effort is asked for.
func quick(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
	o.Effort = 50
	return scheduler.Plan(ctx, s, o)
}

// A gate is a planner that waits to be let through, and then plans.
type gate struct{ came, open chan struct{} }

func newGate() *gate { return &gate{came: make(chan struct{}), open: make(chan struct{})} }

func (g *gate) plan(ctx context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
	g.came <- struct{}{}
	<-g.open
	return quick(ctx, s, o)
}

func request(t *testing.T, m *runs.Manager, ask runs.Ask) (*runs.Run, bool) {
	t.Helper()
	run, joined, err := m.Request(context.Background(), ask)
	if err != nil {
		t.Fatal(err)
	}
	return run, joined
}

// finish waits for a run, and returns how it ended.
func finish(t *testing.T, run *runs.Run) runs.Progress {
	t.Helper()
	select {
	case <-run.Done():
	case <-time.After(time.Minute):
		t.Fatal("the run does not end")
	}
	return run.Progress()
}

var errTest = errors.New("the books are wet")
