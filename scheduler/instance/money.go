package instance

import "math"

// Money is a whole number of the smallest money that an instance counts.
type Money = int64

// Scales are powers of ten: the finest whose sums cannot overflow is taken.
const (
	finestScale = 1e9
	coarsest    = 1
	roomForSums = float64(1 << 60)
)

// scaleFor returns how many of the smallest money make one of the shop's, when
// no sum exceeds worst.
func scaleFor(worst float64) float64 {
	scale := float64(finestScale)
	for scale > coarsest && worst*scale > roomForSums {
		scale /= 10
	}
	return scale
}

// Money returns a price in the smallest money.
func (in *Instance) Money(price float64) Money { return Money(math.Round(price * in.scale)) }

// Price returns money in the shop's own unit.
func (in *Instance) Price(m Money) float64 { return float64(m) / in.scale }

// LoadCost returns what a load of so many cure minutes costs in an oven.
func (in *Instance) LoadCost(oven int, minutes Tick) Money {
	o := &in.Ovens[oven]
	return in.Money(o.RunCost + o.HourCost*float64(minutes)/60)
}

// A ReleasedCost is what released work costs; no plan can change it.
type ReleasedCost struct{ Oven, Setup Money }

// ReleasedCost returns what the released loads' ovens and set-ups cost.
func (in *Instance) ReleasedCost() (sum ReleasedCost) {
	for _, l := range in.Released.Loads {
		sum.Oven += in.LoadCost(l.Oven, l.CureMinutes)
	}
	for _, t := range in.Released.Tasks {
		if t.Setup {
			sum.Setup += in.Stations[t.Stage].SetupPrice
		}
	}
	return sum
}
