package check_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

var update = flag.Bool("update", false, "rewrite testdata/mutations: the plan of tern and the verdicts")

// mutationsDir holds the base plans, a directory each, and the verdicts.
const mutationsDir = "../../testdata/mutations"

// A base is a shop and a plan that is valid for it, as files.
type base struct {
	name       string
	shop, plan []byte
}

// readBase reads one base by its directory's name.
func readBase(t testing.TB, name string) base {
	t.Helper()
	b := base{name: name}
	for file, data := range map[string]*[]byte{"shop.json": &b.shop, "plan.json": &b.plan} {
		read, err := os.ReadFile(filepath.Join(mutationsDir, name, file))
		if err != nil {
			t.Fatal(err)
		}
		*data = read
	}
	return b
}

// bases reads every base.
func bases(t testing.TB) []base {
	t.Helper()
	entries, err := os.ReadDir(mutationsDir)
	if err != nil {
		t.Fatal(err)
	}
	var all []base
	for _, entry := range entries {
		if entry.IsDir() {
			all = append(all, readBase(t, entry.Name()))
		}
	}
	return all
}

// A tester is what a test and a property have in common.
type tester interface {
	Helper()
	Fatalf(format string, args ...any)
}

// parse returns fresh values of a base, free to change.
func (b base) parse(t tester) (*shop.Shop, *plan.Plan) {
	t.Helper()
	s, err := shop.Read(b.shop)
	if err != nil {
		t.Fatalf("%s: %v", b.name, err)
	}
	p, err := plan.Read(b.plan, s)
	if err != nil {
		t.Fatalf("%s: %v", b.name, err)
	}
	return s, p
}

// The files of tern are what tern_test.go lays.
func TestTern_FilesAreAsLaid(t *testing.T) {
	b := readBase(t, "tern")
	s, err := shop.Read(b.shop)
	if err != nil {
		t.Fatal(err)
	}
	p := tern(s)
	for file, want := range map[string][]byte{"shop.json": s.Encode(), "plan.json": p.Encode()} {
		path := filepath.Join(mutationsDir, "tern", file)
		if *update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not as laid (%v): run this test with -update", path, err)
		}
	}
}

// Every base plan is valid, or a mutation's breach would say nothing.
func TestPlan_BasesAreValid(t *testing.T) {
	for _, b := range bases(t) {
		s, p := b.parse(t)
		for _, breach := range check.Plan(s, p).Breaches {
			t.Errorf("%s: %s", b.name, breach)
		}
	}
}

// The report's cost and facts are those counted by hand beside the plan.
func TestPlan_CountsTern(t *testing.T) {
	s, p := readBase(t, "tern").parse(t)
	r := check.Plan(s, p)
	got := [...]int{r.Loads, r.Tasks, r.Pieces, r.LateSets, r.UnallocatedSets}
	// Late: three sets of D1, six of D4, and two of D7 that wait for D6.
	if want := [...]int{6, 80, 35, 11, 1}; got != want {
		t.Errorf("loads, tasks, pieces, late and unallocated sets are %v, want %v", got, want)
	}
	for _, term := range [][2]float64{{r.Cost.Late, 384}, {r.Cost.Hold, 2}, {r.Cost.Oven, 9*1 + 14*5 + (8.5*(165+204+165+204+167)+6*163)/60}, {r.Cost.Setup, 0.55 * 94}, {r.Cost.Total, 661.2083333333}} {
		if diff := term[0] - term[1]; diff > 1e-9 || diff < -1e-9 {
			t.Errorf("a cost term is %.9f, want %.9f", term[0], term[1])
		}
	}
}
