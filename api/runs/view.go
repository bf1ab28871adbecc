package runs

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	"blankwright/store"
)

// A View is a plan of the books, read: nothing of it may be changed, for all who
// look at the plan share it.
type View struct {
	ID        int64
	Shop      *shop.Shop
	Plan      *plan.Plan
	Report    Report
	Shippings []Shipping // in the shop's order
	byLine    map[string]*Shipping
	// Needs and Rolls are reckoned when somebody first asks for them.
	Needs func() []Need
	Rolls func() []Roll
}

// Shipping returns when a line ships; nil where the plan does not know the line.
func (v *View) Shipping(line string) *Shipping { return v.byLine[line] }

// PlanBooks are what views need of the books.
type PlanBooks interface {
	LatestPlan(ctx context.Context) (store.Plan, error)
	PlanFiles(ctx context.Context, id int64) (store.PlanFiles, error)
}

// Views reads plans, and keeps the last of them that were looked at: a plan never
// changes once it is made, and reading one takes longer than most requests may.
type Views struct {
	books PlanBooks
	mu    sync.Mutex
	kept  []*reading // the one that was looked at last is the last
}

// A reading is one plan that is being read, or was.
type reading struct {
	id   int64
	done chan struct{}
	view *View
	err  error
}

const mostViews = 8

// NewViews returns the plans of some books.
func NewViews(books PlanBooks) *Views { return &Views{books: books} }

// Latest returns the plan that was made last for the books; store.ErrNotFound where
// there is none.
func (v *Views) Latest(ctx context.Context) (*View, error) {
	latest, err := v.books.LatestPlan(ctx)
	if err != nil {
		return nil, err
	}
	return v.Plan(ctx, latest.ID)
}

// Plan returns a plan by its id; store.ErrNotFound where it is none that was made.
func (v *Views) Plan(ctx context.Context, id int64) (*View, error) {
	r, mine := v.find(id)
	if mine {
		r.view, r.err = v.read(context.WithoutCancel(ctx), id)
		if r.err != nil {
			v.forget(r)
		}
		close(r.done)
	}
	select {
	case <-r.done:
		return r.view, r.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// find returns the reading of a plan, and whether the caller is to do it.
func (v *Views) find(id int64) (r *reading, mine bool) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if at := slices.IndexFunc(v.kept, func(r *reading) bool { return r.id == id }); at >= 0 {
		r = v.kept[at]
		v.kept = append(slices.Delete(v.kept, at, at+1), r)
		return r, false
	}
	r = &reading{id: id, done: make(chan struct{})}
	v.kept = append(v.kept, r)
	if len(v.kept) > mostViews {
		v.kept = slices.Delete(v.kept, 0, 1)
	}
	return r, true
}

func (v *Views) forget(r *reading) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.kept = slices.DeleteFunc(v.kept, func(k *reading) bool { return k == r })
}

func (v *Views) read(ctx context.Context, id int64) (*View, error) {
	files, err := v.books.PlanFiles(ctx, id)
	if err != nil {
		return nil, err
	}
	view := &View{ID: id}
	if view.Shop, err = shop.Read(files.Shop); err != nil {
		return nil, fmt.Errorf("reading the shop of plan %d: %w", id, err)
	}
	if view.Plan, err = plan.Read(files.Plan, view.Shop); err != nil {
		return nil, fmt.Errorf("reading plan %d: %w", id, err)
	}
	if view.Report, err = readReport(files.Report); err != nil {
		return nil, fmt.Errorf("plan %d: %w", id, err)
	}
	view.Shippings, view.byLine = Shippings(view.Shop, view.Plan), map[string]*Shipping{}
	for i := range view.Shippings {
		view.byLine[view.Shippings[i].Line.ID] = &view.Shippings[i]
	}
	view.Needs = sync.OnceValue(func() []Need { return Needs(view.Shop, view.Plan) })
	view.Rolls = sync.OnceValue(func() []Roll { return Rolls(view.Shop, view.Plan) })
	return view, nil
}
