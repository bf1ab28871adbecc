package bound

// A binItem is some pieces of a section, all of one size.
type binItem struct{ section, size, pieces int }

// A binCount is how many bins items need at least: each piece takes a part of a
// bin, and no bin holds pieces whose parts make more than a whole.
type binCount struct {
	bins, whole int
	parts       map[int]int // by section
}

// countBins counts the bins of some capacity that items need: the bound L2 of
// S. Martello and P. Toth, "Lower bounds and reduction procedures for the bin
// packing problem", Discrete Applied Mathematics 28, 1990. For every size up to
// half a bin it passes over what is smaller, and counts as a bin of its own what
// leaves no room for that size; the others take parts by size, or, if that is
// more, those above half a bin a bin each.
func countBins(items []binItem, capacity int) (most binCount) {
	if capacity <= 0 {
		return most
	}
	take := func(part func(size int) int) {
		if n := weighed(items, capacity, part); n.bins > most.bins {
			most = n
		}
	}
	take(func(size int) int { return bySize(size, 0, capacity) })
	take(func(size int) int { return byHalf(size, capacity) })
	for _, item := range items {
		if low := item.size; low <= capacity/2 {
			take(func(size int) int { return bySize(size, low, capacity) })
		}
	}
	return most
}

// bySize returns the part of a bin that a size takes where nothing below low
// counts.
func bySize(size, low, capacity int) int {
	switch {
	case size < low:
		return 0
	case size > capacity-low:
		return capacity
	}
	return size
}

// byHalf returns the part where only what is above half a bin counts.
func byHalf(size, capacity int) int {
	if size > capacity/2 {
		return capacity
	}
	return 0
}

func weighed(items []binItem, capacity int, part func(size int) int) binCount {
	n := binCount{whole: capacity, parts: make(map[int]int, len(items))}
	whole, rest := 0, Money(0)
	for _, item := range items {
		switch p := part(item.size); p {
		case capacity:
			n.parts[item.section] = p
			whole += item.pieces
		default:
			n.parts[item.section] = p
			// Where that is too much to count, less is a bound, too.
			rest = plus(rest, share(Money(p), item.pieces, 1))
		}
	}
	n.bins = whole + int((rest+Money(capacity)-1)/Money(capacity))
	return n
}
