package check

import "math"

// tolerance is how far apart two decimals may be and still count as equal.
const tolerance = 1e-6

// exceeds reports whether a is above b by more than the tolerance.
func exceeds(a, b float64) bool { return a > b+tolerance }

// roundUp returns the least whole number not below x, forgiving x a tolerance
// above one.
func roundUp(x float64) float64 { return math.Ceil(x - tolerance) }

// roundDown returns the greatest whole number not above x, forgiving x a
// tolerance below one.
func roundDown(x float64) float64 { return math.Floor(x + tolerance) }
