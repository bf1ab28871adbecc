package rack_test

import (
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/rack"
)

// tester is what a test and a property have in common.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
}

// judge counts anew whether racks hold just these runs and keep rule R3.
func (b *bench) judge(t tester, runs []rack.Run, racks []rack.Rack) {
	t.Helper()
	hung := map[int]int{}
	used := map[int]int{}
	total := 0.0
	for _, r := range racks {
		if used[r.Kind.Rack]++; used[r.Kind.Rack] > r.Kind.Count {
			t.Errorf("%d racks of type %d, there are %d", used[r.Kind.Rack], r.Kind.Rack, r.Kind.Count)
		}
		kg := b.judgeRack(t, r, hung)
		if kg > r.Kind.MaxKg+1e-6 {
			t.Errorf("a rack of type %d bears %g kg, not %g", r.Kind.Rack, r.Kind.MaxKg, kg)
		}
		total += kg + r.Kind.Tare
	}
	if total > b.maxKg+1e-6 || len(racks) < 1 || len(racks) > b.bays {
		t.Errorf("%d racks of %g kg in an oven of %d bays and %g kg", len(racks), total, b.bays, b.maxKg)
	}
	for _, r := range runs {
		if hung[r.Section] -= r.Pieces; hung[r.Section] != 0 {
			t.Errorf("%d pieces of section %d too many", hung[r.Section], r.Section)
		}
	}
}

// judgeRack judges one rack's levels, counts its pieces into hung, and returns
// their weight.
func (b *bench) judgeRack(t tester, r rack.Rack, hung map[int]int) (kg float64) {
	t.Helper()
	if len(r.Levels) != len(r.Kind.Levels) {
		t.Errorf("%d levels of %d", len(r.Levels), len(r.Kind.Levels))
		return 0
	}
	for i, on := range r.Levels {
		pegs := 0.0
		for _, run := range on {
			piece := b.pieces[run.Section]
			if run.Pieces < 1 || piece.Hang > r.Kind.Levels[i].Clear {
				t.Errorf("%d pieces of %g mm hang where %g is clear", run.Pieces, piece.Hang, r.Kind.Levels[i].Clear)
			}
			pegs += float64(run.Pieces) * pegsOf(piece, &r.Kind.Levels[i])
			kg += float64(run.Pieces) * piece.Kg
			hung[run.Section] += run.Pieces
		}
		if pegs > float64(r.Kind.Levels[i].Pegs) {
			t.Errorf("%g pegs of %d", pegs, r.Kind.Levels[i].Pegs)
		}
	}
	return kg
}

// small draws an oven and a load that leave the packer few ways to try.
func small(t *rapid.T) (*bench, []rack.Run) {
	clear := rapid.SampledFrom([]float64{500, 800, 1200})
	b := &bench{bays: rapid.IntRange(1, 3).Draw(t, "bays"), maxKg: rapid.SampledFrom([]float64{6, 10, 15, 25, 1000}).Draw(t, "oven's kg")}
	for kind := range rapid.IntRange(1, 2).Draw(t, "types") {
		count, tare := rapid.IntRange(1, 3).Draw(t, "count"), float64(rapid.IntRange(0, 3).Draw(t, "tare"))
		maxKg := rapid.SampledFrom([]float64{2, 4, 7, 10, 1000}).Draw(t, "rack's kg")
		for setup := range rapid.IntRange(1, 2).Draw(t, "set-ups") {
			k := &rack.Kind{Rack: kind, Setup: setup, Count: count, Tare: tare, MaxKg: maxKg}
			for range rapid.IntRange(1, 2).Draw(t, "levels") {
				pitch := rapid.SampledFrom([]float64{10, 12, 15}).Draw(t, "pitch")
				k.Levels = append(k.Levels, level(clear.Draw(t, "clear"), rapid.IntRange(1, 6).Draw(t, "pegs"), pitch))
			}
			b.kinds = append(b.kinds, k)
		}
	}
	var load []rack.Run
	for section := range rapid.IntRange(1, 4).Draw(t, "sections") {
		b.pieces = append(b.pieces, rack.Piece{
			Hang: clear.Draw(t, "hang"), Width: float64(rapid.IntRange(5, 34).Draw(t, "width")),
			Kg: 0.5 * float64(rapid.IntRange(1, 6).Draw(t, "half kg")),
		})
		load = append(load, rack.Run{Section: section, Pieces: rapid.IntRange(1, 2).Draw(t, "pieces")})
	}
	return b, load
}

// What Pack returns keeps rule R3 and carries the whole load; it finds no way
// where there is none.
func TestPack_IsValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, load := small(t)
		racks, ok := b.oven().Pack(load)
		if ok {
			b.judge(t, load, racks)
		}
		if ok && !b.fits(load) {
			t.Errorf("packed, though trying every way finds none")
		}
	})
}

// Pack may miss a way to hang a load, but no more than one in two hundred of
// these.
func TestPack_MissesFew(t *testing.T) {
	draw := rapid.Custom(func(t *rapid.T) [2]int {
		b, load := small(t)
		_, found := b.oven().Pack(load)
		if !b.fits(load) {
			return [2]int{0, 0}
		}
		if found {
			return [2]int{1, 0}
		}
		return [2]int{1, 1}
	})
	fit, missed := 0, 0
	for seed := range 6000 {
		one := draw.Example(seed)
		fit, missed = fit+one[0], missed+one[1]
	}
	if fit < 1000 || 200*missed > fit {
		t.Errorf("of %d loads that fit, %d were missed", fit, missed)
	}
}
