package shoptest_test

import (
	"bytes"
	"fmt"
	"testing"

	"blankwright/scheduler/check"
	"blankwright/scheduler/plan"
	"blankwright/scheduler/shop"
	. "blankwright/scheduler/shoptest"
	"blankwright/scheduler/thorough"
)

// seeds is how many shops of a kind the tests look at.
var seeds = thorough.Of[uint64](50, 150)

// made are the kinds of random shops, by name.
var made = map[string]func(seed uint64) *shop.Shop{
	"Make":            func(seed uint64) *shop.Shop { return Make(seed, Size{}) },
	"Make impossible": func(seed uint64) *shop.Shop { return Make(seed, Size{Impossible: 0.3}) },
	"Tiny":            Tiny,
}

// Every made shop is a valid file that reads back as it was written.
func TestMake_Valid(t *testing.T) {
	for kind, make := range made {
		for seed := range seeds {
			mustRead(t, fmt.Sprintf("%s %d", kind, seed), make(seed))
		}
	}
}

func mustRead(t *testing.T, what string, s *shop.Shop) {
	t.Helper()
	written := s.Encode()
	read, err := shop.Read(written)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if !bytes.Equal(read.Encode(), written) {
		t.Fatalf("%s does not read back as written", what)
	}
}

// The same arguments make the same shop, and other seeds make others.
func TestMake_Deterministic(t *testing.T) {
	for kind, make := range made {
		for seed := range uint64(20) {
			if !bytes.Equal(make(seed).Encode(), make(seed).Encode()) {
				t.Errorf("%s %d differs when made again", kind, seed)
			}
			if bytes.Equal(make(seed).Encode(), make(seed+1).Encode()) {
				t.Errorf("%s %d and %d are the same", kind, seed, seed+1)
			}
		}
	}
}

// What a size asks for is what the shop has.
func TestMake_Size(t *testing.T) {
	for seed := range uint64(20) {
		s := Make(seed, Size{Products: 60, Lines: 90, Pieces: 1500, Days: 40})
		if len(s.Products) != 60 || len(s.Demand) != 90 || s.HorizonDays != 40 {
			t.Errorf("seed %d: %d products, %d lines, %d days", seed, len(s.Products), len(s.Demand), s.HorizonDays)
		}
		if n := demanded(s); n < 1000 || n > 2200 {
			t.Errorf("seed %d: %d pieces, not about 1500", seed, n)
		}
	}
}

// demanded counts the sections of all sets that demand asks for.
func demanded(s *shop.Shop) int {
	n := 0
	for _, line := range s.Demand {
		for _, p := range s.Products {
			if p.ID == line.Product {
				n += line.Quantity * len(p.Sections)
			}
		}
	}
	return n
}

// Without impossible products every section can be cured and has a mandrel
// sooner or later; with nothing else, no product can be made.
func TestMake_Impossible(t *testing.T) {
	for seed := range seeds {
		for id, can := range makeable(Make(seed, Size{})) {
			if !can {
				t.Errorf("seed %d: %s can't be made", seed, id)
			}
		}
		for id, can := range makeable(Make(seed, Size{Impossible: 1})) {
			if can {
				t.Errorf("seed %d: %s can be made", seed, id)
			}
		}
	}
}

// A tiny shop is as small as its comment promises, and asks for something.
func TestTiny(t *testing.T) {
	for seed := range seeds {
		s := Tiny(seed)
		if n := demanded(s); n < 1 || n > TinyPieces {
			t.Errorf("seed %d: %d pieces", seed, n)
		}
		if len(s.Ovens) != 1 || s.Ovens[0].Bays != 1 || len(s.Racks) != 1 || len(s.Demand) > 2 {
			t.Errorf("seed %d: %d ovens, %d racks, %d lines", seed, len(s.Ovens), len(s.Racks), len(s.Demand))
		}
		for _, stage := range shop.Stages() {
			if n := s.Stations.At(stage).Positions; n != 1 {
				t.Errorf("seed %d: %d positions at %s", seed, n, stage)
			}
		}
		for id, can := range makeable(s) {
			if !can {
				t.Errorf("seed %d: %s can't be made", seed, id)
			}
		}
	}
}

// Released work breaks no rule by itself: a plan of nothing else is valid.
func TestMake_ReleasedAlone(t *testing.T) {
	for seed := range seeds {
		s := Make(seed, Size{})
		if s.Released == nil {
			continue
		}
		p := &plan.Plan{Format: plan.Format, Shop: s.Name, Now: s.Now, Loads: s.Released.Loads, Tasks: s.Released.Tasks}
		p.Cost, p.Bound.Gap = check.Plan(s, p).Cost, 1
		mustBeValid(t, fmt.Sprintf("seed %d", seed), s, p)
	}
}
