package construct

import (
	"math/rand/v2"
)

// Vary returns a rule near another: what suits a shop best is often near what
// suits it well.
func Vary(rule Rule, r *rand.Rand) Rule {
	rule.Patience *= 0.6 + r.Float64()
	switch r.IntN(6) {
	case 0:
		rule.Ahead = max(1, rule.Ahead+r.IntN(5)-2)
	case 1:
		rule.Fill = max(0, rule.Fill+r.IntN(5)-2)
	case 2:
		rule.Least = max(0, rule.Least+r.IntN(9)-4)
	case 3:
		rule.Strain = max(0, rule.Strain+4*r.Float64()-2)
	case 4:
		rule.Lead = max(0, rule.Lead+r.IntN(41)-20)
	default:
		if rule.Wait < patient {
			rule.Wait = rule.Wait * (70 + r.IntN(80)) / 100
		}
	}
	return rule
}
