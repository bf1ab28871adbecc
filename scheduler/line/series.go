package line

// A series is things in an order of their own, in an array with a hole where one
// last came or went. Loads are placed, and taken back, task after task at about
// the same time, so that making room for one moves few of the others.
type series[T any] struct {
	all  []T // those before the hole, the hole, those behind it
	hole int // how many are before it
	size int // of the hole
}

func (s *series[T]) len() int { return len(s.all) - s.size }

// at returns where the i-th is, up to the next change.
func (s *series[T]) at(i int) *T {
	if i >= s.hole {
		i += s.size
	}
	return &s.all[i]
}

// insert puts one before the i-th.
func (s *series[T]) insert(i int, one T) {
	if s.size == 0 {
		s.widen()
	}
	s.dig(i)
	s.all[i] = one
	s.hole++
	s.size--
}

// remove takes the i-th out.
func (s *series[T]) remove(i int) {
	if i+1 == s.hole {
		s.hole--
	} else {
		s.dig(i)
	}
	s.size++
}

// dig moves the hole to before the i-th.
func (s *series[T]) dig(i int) {
	if i < s.hole {
		copy(s.all[i+s.size:], s.all[i:s.hole])
	} else {
		copy(s.all[s.hole:], s.all[s.hole+s.size:i+s.size])
	}
	s.hole = i
}

// widen makes a hole at the end, as long as all there is.
func (s *series[T]) widen() {
	s.hole = len(s.all)
	s.size = max(16, s.hole)
	s.all = append(s.all, make([]T, s.size)...)
}
