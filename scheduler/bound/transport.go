package bound

import "math"

// A transport is a transportation problem: sources with so much each, sinks
// that need so much each, and a price for each unit from a source to a sink.
// Some source must be able to serve every sink without limit.
type transport struct {
	supply []int
	demand []int
	price  [][]Money // [source][sink]; forbidden where there is no way
}

// forbidden is the price of a way that there is not.
const forbidden = Money(math.MaxInt64)

// A shipment is an optimal answer of a transport: its cost and the dual prices
// that prove it.
type shipment struct {
	cost           Money
	source, sink   []Money
	flow           [][]int
	left, open     []int
	dist           []Money // by node, sources first
	via            []int
	settled        []bool
	nodes, sources int
}

// solve ships everything at the least cost, by successive cheapest paths with
// prices on the nodes that keep every reduced cost at 0 or above.
func (t *transport) solve() *shipment {
	n, m := len(t.supply), len(t.demand)
	s := &shipment{
		source: make([]Money, n), sink: make([]Money, m), flow: make([][]int, n), sources: n, nodes: n + m,
		left: append([]int(nil), t.supply...), open: append([]int(nil), t.demand...),
		dist: make([]Money, n+m), via: make([]int, n+m), settled: make([]bool, n+m),
	}
	for i := range s.flow {
		s.flow[i] = make([]int, m)
	}
	for {
		end := s.cheapest(t)
		if end < 0 {
			break
		}
		s.augment(t, end)
	}
	for i := range s.flow {
		for j, f := range s.flow[i] {
			if f > 0 {
				s.cost += Money(f) * t.price[i][j]
			}
		}
	}
	return s
}

// cheapest finds the cheapest path from any source with something left to any
// sink that is open, and returns that sink; -1 where none is open.
func (s *shipment) cheapest(t *transport) int {
	for v := range s.dist {
		s.dist[v], s.via[v], s.settled[v] = forbidden, -1, false
		if v < s.sources && s.left[v] > 0 {
			s.dist[v] = 0
		}
	}
	for {
		v := s.nearest()
		if v < 0 {
			return -1
		}
		s.settled[v] = true
		if v >= s.sources && s.open[v-s.sources] > 0 {
			s.reprice(s.dist[v])
			return v - s.sources
		}
		s.relax(t, v)
	}
}

func (s *shipment) nearest() int {
	best := -1
	for v, d := range s.dist {
		if !s.settled[v] && d != forbidden && (best < 0 || d < s.dist[best]) {
			best = v
		}
	}
	return best
}

// relax follows the ways out of a node: from a source to every sink, from a
// sink back to the sources that serve it.
func (s *shipment) relax(t *transport, v int) {
	if v < s.sources {
		for j, p := range t.price[v] {
			if p != forbidden {
				s.reach(v, s.sources+j, p+s.source[v]-s.sink[j])
			}
		}
		return
	}
	j := v - s.sources
	for i := range s.flow {
		if s.flow[i][j] > 0 {
			s.reach(v, i, s.sink[j]-t.price[i][j]-s.source[i])
		}
	}
}

func (s *shipment) reach(from, to int, reduced Money) {
	if d := s.dist[from] + reduced; !s.settled[to] && d < s.dist[to] {
		s.dist[to], s.via[to] = d, from
	}
}

// reprice raises the prices of the nodes by their distance, the end's at most.
func (s *shipment) reprice(end Money) {
	for v, d := range s.dist {
		d = min(d, end)
		if v < s.sources {
			s.source[v] += d
		} else {
			s.sink[v-s.sources] += d
		}
	}
}

func (s *shipment) augment(t *transport, sink int) {
	path := []int{s.sources + sink}
	for s.via[path[len(path)-1]] >= 0 {
		path = append(path, s.via[path[len(path)-1]])
	}
	first := path[len(path)-1]
	n := min(s.left[first], s.open[sink])
	for k := 0; k+1 < len(path); k++ {
		if path[k] < s.sources {
			n = min(n, s.flow[path[k]][path[k+1]-s.sources])
		}
	}
	for k := 0; k+1 < len(path); k++ {
		if path[k] >= s.sources {
			s.flow[path[k+1]][path[k]-s.sources] += n
		} else {
			s.flow[path[k]][path[k+1]-s.sources] -= n
		}
	}
	s.left[first] -= n
	s.open[sink] -= n
}
