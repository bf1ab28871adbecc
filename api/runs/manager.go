package runs

import (
	"context"
	"errors"
	"log/slog"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store"
	"blankwright/store/crib"
)

// The errors of Request.
var (
	ErrStopping = errors.New("the server is stopping and begins no plan")
	ErrBusy     = errors.New("too many plans are waiting to be made")
)

// Books are what a run needs of the shop's books.
type Books interface {
	// Stock takes stock of the books as they are now.
	Stock(ctx context.Context) (*Stock, error)
	// BeginPlan enters a plan that is being made, and returns its id.
	BeginPlan(ctx context.Context, why string) (int64, error)
	// KeepPlan keeps what was made, with the notices that it raises.
	KeepPlan(ctx context.Context, id int64, f store.Figures, files store.PlanFiles, raised []store.Raised) error
	// FailPlan says why a plan was not made.
	FailPlan(ctx context.Context, id int64, why string) error
	// EndPlans says of plans that a server before this one was making that they failed.
	EndPlans(ctx context.Context) error
	// LatestPlan returns the plan that was made last for the books as they were.
	LatestPlan(ctx context.Context) (store.Plan, error)
	// PlanFiles returns the files of a plan.
	PlanFiles(ctx context.Context, id int64) (store.PlanFiles, error)
}

// Stock is the shop as the books have it at one instant.
type Stock struct {
	Shop     *shop.Shop
	Promised map[string]shop.Date // by line
	Held     []HeldLine           // that are promised
	Due      []DueTool
	Troubles []Trouble
	OffLoads []crib.Need // what the shop's released tasks still count as out
}

// Planner is scheduler.Plan, or what a test puts in its place.
type Planner func(context.Context, *shop.Shop, scheduler.Options) (*scheduler.Result, error)

// Options say how runs plan.
type Options struct {
	Plan   Planner          // nil: scheduler.Plan
	Now    func() time.Time // nil: time.Now
	Seed   uint64           // 0: the planner's own
	Effort int              // iterations; 0: the planner's own for each shop
	Limit  time.Duration    // on the clock, for each run; 0: none
	Log    *slog.Logger     // nil: slog.Default
	// Waiting returns how many requests are to be answered before a plan goes on;
	// nil: a plan waits for none.
	Waiting func() int64
}

// An Ask says what a run is for.
type Ask struct {
	Why string // store.PlanByTick, PlanByRequest or PlanByQuote
	// Shop is planned instead of the books; nil but for a quote.
	Shop *shop.Shop
}

// A Manager makes plans in the background, one at a time.
type Manager struct {
	books   Books
	options Options
	views   *Views
	way     way
	turn    chan struct{} // holds a token while a plan is made
	running sync.WaitGroup
	halt    atomic.Bool // plans that are being made end with what they have

	asking   sync.Mutex // held while a run is entered in the books, which may take a while
	mu       sync.Mutex // of what follows
	stopping bool
	runs     map[int64]*Run // those that are not over, and the last of those that are
	order    []int64        // of runs, the oldest first
	joinable *Run           // the run for the books that is not over; nil where there is none
}

const (
	mostWaiting = 4  // runs that are not over, at most
	mostKept    = 64 // runs whose progress can still be looked at
)

// NewManager returns a manager of the books' plans.
func NewManager(books Books, o Options) *Manager {
	if o.Plan == nil {
		o.Plan = scheduler.Plan
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Log == nil {
		o.Log = slog.Default()
	}
	return &Manager{
		books: books, options: o, views: NewViews(books), way: way{waiting: o.Waiting},
		turn: make(chan struct{}, 1), runs: map[int64]*Run{},
	}
}

// Begin takes over from the server before, which may have ended in the midst of a
// plan. It comes before the first request.
func (m *Manager) Begin(ctx context.Context) error { return m.books.EndPlans(ctx) }

// Views returns the plans that the books have, read.
func (m *Manager) Views() *Views { return m.views }

// Request begins a plan of the books, or joins the run that makes one already. A
// quote has a run of its own, which waits for its turn. The run goes on when ctx
// ends; of ctx it keeps who asked.
func (m *Manager) Request(ctx context.Context, ask Ask) (run *Run, joined bool, err error) {
	m.asking.Lock()
	defer m.asking.Unlock()
	if run, err := m.joins(ask); run != nil || err != nil {
		return run, run != nil, err
	}
	id, err := m.books.BeginPlan(ctx, ask.Why)
	if err != nil {
		return nil, false, err
	}
	run = newRun(id, ask.Why)
	m.remember(run, ask.Shop == nil)
	m.running.Add(1)
	go m.carry(context.WithoutCancel(ctx), run, ask)
	return run, false, nil
}

// joins returns the run that an asker joins, nil where there is none, or why nobody
// may ask now.
func (m *Manager) joins(ask Ask) (*Run, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	switch {
	case m.stopping:
		return nil, ErrStopping
	case ask.Shop == nil && m.joinable != nil:
		return m.joinable, nil
	case m.going() >= mostWaiting:
		return nil, ErrBusy
	}
	return nil, nil
}

// Run returns a run of this server's time by its id: one that goes on, or one of
// the last that ended.
func (m *Manager) Run(id int64) (*Run, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	run, ok := m.runs[id]
	return run, ok
}

// Current returns the run that makes a plan of the books; nil where there is none.
func (m *Manager) Current() *Run {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.joinable
}

// Stop begins no more runs, has those that go on end with the best plan that they
// have, and returns when these are kept, or with ctx's error.
func (m *Manager) Stop(ctx context.Context) error {
	m.close()
	m.halt.Store(true)
	return await(ctx, m.running.Wait)
}

// await returns when a wait is over, or with ctx's error.
func await(ctx context.Context, wait func()) error {
	ended := make(chan struct{})
	go func() {
		wait()
		close(ended)
	}()
	select {
	case <-ended:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// close has nobody begin a run any more: who is about to has begun it.
func (m *Manager) close() {
	m.asking.Lock()
	defer m.asking.Unlock()
	m.mu.Lock()
	defer m.mu.Unlock()
	m.stopping = true
}

// going counts the runs that are not over.
func (m *Manager) going() int {
	count := 0
	for _, run := range m.runs {
		if !run.Progress().Over() {
			count++
		}
	}
	return count
}

// remember keeps a run, and forgets the oldest that is over where there are many.
func (m *Manager) remember(run *Run, joinable bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if joinable {
		m.joinable = run
	}
	m.runs[run.ID] = run
	m.order = append(m.order, run.ID)
	if len(m.order) > mostKept && m.runs[m.order[0]].Progress().Over() {
		delete(m.runs, m.order[0])
		m.order = m.order[1:]
	}
}

// stop returns the hook by which a run's search is ended: when somebody asks for it,
// at its limit, or when the server stops. It is polled all the time, and lets requests
// have the processor.
func (m *Manager) stop(run *Run) func() bool {
	var deadline time.Time
	if m.options.Limit > 0 {
		deadline = m.options.Now().Add(m.options.Limit)
	}
	return func() bool {
		runtime.Gosched()
		return m.halt.Load() || run.halt.Load() || !deadline.IsZero() && !m.options.Now().Before(deadline)
	}
}

// planned is what a run has made, before it is kept.
type planned struct {
	stock  *Stock
	shop   *shop.Shop
	plan   *plan.Plan
	report Report
	store.Figures
}
