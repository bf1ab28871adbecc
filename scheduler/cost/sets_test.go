package cost_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"blankwright/scheduler/cost"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// pair returns a bare shop whose product is a set of sections S and T.
func pair() *shop.Shop {
	s := shoptest.Bare()
	s.Products[0] = shoptest.BareProduct("P", "S", "T")
	return s
}

// in returns the instant so many minutes after a shop's now.
func in(s *shop.Shop, minutes int) shop.Instant {
	return shop.Instant{Minute: s.Now.Minute + int64(minutes)}
}

// Sets become good with the scarcer section, by its yield of all pieces so far,
// in order of time, from stock at now on, and no more than are wanted.
func TestSets_ByHand(t *testing.T) {
	s := pair()
	s.Products[0].Stock = 1
	s.Products[0].Sections[0].Yield = 0.9
	s.Incoming = []shop.Incoming{{Section: "T", Pieces: 2, At: in(s, 100)}, {Section: "S", Pieces: 1, At: in(s, 50)}}
	compiled := instance.New(shoptest.Accepted(s))
	trims := []cost.Trim{{Section: 0, At: 200, Pieces: 5}, {Section: 1, At: 300, Pieces: 4}, {Section: 0, At: 150, Pieces: 4}, {Section: 0, At: 200, Pieces: 1}}
	// Good of S: 1 at 50, 1 + ⌊3.6⌋ = 4 at 150, 1 + ⌊9⌋ = 10 at 200; of T: 2 at 100,
	// 6 at 300. Sets with the one in stock: 1, 2 at 100 (S), 3 at 150 (T), 7 at 300.
	want := []cost.Units{{At: 0, Sets: 1}, {At: 100, Sets: 1}, {At: 150, Sets: 1}, {At: 300, Sets: 4}}
	if got := cost.Sets(compiled, 0, trims, 20); !cmp.Equal(got, want) {
		t.Errorf("sets %v, want %v", got, want)
	}
	want = []cost.Units{{At: 0, Sets: 1}, {At: 100, Sets: 1}, {At: 150, Sets: 1}, {At: 300, Sets: 2}}
	if got := cost.Sets(compiled, 0, trims, 5); !cmp.Equal(got, want) {
		t.Errorf("of 5 wanted, sets %v, want %v", got, want)
	}
	if got := cost.Sets(compiled, 0, trims, 0); len(got) != 0 {
		t.Errorf("of none wanted, sets %v", got)
	}
}

// However pieces come, the sets so far are rule R13's count at every instant.
func TestSets_CountAtEveryInstant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := pair()
		p := &s.Products[0]
		p.Stock = rapid.IntRange(0, 2).Draw(t, "stock")
		at, pieces := rapid.IntRange(-5, 40), rapid.IntRange(0, 5)
		var trims []cost.Trim
		s.Released = &shop.Released{Loads: []shop.Load{{ID: "R", Oven: "oven", Profile: "cure"}}}
		for i := range p.Sections {
			p.Sections[i].Yield = rapid.SampledFrom([]float64{1, 0.9, 0.5}).Draw(t, "yield")
			for range rapid.IntRange(0, 2).Draw(t, "incoming") {
				s.Incoming = append(s.Incoming, shop.Incoming{Section: p.Sections[i].ID, Pieces: pieces.Draw(t, "pieces"), At: in(s, at.Draw(t, "at"))})
			}
			for range rapid.IntRange(0, 2).Draw(t, "released") {
				end := in(s, at.Draw(t, "end"))
				s.Released.Tasks = append(s.Released.Tasks, shop.Task{Load: "R", Section: p.Sections[i].ID, Stage: shop.Trim, Position: 1, Pieces: pieces.Draw(t, "pieces"), Start: end, End: end})
			}
			for range rapid.IntRange(0, 4).Draw(t, "trims") {
				trims = append(trims, cost.Trim{Section: i, At: max(1, at.Draw(t, "trimmed")), Pieces: pieces.Draw(t, "pieces")})
			}
		}
		s = shoptest.Accepted(s)
		limit := rapid.IntRange(0, 12).Draw(t, "wanted")
		units := cost.Sets(instance.New(s), 0, trims, limit)
		given, last := 0, -1
		for now := range 50 {
			for ; len(units) > 0 && units[0].At == now; units = units[1:] {
				if units[0].At <= last || units[0].Sets < 1 {
					t.Fatalf("%d sets at %d follow those at %d", units[0].Sets, units[0].At, last)
				}
				given, last = given+units[0].Sets, now
			}
			if want := min(limit, goodSets(s, trims, now)); given != want {
				t.Fatalf("%d sets are good at %d, want %d", given, now, want)
			}
		}
	})
}

// goodSets counts a shop's first product's good sets at an instant by R13.
func goodSets(s *shop.Shop, trims []cost.Trim, at int) int {
	least := math.MaxInt
	for i, section := range s.Products[0].Sections {
		good, trimmed := 0, 0
		for _, c := range s.Incoming {
			if c.Section == section.ID && c.At.Minute <= in(s, at).Minute {
				good += c.Pieces
			}
		}
		for _, task := range s.Released.Tasks {
			if end := task.End.Minute - s.Now.Minute; task.Section == section.ID && end > 0 && end <= int64(at) {
				trimmed += task.Pieces
			}
		}
		for _, trim := range trims {
			if trim.Section == i && trim.At <= at {
				trimmed += trim.Pieces
			}
		}
		least = min(least, good+int(math.Floor(section.Yield*float64(trimmed)+1e-6)))
	}
	return s.Products[0].Stock + least
}
