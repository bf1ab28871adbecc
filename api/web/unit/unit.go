// Package unit writes the shop's measures as a reader wants them: metric or
// inch, °C or °F. It converts for the eye only; what is typed in stays metric,
// as the shop file is.
//
// It imports the standard library only. Package web and its drawings use it.
package unit

import (
	"math"
	"strconv"
	"strings"
)

// A System is one reader's choice of units; the zero System is metric and °C.
type System struct {
	Inch       bool
	Fahrenheit bool
}

const (
	mmPerInch    = 25.4
	poundsPerKg  = 2.2046226218
	feet2PerM2   = 10.763910417
	noBreakSpace = "\u00a0"
)

// Length writes millimetres: whole ones, or inches to a tenth.
func (s System) Length(mm float64) string {
	if s.Inch {
		return Number(mm/mmPerInch, 1) + noBreakSpace + "in"
	}
	return Number(mm, 0) + noBreakSpace + "mm"
}

// Diameter writes millimetres to a tenth, or inches to a thousandth.
func (s System) Diameter(mm float64) string {
	if s.Inch {
		return Number(mm/mmPerInch, 3) + noBreakSpace + "in"
	}
	return Number(mm, 1) + noBreakSpace + "mm"
}

// Flag writes a measure to which a flag is cut: millimetres to a tenth, or inches
// to a hundredth, for a tip is a few millimetres wide.
func (s System) Flag(mm float64) string {
	if s.Inch {
		return Number(mm/mmPerInch, 2) + noBreakSpace + "in"
	}
	return Number(mm, 1) + noBreakSpace + "mm"
}

// Pitch writes how far a helix moves on with each turn: millimetres to a
// hundredth, or turns to an inch.
func (s System) Pitch(mm float64) string {
	if s.Inch {
		return Number(mmPerInch/mm, 1) + noBreakSpace + "wraps to the inch"
	}
	return Number(mm, 2) + noBreakSpace + "mm"
}

// Weight writes kilograms, or pounds: to a tenth, and what is lighter than one, as
// most mandrels are, to a thousandth.
func (s System) Weight(kg float64) string {
	weight, name := kg, "kg"
	if s.Inch {
		weight, name = kg*poundsPerKg, "lb"
	}
	decimals := 1
	if weight < 1 {
		decimals = 3
	}
	return Number(weight, decimals) + noBreakSpace + name
}

// Area writes square metres, or square feet, to a hundredth.
func (s System) Area(m2 float64) string {
	if s.Inch {
		return Number(m2*feet2PerM2, 1) + noBreakSpace + "ft²"
	}
	return Number(m2, 2) + noBreakSpace + "m²"
}

// Temperature writes degrees, whole ones.
func (s System) Temperature(c float64) string {
	if s.Fahrenheit {
		return Number(c*9/5+32, 0) + noBreakSpace + "°F"
	}
	return Number(c, 0) + noBreakSpace + "°C"
}

// Ramp writes degrees a minute, to a tenth.
func (s System) Ramp(cPerMin float64) string {
	if s.Fahrenheit {
		return Number(cPerMin*9/5, 1) + noBreakSpace + "°F/min"
	}
	return Number(cPerMin, 1) + noBreakSpace + "°C/min"
}

// Number writes a number with at most so many decimals and its thousands
// grouped by commas.
func Number(x float64, decimals int) string {
	scale := math.Pow10(decimals)
	text := strconv.FormatFloat(math.Round(x*scale)/scale, 'f', -1, 64)
	if text == "-0" {
		text = "0"
	}
	whole, rest, broken := strings.Cut(text, ".")
	if whole = group(whole); broken {
		return whole + "." + rest
	}
	return whole
}

// Fixed writes a number with exactly so many decimals, so that columns align.
func Fixed(x float64, decimals int) string {
	whole, rest, broken := strings.Cut(strconv.FormatFloat(x, 'f', decimals, 64), ".")
	if whole = group(whole); broken {
		return whole + "." + rest
	}
	return whole
}

func group(digits string) string {
	sign := ""
	if strings.HasPrefix(digits, "-") {
		sign, digits = "−", digits[1:]
	}
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return sign + digits
}

// Minutes writes a span: 45 min, or 3 h 05.
func Minutes(n int64) string {
	if n < 60 {
		return strconv.FormatInt(n, 10) + noBreakSpace + "min"
	}
	rest := strconv.FormatInt(n%60, 10)
	if len(rest) == 1 {
		rest = "0" + rest
	}
	return strconv.FormatInt(n/60, 10) + noBreakSpace + "h" + noBreakSpace + rest
}
