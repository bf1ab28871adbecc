package bound

import (
	"math/rand/v2"
	"testing"
)

// The optimum of small transports is what trying every assignment of single
// units gives.
func TestTransport_BruteForce(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 7))
		tr := &transport{}
		total := 0
		for range 1 + r.IntN(3) {
			tr.demand = append(tr.demand, 1+r.IntN(2))
			total += tr.demand[len(tr.demand)-1]
		}
		for range 1 + r.IntN(3) {
			tr.supply = append(tr.supply, r.IntN(3))
		}
		tr.supply = append(tr.supply, total)
		for i := range tr.supply {
			row := make([]Money, len(tr.demand))
			for j := range row {
				row[j] = Money(r.IntN(21) - 5)
				if i < len(tr.supply)-1 && r.IntN(4) == 0 {
					row[j] = forbidden
				}
			}
			tr.price = append(tr.price, row)
		}
		// The first prices must not be below 0 for the dual start: shift them.
		for i := range tr.price {
			for j := range tr.price[i] {
				if tr.price[i][j] != forbidden {
					tr.price[i][j] += 5
				}
			}
		}
		if got, want := tr.solve().cost, brute(tr, 0, append([]int(nil), tr.supply...)); got != want {
			t.Fatalf("seed %d: cost %d, by trying all %d", seed, got, want)
		}
	}
}

func brute(t *transport, unit int, left []int) Money {
	sink, seen := 0, 0
	for sink < len(t.demand) && seen+t.demand[sink] <= unit {
		seen += t.demand[sink]
		sink++
	}
	if sink == len(t.demand) {
		return 0
	}
	best := forbidden
	for i := range left {
		if left[i] == 0 || t.price[i][sink] == forbidden {
			continue
		}
		left[i]--
		if rest := brute(t, unit+1, left); rest != forbidden && rest+t.price[i][sink] < best {
			best = rest + t.price[i][sink]
		}
		left[i]++
	}
	return best
}
