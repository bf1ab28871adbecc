package reference_test

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// A batch is some pieces of a section that go through all stages together: a run is
// one of them, or, where a task carries a piece at most, has one for each piece. All
// batches of so many pieces of a section are one kind.
type batch struct {
	*section
	pieces int
	most   int // so many of the kind at most
	cuts   []*work
	after  [shop.StageCount]*work // by stage; none at cut
}

// Work is what a batch needs at a stage; at cut, of one prepreg. The n-th of its kind
// has begun by a slot, or ended at it, where that choice is yes.
type work struct {
	*batch
	stage   shop.Stage
	prepreg string
	key     string
	slots   int
	begun   [][]sum
	ended   [][]sum
}

// works lists what a batch needs.
func (b *batch) works() (all []*work) {
	all = append(all, b.cuts...)
	return append(all, b.after[shop.Tack:]...)
}

// addBatches adds the batches of every size that a run can have. Runs that can be
// split in several ways are beyond the model.
func (m *model) addBatches() {
	transfer := m.s.Policy.TransferPieces
	for i, s := range m.sections {
		largest := 0
		for _, l := range m.loads {
			largest = max(largest, l.pieces[i])
		}
		if transfer == 1 {
			largest = min(largest, 1)
		}
		if largest > transfer {
			panic(fmt.Sprintf("%s: runs of %d pieces can be split in several ways", m.s.Name, largest))
		}
		for n := 1; n <= largest; n++ {
			m.batches = append(m.batches, m.batch(s, n))
		}
	}
}

func (m *model) batch(s *section, pieces int) *batch {
	b := &batch{section: s, pieces: pieces, most: s.most / pieces}
	for _, prepreg := range s.prepregs {
		minutes := 0.0
		for _, f := range s.Flags {
			if f.Prepreg == prepreg {
				minutes += f.CutMinutes
			}
		}
		b.cuts = append(b.cuts, &work{batch: b, stage: shop.Cut, prepreg: prepreg, key: prepreg, slots: m.whole(minutes * float64(pieces))})
	}
	for _, stage := range shop.Stages()[shop.Tack:] {
		b.after[stage] = &work{batch: b, stage: stage, slots: m.whole(s.Minutes.At(stage) * float64(pieces))}
	}
	b.after[shop.Tack].key, b.after[shop.Wrap].key = s.Mandrel, s.Tape
	return b
}

// of counts the batches of a kind among pieces in a load.
func (b *batch) of(m *model, pieces []int) int {
	switch {
	case m.s.Policy.TransferPieces == 1:
		return pieces[b.number]
	case pieces[b.number] == b.pieces:
		return 1
	}
	return 0
}

// in counts the batches of a kind in a load.
func (b *batch) in(m *model) func(l *load) int {
	return func(l *load) int { return b.of(m, l.pieces) }
}
