package rack_test

import (
	"blankwright/scheduler/rack"
)

// A bench is one oven with what a test hangs in it.
type bench struct {
	kinds  []*rack.Kind
	pieces []rack.Piece
	bays   int
	maxKg  float64
}

func (b *bench) oven() *rack.Oven {
	return rack.NewOven(rack.NewHanger(b.kinds, b.pieces), b.bays, b.maxKg, b.kinds)
}

// A packer tries every way to hang single pieces on every set of racks that
// the bays hold, and knows nothing of how the engine does it.
type packer struct {
	*bench
	list  []int        // the section of each piece; pieces of one section adjoin
	racks []*rack.Kind // the racks hung so far
	pegs  [][]float64  // by rack and level: pegs taken
	kg    []float64    // by rack: weight hung
}

// fits reports whether there is any way at all.
func (b *bench) fits(runs []rack.Run) bool {
	p := &packer{bench: b}
	for _, r := range runs {
		for range r.Pieces {
			p.list = append(p.list, r.Section)
		}
	}
	return p.choose(0)
}

// choose adds racks, of the kinds from first on, and tries each set of them.
func (p *packer) choose(first int) bool {
	if len(p.racks) > 0 && p.weighs() <= p.maxKg && p.hang(0, 0) {
		return true
	}
	if len(p.racks) == p.bays {
		return false
	}
	for k := first; k < len(p.kinds); k++ {
		if p.inUse(p.kinds[k].Rack) == p.kinds[k].Count {
			continue
		}
		p.racks = append(p.racks, p.kinds[k])
		p.pegs = append(p.pegs, make([]float64, len(p.kinds[k].Levels)))
		p.kg = append(p.kg, 0)
		found := p.choose(k)
		n := len(p.racks) - 1
		p.racks, p.pegs, p.kg = p.racks[:n], p.pegs[:n], p.kg[:n]
		if found {
			return true
		}
	}
	return false
}

func (p *packer) inUse(kind int) (n int) {
	for _, k := range p.racks {
		if k.Rack == kind {
			n++
		}
	}
	return n
}

func (p *packer) weighs() (kg float64) {
	for _, k := range p.racks {
		kg += k.Tare
	}
	for _, section := range p.list {
		kg += p.pieces[section].Kg
	}
	return kg
}

// hang tries each place for the i-th piece; a piece of the same section as the
// one before it goes no earlier than that, which stood at place from.
func (p *packer) hang(i, from int) bool {
	if i == len(p.list) {
		return true
	}
	if i > 0 && p.list[i] != p.list[i-1] {
		from = 0
	}
	piece, place := p.pieces[p.list[i]], 0
	for r, k := range p.racks {
		for l := range k.Levels {
			if place++; place <= from {
				continue
			}
			need := pegsOf(piece, &k.Levels[l])
			if p.pegs[r][l]+need > float64(k.Levels[l].Pegs) || p.kg[r]+piece.Kg > k.MaxKg || piece.Hang > k.Levels[l].Clear {
				continue
			}
			p.pegs[r][l] += need
			p.kg[r] += piece.Kg
			found := p.hang(i+1, place-1)
			p.pegs[r][l] -= need
			p.kg[r] -= piece.Kg
			if found {
				return true
			}
		}
	}
	return false
}

// pegsOf counts the pegs of a piece one by one.
func pegsOf(piece rack.Piece, level *rack.Level) float64 {
	n := 1.0
	for n*level.Pitch < piece.Width-1e-6 {
		n++
	}
	return n
}
