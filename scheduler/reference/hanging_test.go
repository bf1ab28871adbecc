package reference_test

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// A frame is racks that an oven takes together, each in a set-up.
type frame []aRack

type aRack struct{ kind, setup int }

// frames returns what racks an oven takes, fewer before more (R3).
func (m *model) frames(oven *shop.Oven) (all []frame) {
	last := []frame{{}}
	for range oven.Bays {
		var next []frame
		for _, f := range last {
			for _, rack := range m.racksFor(oven) {
				if len(f) == 0 || !rack.before(f[len(f)-1]) { // each choice of racks in one order only
					next = append(next, append(slices.Clone(f), rack))
				}
			}
		}
		all, last = append(all, next...), next
	}
	return all
}

func (m *model) racksFor(oven *shop.Oven) (all []aRack) {
	for r := range m.s.Racks {
		for k := range m.s.Racks[r].Setups {
			if m.s.Racks[r].Setups[k].OuterHeightMM <= oven.HeightMM {
				all = append(all, aRack{r, k})
			}
		}
	}
	return all
}

func (r aRack) before(other aRack) bool {
	return r.kind < other.kind || r.kind == other.kind && r.setup < other.setup
}

func (f frame) count(kinds int) []int {
	n := make([]int, kinds)
	for _, r := range f {
		n[r.kind]++
	}
	return n
}

// A hanger tries every level for each piece.
type hanger struct {
	*model
	uses []shop.RackUse
	pegs [][]int // by rack and level: still free
	kg   []float64
}

// hang hangs pieces in a frame, or returns nil where they find no room (R3).
func (m *model) hang(oven *shop.Oven, f frame, pieces []int) []shop.RackUse {
	h := hanger{model: m}
	load := m.kg(pieces)
	for _, r := range f {
		rack := &m.s.Racks[r.kind]
		setup := &rack.Setups[r.setup]
		h.uses = append(h.uses, shop.RackUse{Rack: rack.ID, Setup: setup.ID, Levels: make([][]shop.Hang, len(setup.Levels))})
		var pegs []int
		for _, level := range setup.Levels {
			pegs = append(pegs, level.Pegs)
		}
		h.pegs, h.kg = append(h.pegs, pegs), append(h.kg, rack.MaxKg)
		load += rack.TareKg
	}
	var list []int
	for i, n := range pieces {
		list = append(list, slices.Repeat([]int{i}, n)...)
	}
	if load > oven.MaxKg+1e-6 || !h.next(f, list) {
		return nil
	}
	return h.uses
}

// next hangs the first of the pieces that are left, and all others.
func (h *hanger) next(f frame, left []int) bool {
	if len(left) == 0 {
		return true
	}
	piece := h.sections[left[0]]
	for i, r := range f {
		for k, level := range h.s.Racks[r.kind].Setups[r.setup].Levels {
			takes := int(max(1, math.Ceil((piece.ODMM+h.s.Policy.GapMM)/level.PitchMM-1e-6)))
			if piece.hang > level.ClearMM || takes > h.pegs[i][k] || piece.kg > h.kg[i]+1e-6 {
				continue
			}
			h.pegs[i][k] -= takes
			h.kg[i] -= piece.kg
			if h.next(f, left[1:]) {
				h.uses[i].Levels[k] = append(h.uses[i].Levels[k], shop.Hang{Section: piece.ID, Pieces: 1})
				return true
			}
			h.pegs[i][k] += takes
			h.kg[i] += piece.kg
		}
	}
	return false
}
