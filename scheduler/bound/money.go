package bound

import (
	"math"
	"math/bits"
)

// muchMoney is more than any plan costs, and small enough to be added up.
const muchMoney = Money(math.MaxInt64 / 4)

// forbidden is the price of what there is no way to have.
const forbidden = Money(math.MaxInt64)

// share returns part of a whole of some money, rounded up; muchMoney where that
// is more.
func share(money Money, part, whole int) Money {
	high, low := bits.Mul64(uint64(money), uint64(part))
	if high >= uint64(whole) {
		return muchMoney
	}
	quotient, rest := bits.Div64(high, low, uint64(whole))
	if rest > 0 {
		quotient++
	}
	return Money(min(quotient, uint64(muchMoney)))
}

func plus(a, b Money) Money { return min(a+b, muchMoney) }

// up and down round to whole money, past all that floating point may have lost.
func up(price float64) Money {
	if price == 0 {
		return 0
	}
	return Money(math.Min(math.Ceil(price*(1+1e-12))+1, float64(muchMoney)))
}

func down(price float64) Money {
	return Money(math.Max(0, math.Min(math.Floor(price*(1-1e-12))-1, float64(muchMoney))))
}
