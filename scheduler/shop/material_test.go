package shop_test

import (
	"math"
	"testing"

	"blankwright/scheduler/shop"
)

// A flag of n wraps of a ply t thick on a mandrel d thick is π·n·(d + n·t) wide
// there. 1200 mm long, on a mandrel of 2.0 to 8.0 mm, 4 wraps of 0.10 mm are 30.159
// mm wide at the tip and 105.558 at the butt, of 81,430 mm². Times the ply's
// thickness that is the tube's wall, the difference of two frusta of πh(R² + Rr +
// r²)/3 each (as in Machinery's Handbook, from memory): 8,143.0 mm³.
func TestFlag_M2IsTheTubesWall(t *testing.T) {
	const length, tip, butt, wraps, ply = 1200, 2.0, 8.0, 4, 0.10
	width := func(d float64) float64 { return math.Pi * wraps * (d + wraps*ply) }
	frustum := func(d, e float64) float64 { return math.Pi * length * (d*d + d*e + e*e) / 12 }
	flag := shop.Flag{LengthMM: length, ButtMM: width(butt), TipMM: width(tip)}
	area := flag.M2() * 1e6
	if math.Round(width(tip)*1000) != 30159 || math.Round(width(butt)*1000) != 105558 {
		t.Errorf("the flag is %.3f to %.3f mm wide, want 30.159 to 105.558", width(tip), width(butt))
	}
	if math.Round(area) != 81430 {
		t.Errorf("the flag's area is %.1f mm², want 81430", area)
	}
	wall := frustum(tip+2*wraps*ply, butt+2*wraps*ply) - frustum(tip, butt)
	if math.Abs(area*ply-wall) > 1e-9*wall || math.Round(wall*10) != 81430 {
		t.Errorf("the flag's volume is %.4f mm³, the wall's %.4f, want 8143.0", area*ply, wall)
	}
}
