package check_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"hash/fnv"
	"math/rand/v2"
	"testing"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
)

// A mutator changes a shop or a plan at random. It is told apart by name, so a
// renamed or changed one needs new verdicts.
type mutator struct {
	name string
	do   func(m *mutation) bool // false where the base has nothing to change so
}

// A mutation is a base under change by one mutator with one seed.
type mutation struct {
	*rand.Rand
	shop *shop.Shop
	plan *plan.Plan
	edit func(file map[string]any) // changes the plan's file, when all else is done
}

// A mutant is what a mutation left.
type mutant struct {
	base, mutator string
	seed          uint64
	shop, plan    []byte
	read          *shop.Shop // what shop says
}

// mutants returns what every mutator makes of a base, each mutant once. Shops
// that shop.Read refuses are left out: there is nothing to check then.
func mutants(t testing.TB, b base, seeds uint64) []mutant {
	t.Helper()
	var all []mutant
	own, ownPlan := b.parse(t)
	seen := map[string]bool{}
	for _, mutator := range mutators() {
		for seed := range seeds {
			m, ok := mutate(t, b, mutator, seed, copied(own), copied(ownPlan))
			if !ok || seen[m.digest()] {
				continue
			}
			seen[m.digest()] = true
			if m.read = own; !bytes.Equal(m.shop, b.shop) {
				m.read, _ = shop.Read(m.shop)
			}
			if m.read != nil {
				all = append(all, m)
			}
		}
	}
	return all
}

// mutate has a mutator change a base's shop and plan, which are its own to change.
func mutate(t testing.TB, b base, mutator mutator, seed uint64, s *shop.Shop, p *plan.Plan) (mutant, bool) {
	t.Helper()
	name := fnv.New64a()
	name.Write([]byte(b.name + "/" + mutator.name))
	m := &mutation{Rand: rand.New(rand.NewPCG(seed, name.Sum64())), shop: s, plan: p}
	if !mutator.do(m) {
		return mutant{}, false
	}
	file := p.Encode()
	if m.edit != nil {
		file = edited(t, file, m.edit)
	}
	return mutant{base: b.name, mutator: mutator.name, seed: seed, shop: s.Encode(), plan: file}, true
}

func edited(t testing.TB, file []byte, edit func(map[string]any)) []byte {
	t.Helper()
	var fields map[string]any
	if err := json.Unmarshal(file, &fields); err != nil {
		t.Fatal(err)
	}
	edit(fields)
	file, err := json.Marshal(fields)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// digest tells mutants apart, and whether one is still what was judged.
func (m mutant) digest() string {
	sum := sha256.New()
	sum.Write(m.shop)
	sum.Write(m.plan)
	return hex.EncodeToString(sum.Sum(nil)[:6])
}

// judge returns what the reader or the checker finds.
func (m mutant) judge() *check.Report {
	p, err := plan.Read(m.plan, m.read)
	if err != nil {
		return &check.Report{Breaches: []check.Breach{{Rule: check.RuleFile, Message: err.Error()}}}
	}
	return check.Plan(m.read, p)
}

// pick returns one of a list's items; nil of an empty list.
func pick[T any](m *mutation, list []T) *T {
	if len(list) == 0 {
		return nil
	}
	return &list[m.IntN(len(list))]
}

// pickWhere returns one of the items that fit; nil where none does.
func pickWhere[T any](m *mutation, list []T, fits func(*T) bool) *T {
	var fitting []int
	for i := range list {
		if fits(&list[i]) {
			fitting = append(fitting, i)
		}
	}
	if len(fitting) == 0 {
		return nil
	}
	return &list[fitting[m.IntN(len(fitting))]]
}

// released reports whether a load is released.
func (m *mutation) released(load string) bool {
	if m.shop.Released == nil {
		return false
	}
	for _, l := range m.shop.Released.Loads {
		if l.ID == load {
			return true
		}
	}
	return false
}

// load returns one of the plan's own loads; nil where it has none.
func (m *mutation) load() *shop.Load {
	return pickWhere(m, m.plan.Loads, func(l *shop.Load) bool { return !m.released(l.ID) })
}

// task returns one of the plan's own tasks at some stages, or at any.
func (m *mutation) task(stages ...shop.Stage) *shop.Task {
	return pickWhere(m, m.plan.Tasks, func(t *shop.Task) bool { return !m.released(t.Load) && atStage(t, stages) })
}

// heldTask returns one of the plan's released tasks.
func (m *mutation) heldTask() *shop.Task {
	return pickWhere(m, m.plan.Tasks, func(t *shop.Task) bool { return m.released(t.Load) })
}

// heldLoad returns one of the plan's released loads.
func (m *mutation) heldLoad() *shop.Load {
	return pickWhere(m, m.plan.Loads, func(l *shop.Load) bool { return m.released(l.ID) })
}

func atStage(t *shop.Task, stages []shop.Stage) bool {
	for _, s := range stages {
		if t.Stage == s {
			return true
		}
	}
	return len(stages) == 0
}

// section returns one of the shop's sections that hang in a load.
func (m *mutation) section() *shop.Section {
	hung := map[string]bool{}
	for _, l := range m.plan.Loads {
		for _, r := range l.Racks {
			for _, level := range r.Levels {
				for _, h := range level {
					hung[h.Section] = true
				}
			}
		}
	}
	product := pickWhere(m, m.shop.Products, func(p *shop.Product) bool { return hung[p.Sections[0].ID] })
	if product == nil {
		return nil
	}
	return pick(m, product.Sections)
}

// minutes returns a number of minutes, seldom many, that is not 0.
func (m *mutation) minutes() int64 {
	n := int64(1 + m.IntN([]int{1, 3, 30, 300, 3000}[m.IntN(5)]))
	if m.coin() {
		return -n
	}
	return n
}

func (m *mutation) coin() bool { return m.IntN(2) == 0 }

// share returns a factor between two.
func (m *mutation) share(low, high float64) float64 { return low + (high-low)*m.Float64() }
