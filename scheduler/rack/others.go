package rack

import "slices"

// Others returns other ways to hang runs that hang on some racks: on as many of other
// types, a few ways at most.
func (o *Oven) Others(runs []Run, racks []Rack) (ways [][]Rack) {
	h := o.hanging()
	defer o.spare.Put(h)
	h.order(runs)
	types := [][]int{typesOf(racks)}
	for i := range o.combos {
		h.combo = &o.combos[i]
		if len(h.combo.kinds) > len(racks) || len(ways) == maxOthers {
			break
		}
		if len(h.combo.kinds) < len(racks) || slices.ContainsFunc(types, h.combo.of) || !h.roomy() || !h.fill() {
			continue
		}
		way := h.racks()
		types, ways = append(types, typesOf(way)), append(ways, way)
	}
	return ways
}

// maxOthers is how many other ways are worth knowing.
const maxOthers = 3

func typesOf(racks []Rack) (types []int) {
	for _, r := range racks {
		types = append(types, r.Kind.Rack)
	}
	return types
}

// of reports whether a set is of racks of the given types.
func (c *combo) of(types []int) bool {
	return slices.EqualFunc(c.kinds, types, func(k *Kind, rack int) bool { return k.Rack == rack })
}
