package construct

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A claim is what ships together: a line, or the lines of a complete order.
type claim struct {
	lines []int
	left  float64 // share of the shop that its pieces still take
	rank  float64 // how much it costs to put off, for its share, at the time of the next load
	day   int     // from which on cost was counted
	cost  float64 // to put it off from then on
}

// claimsOf groups the wants by what ships together and returns each want's
// claim with them.
func claimsOf(in *instance.Instance, list []*want) (claims []claim) {
	ofOrder := map[int]int{}
	for _, w := range list {
		o := in.Lines[w.line].Order
		if k, ok := ofOrder[o]; ok && o != instance.None {
			w.claim = k
		} else {
			w.claim = len(claims)
			ofOrder[o] = w.claim
			claims = append(claims, claim{day: -1})
		}
		claims[w.claim].lines = append(claims[w.claim].lines, w.line)
	}
	return claims
}

// ahead are the days over which the cost of putting a claim off is looked at.
var ahead = [...]int{1, 2, 4, 8, 16}

// weights returns how much each of the days ahead counts.
func weights(patience float64) (w [len(ahead)]float64) {
	for i, x := range ahead {
		w[i] = math.Exp(-float64(x-1) / patience)
	}
	return w
}

// putOff returns what it costs to put a claim off from a day on, days far ahead
// counting less: the apparent tardiness cost rule, for claims of several lines.
func (b *builder) putOff(c *claim, day int) float64 {
	if c.day == day {
		return c.cost
	}
	c.day, c.cost = day, 0
	before, last := c.late(b.in, day), 0
	for i, x := range ahead {
		after := c.late(b.in, day+x)
		c.cost += (after - before) / float64(x-last) * b.weights[i]
		before, last = after, x
	}
	return c.cost
}

// late returns what a claim costs that is done on a day.
func (c *claim) late(in *instance.Instance, day int) (sum float64) {
	ship := shop.Date(0)
	for _, l := range c.lines {
		p := &in.Products[in.Lines[l].Product]
		ship = max(ship, p.Ship[min(day, len(p.Ship)-1)])
	}
	for _, l := range c.lines {
		line := &in.Lines[l]
		sum += float64(line.LatePrice) * float64(line.Quantity) * math.Max(0, float64(ship-line.Due))
	}
	return sum
}

// rank puts the wants first that cost most to put off for what they take of the
// shop, at a day. Those whose mandrels must go round nearly every day that is
// left come before their turn: what such a mandrel misses cannot be made up.
func (b *builder) rank(day int) {
	for _, w := range b.wants {
		c := &b.claims[w.claim]
		c.rank = (b.putOff(c, day+1) + 1e-6) / (c.left + 1e-12)
	}
	strain := b.strain(day)
	for _, w := range b.wants {
		most := 0.0
		for _, run := range w.runs {
			if run.Pieces > 0 {
				most = math.Max(most, strain[b.in.Sections[run.Section].Mandrel])
			}
		}
		w.rank = b.claims[w.claim].rank * b.rule.favour(w.line) * math.Exp(b.rule.Strain*math.Max(0, most-relaxed))
	}
	slices.SortStableFunc(b.wants, func(x, y *want) int { return cmp.Compare(y.rank, x.rank) })
}

// relaxed is the strain up to which mandrels press nobody.
const relaxed = 0.4
