package construct

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Vary returns a rule near another, for a shop of so many lines: what suits a shop
// best is often near what suits it well. One in so many lines is favoured more or less;
// now and then the rule itself is another, too.
func Vary(rule Rule, lines, oneIn int, r *rand.Rand) Rule {
	if r.IntN(3) == 0 {
		rule = otherwise(rule, r)
	}
	rule.Favour = slices.Clone(rule.Favour)
	for len(rule.Favour) < lines {
		rule.Favour = append(rule.Favour, 1)
	}
	for l := range rule.Favour {
		if r.IntN(oneIn) == 0 {
			rule.Favour[l] *= math.Exp(r.NormFloat64())
		}
	}
	return rule
}

// favour returns how much more urgent a line counts as.
func (r *Rule) favour(line int) float64 {
	if len(r.Favour) == 0 {
		return 1
	}
	return r.Favour[line]
}

// otherwise returns a rule that looks a little further ahead, or less far.
func otherwise(rule Rule, r *rand.Rand) Rule {
	rule.Patience *= 0.6 + r.Float64()
	switch r.IntN(8) {
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
	case 5, 6:
		if rule.Morning > 0 {
			rule.Morning = max(1, rule.Morning+r.IntN(61)-30)
			rule.Evening = max(0, rule.Evening+r.IntN(31)-15)
		}
	default:
		if rule.Wait < patient {
			rule.Wait = rule.Wait * (70 + r.IntN(80)) / 100
		}
	}
	return rule
}
