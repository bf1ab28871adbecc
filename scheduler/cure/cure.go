// Package cure answers what a profile does to the sections in an oven: whether
// it qualifies for a section (rule R1), and how many minutes a load takes
// (rule R2).
//
// It is pure arithmetic on a shop's figures and imports shop only. The checker
// does not use it.
package cure

import (
	"fmt"
	"math"

	"blankwright/scheduler/shop"
)

// epsilon is the contract's tolerance for decimals.
const epsilon = 1e-6

// Minutes returns the minutes that a load takes under a profile from ambientC:
// ramps, soaks and cooling, and the lag of its weight, rounded up.
func Minutes(p *shop.Profile, ambientC, lagMinutes float64) int {
	return int(math.Ceil(Span(p, ambientC, lagMinutes) - epsilon))
}

// Span returns the same as Minutes, not rounded.
func Span(p *shop.Profile, ambientC, lagMinutes float64) float64 {
	at, sum := ambientC, lagMinutes
	for _, s := range p.Segments {
		sum += math.Abs(s.ToC-at)/s.RampCPerMin + s.SoakMinutes
		at = s.ToC
	}
	return sum + math.Max(0, at-p.CoolToC)/p.CoolCPerMin
}

// Peak returns the hottest temperature of a profile, ambientC at the least.
func Peak(p *shop.Profile, ambientC float64) float64 {
	peak := ambientC
	for _, s := range p.Segments {
		peak = math.Max(peak, s.ToC)
	}
	return peak
}

// Resin returns why a profile does not cure a resin, or "" where it does.
func Resin(p *shop.Profile, r *shop.Resin, ambientC float64) string {
	at := ambientC
	for _, s := range p.Segments {
		if s.ToC > at+epsilon && s.RampCPerMin > r.MaxRampCPerMin+epsilon {
			return fmt.Sprintf("it heats at %g °C/min, resin %s bears %g", s.RampCPerMin, r.ID, r.MaxRampCPerMin)
		}
		if s.ToC > r.MaxC+epsilon {
			return fmt.Sprintf("it reaches %g °C, resin %s bears %g", s.ToC, r.ID, r.MaxC)
		}
		at = s.ToC
	}
	for _, s := range p.Segments {
		if need, ok := SoakMinutes(r, s.ToC); ok && s.SoakMinutes >= need-epsilon {
			return ""
		}
	}
	return fmt.Sprintf("no segment soaks resin %s for long enough", r.ID)
}

// SoakMinutes returns the least minutes that a resin must soak at c, linear
// between the points of its table; ok is false outside the table.
func SoakMinutes(r *shop.Resin, c float64) (minutes float64, ok bool) {
	var low, high *shop.SoakPoint
	for i := range r.Soak {
		point := &r.Soak[i]
		if point.C <= c+epsilon && (low == nil || point.C > low.C) {
			low = point
		}
		if point.C >= c-epsilon && (high == nil || point.C < high.C) {
			high = point
		}
	}
	if low == nil || high == nil {
		return 0, false
	}
	if high.C <= low.C {
		return low.Minutes, true
	}
	return low.Minutes + (high.Minutes-low.Minutes)*(c-low.C)/(high.C-low.C), true
}

// Tape returns why a profile does not suit a shrink tape, or "" where it does.
func Tape(p *shop.Profile, t *shop.Tape, ambientC float64) string {
	switch peak := Peak(p, ambientC); {
	case peak < t.ShrinkFromC-epsilon:
		return fmt.Sprintf("it reaches %g °C, tape %s shrinks from %g", peak, t.ID, t.ShrinkFromC)
	case peak > t.MaxC+epsilon:
		return fmt.Sprintf("it reaches %g °C, tape %s bears %g", peak, t.ID, t.MaxC)
	}
	return ""
}
