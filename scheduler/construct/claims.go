package construct

import (
	"math"
	"sort"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/shop"
)

// A claim is what ships together: a line, or the lines of a complete order.
type claim struct {
	lines []int
	left  float64 // share of the shop that its pieces still take
	rank  float64 // how much it costs to put off, for its share, at the time of the next load
}

// claimsOf groups the wants by what ships together and returns each want's
// claim with them.
func claimsOf(in *instance.Instance, list []want) (claims []claim) {
	ofOrder := map[int]int{}
	for i := range list {
		w := &list[i]
		o := in.Lines[w.line].Order
		if k, ok := ofOrder[o]; ok && o != instance.None {
			w.claim = k
		} else {
			w.claim = len(claims)
			ofOrder[o] = w.claim
			claims = append(claims, claim{})
		}
		claims[w.claim].lines = append(claims[w.claim].lines, w.line)
	}
	return claims
}

// ahead are the days over which the cost of putting a claim off is looked at.
var ahead = []int{1, 2, 4, 8, 16}

// putOff returns what it costs to put a claim off from a day on, days far ahead
// counting less: the apparent tardiness cost rule, for claims of several lines.
func (c *claim) putOff(in *instance.Instance, day int, patience float64) (sum float64) {
	before, last := c.late(in, day), 0
	for _, x := range ahead {
		after := c.late(in, day+x)
		sum += (after - before) / float64(x-last) * math.Exp(-float64(x-1)/patience)
		before, last = after, x
	}
	return sum
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
	for i := range b.claims {
		c := &b.claims[i]
		c.rank = (c.putOff(b.in, day+1, b.rule.Patience) + 1e-6) / (c.left + 1e-12)
	}
	strain := b.strain(day)
	for i := range b.wants {
		w := &b.wants[i]
		most := 0.0
		for _, run := range w.runs {
			if run.Pieces > 0 {
				most = math.Max(most, strain[b.in.Sections[run.Section].Mandrel])
			}
		}
		w.rank = b.claims[w.claim].rank * math.Exp(b.rule.Strain*math.Max(0, most-relaxed))
	}
	sort.SliceStable(b.wants, func(i, j int) bool { return b.wants[i].rank > b.wants[j].rank })
}

// relaxed is the strain up to which mandrels press nobody.
const relaxed = 0.4
