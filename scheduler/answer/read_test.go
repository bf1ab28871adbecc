package answer_test

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"blankwright/scheduler/answer"
	"blankwright/scheduler/check"
	"blankwright/scheduler/construct"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/line"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/search"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// searched returns the answer of a short search.
func searched(s *shop.Shop, seed uint64) *answer.Answer {
	in := instance.New(s)
	a, _ := search.Improve([]*answer.Answer{construct.Build(in, construct.Rules[0], nil)}, search.Options{Seed: seed, Effort: 80})
	return a
}

// someShops returns random shops of all sorts, some of them busy, every other
// one with released work.
func someShops(n uint64) (shops []*shop.Shop) {
	for seed := range n {
		s := shoptest.Make(seed, shoptest.Size{Products: 1 + int(seed%12), Impossible: float64(seed%3) * 0.1})
		if seed%5 < 2 {
			s = shoptest.Grow(150, seed)
		}
		s = shoptest.Accepted(s)
		if seed%2 == 1 {
			p := searched(s, seed).Plan()
			s = shoptest.Accepted(shoptest.Advance(s, p, shop.InstantIn(s.Now.Minute+1440+97*int64(seed), s.Zone())))
		}
		shops = append(shops, s)
	}
	return shops
}

// inOrder lists tasks in one order whatever that of a plan.
func inOrder(tasks []shop.Task) []shop.Task {
	tasks = slices.Clone(tasks)
	slices.SortFunc(tasks, func(a, b shop.Task) int {
		return cmp.Or(cmp.Compare(a.Stage, b.Stage), cmp.Compare(a.Position, b.Position), cmp.Compare(a.Start.Minute, b.Start.Minute))
	})
	return tasks
}

// A plan that is read is the answer that wrote it: loads, tasks, sets and cost.
func TestRead_WritesTheSame(t *testing.T) {
	loads := 0
	for seed, s := range someShops(40) {
		want := searched(s, uint64(seed)).Plan()
		got := answer.Read(instance.New(s), want).Plan()
		want.Tasks, got.Tasks = inOrder(want.Tasks), inOrder(got.Tasks)
		if diff := gocmp.Diff(want, got); diff != "" {
			t.Fatalf("shop %d (-written +read and written):\n%s", seed, diff)
		}
		loads += len(want.Loads)
	}
	if loads < 120 {
		t.Errorf("only %d loads: these shops try little", loads)
	}
}

// What is read can be changed as what was placed: loads that leave it upset few
// others and can be undone, and every change that is kept leaves a valid plan.
func TestRead_CanBeChanged(t *testing.T) {
	upset, kept := 0, 0
	for seed, s := range someShops(30) {
		a := answer.Read(instance.New(s), searched(s, uint64(seed)).Plan())
		for _, l := range slices.Clone(a.Loads) {
			if !l.Placed() {
				continue
			}
			mark := a.Table.Mark()
			upset += len(a.Table.Remove(l))
			a.Table.Undo(mark)
			before := a.Plan().Encode()
			if !a.Try(answer.Change{Out: []*line.Load{l}, In: []*line.Load{l.Again()}}) {
				continue
			}
			if l.ID%2 == 0 {
				a.Undo()
				if string(a.Plan().Encode()) != string(before) {
					t.Fatalf("shop %d: load %d is placed anew and undone, and the plan is another", seed, l.ID)
				}
				continue
			}
			a.Keep()
			kept++
		}
		expectValid(t, s, a.Plan())
	}
	if kept < 50 || upset > kept/4 {
		t.Errorf("%d loads were placed anew, and %d upset by those that left", kept, upset)
	}
}

func expectValid(t *testing.T, s *shop.Shop, p *plan.Plan) {
	t.Helper()
	for _, b := range check.Plan(s, p).Breaches {
		if b.Rule != check.RuleBound {
			t.Fatalf("%s: %s", s.Name, b)
		}
	}
}

// Plans made by hand, in batches that we would not make, are read as well, and
// the search goes on from them.
func TestRead_PlansOfOthers(t *testing.T) {
	for _, c := range []struct{ folder, shop, plan string }{
		{"../../testdata/mutations/tern", "shop.json", "plan.json"},
		{"../../cmd/blankwright/testdata", "yard.json", "yard.plan.json"},
	} {
		s, p := files(t, filepath.Join(c.folder, c.shop), filepath.Join(c.folder, c.plan))
		a := answer.Read(instance.New(s), p)
		read := a.Plan()
		expectValid(t, s, read)
		if len(read.Loads) != len(p.Loads) || gocmp.Diff(inOrder(p.Tasks), inOrder(read.Tasks), unnamed) != "" {
			t.Errorf("%s: other loads or tasks than in the file", c.folder)
		}
		before := a.Cost().Total()
		better, _ := search.Improve([]*answer.Answer{a}, search.Options{Seed: 1, Effort: 200})
		expectValid(t, s, better.Plan())
		if better.Cost().Total() > before {
			t.Errorf("%s: it costs more for the search", c.folder)
		}
	}
}

// unnamed leaves out the names of loads, which are given anew.
var unnamed = gocmp.FilterPath(func(p gocmp.Path) bool { return p.Last().String() == ".Load" }, gocmp.Ignore())

func files(t *testing.T, shopFile, planFile string) (*shop.Shop, *plan.Plan) {
	t.Helper()
	text, err := os.ReadFile(shopFile)
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	if text, err = os.ReadFile(planFile); err != nil {
		t.Fatal(err)
	}
	p, err := plan.Read(text, s)
	if err != nil {
		t.Fatal(err)
	}
	return s, p
}
