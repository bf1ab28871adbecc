package benchtest

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A Packing is a bin packing problem: items of whole sizes into bins of one
// capacity. Bins is the least number of bins that takes them all.
type Packing struct {
	Name     string
	Capacity int
	Sizes    []int
	Bins     int
}

// u120Bins are the optima of binpack1.txt, in its order (E. Falkenauer, "A hybrid
// grouping genetic algorithm for bin packing", Journal of Heuristics 2, 1996; the
// file states two of them, the 9th and the 20th, one too high).
var u120Bins = []int{48, 49, 46, 49, 50, 48, 48, 49, 50, 46, 52, 49, 48, 49, 50, 48, 52, 52, 49, 49}

// U120 returns the twenty problems of 120 items of the OR-Library's binpack1.
func U120(t testing.TB) []Packing {
	t.Helper()
	fields := strings.Fields(outside(t, "binpack1.txt"))
	next := func() (field string) {
		if len(fields) == 0 {
			t.Fatal("binpack1.txt ends too soon")
		}
		field, fields = fields[0], fields[1:]
		return field
	}
	number := func() int {
		n, err := strconv.Atoi(next())
		if err != nil {
			t.Fatalf("binpack1.txt: %v", err)
		}
		return n
	}
	problems := make([]Packing, number())
	if len(problems) != len(u120Bins) {
		t.Fatalf("binpack1.txt has %d problems, not %d", len(problems), len(u120Bins))
	}
	for i := range problems {
		problems[i] = Packing{Name: next(), Capacity: number(), Bins: u120Bins[i]}
		problems[i].Sizes = make([]int, number())
		number() // the optimum as the file has it
		for k := range problems[i].Sizes {
			problems[i].Sizes[k] = number()
		}
	}
	return problems
}

// Triplets returns a problem of 60 items made by Falkenauer's recipe: items come
// in threes that fill a bin of 1000, each between 250 and 500, so that 20 bins
// take them and fewer cannot.
func Triplets(seed uint64) Packing {
	const threes, capacity, least, low, high = 20, 1000, 250, 380, 490
	r := rand.New(rand.NewPCG(seed, threes))
	p := Packing{Name: fmt.Sprintf("t60-%02d", seed), Capacity: capacity, Bins: threes}
	for range threes {
		first := low + r.IntN(high-low+1)
		second := least + r.IntN((capacity-first)/2-least+1)
		p.Sizes = append(p.Sizes, first, second, capacity-first-second)
	}
	r.Shuffle(len(p.Sizes), func(i, j int) { p.Sizes[i], p.Sizes[j] = p.Sizes[j], p.Sizes[i] })
	return p
}

// Shop returns the problem as a shop: pieces weigh what items are large, one
// oven with one bay takes as many kilograms as a bin is large, and a load costs
// 1. All is due so far away, and so dear when it is left out, that the cheapest
// plan makes everything and costs as much as there are bins.
func (p Packing) Shop() *shop.Shop {
	s := shoptest.Bare()
	s.Name = p.Name + " as a shop"
	s.Policy.UnplannedDays = 1000
	s.Ovens[0].MaxKg, s.Ovens[0].RunCost = float64(p.Capacity), 1
	s.Mandrels = nil
	shoptest.AddMandrels(s, "mandrel", len(p.Sizes))
	s.Products = nil
	lines := map[int]int{} // by size
	for _, size := range p.Sizes {
		if i, ok := lines[size]; ok {
			s.Demand[i].Quantity++
			continue
		}
		id := fmt.Sprintf("size-%d", size)
		product := shoptest.BareProduct(id, id)
		product.Sections[0].Kg = float64(size)
		s.Products = append(s.Products, product)
		lines[size] = len(s.Demand)
		shoptest.AddLine(s, id, 1, s.HorizonDays-1, 1)
	}
	return s
}
