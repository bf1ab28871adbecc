package cure_test

import (
	"math"
	"strings"
	"testing"

	"blankwright/scheduler/cure"
	"blankwright/scheduler/shop"
)

// rod is a resin with an unsorted table of published pairs for rod epoxies: 20 h at
// 80 °C, 4 h at 120, 60 min at 135. They are a trade fact without a named source.
var rod = shop.Resin{
	ID: "rod", MaxRampCPerMin: 2, MaxC: 140,
	Soak: []shop.SoakPoint{{C: 120, Minutes: 240}, {C: 135, Minutes: 60}, {C: 80, Minutes: 1200}},
}

func segment(ramp, to, soak float64) shop.Segment {
	return shop.Segment{RampCPerMin: ramp, ToC: to, SoakMinutes: soak}
}

func profile(segments ...shop.Segment) *shop.Profile {
	return &shop.Profile{ID: "p", Segments: segments, CoolCPerMin: 4, CoolToC: 50}
}

// A profile cures a resin where no rising segment heats too fast, none is too
// hot, and one soaks for long enough; "" stands for no fault.
func TestResin_JudgesRampHeatAndSoak(t *testing.T) {
	cases := []struct {
		name    string
		p       *shop.Profile
		ambient float64
		fault   string
	}{
		{"published pair at 135", profile(segment(2, 135, 60)), 20, ""},
		{"published pair at 120", profile(segment(2, 120, 240)), 20, ""},
		{"published pair at 80", profile(segment(2, 80, 1200)), 20, ""},
		{"a minute short at 120", profile(segment(2, 120, 239)), 20, "soaks resin rod"},
		{"between two points", profile(segment(2, 127.5, 150)), 20, ""}, // (240 + 60) / 2
		{"just short between two points", profile(segment(2, 127.5, 149.9)), 20, "soaks resin rod"},
		{"two soaks do not add up", profile(segment(2, 120, 120), segment(2, 120, 120)), 20, "soaks resin rod"},
		{"a later segment soaks", profile(segment(2, 90, 30), segment(1, 135, 60)), 20, ""},
		{"below the table", profile(segment(2, 79, 5000)), 20, "soaks resin rod"},
		{"above the table, short of too hot", profile(segment(2, 138, 500)), 20, "soaks resin rod"},
		{"too fast", profile(segment(2.1, 135, 60)), 20, "heats at 2.1"},
		{"a tolerance too fast", profile(segment(2+9e-7, 135, 60)), 20, ""},
		{"more than a tolerance too fast", profile(segment(2+3e-6, 135, 60)), 20, "heats at"},
		{"the second segment too fast", profile(segment(1, 120, 240), segment(3, 135, 0)), 20, "heats at 3"},
		{"a falling segment is not judged for its ramp", profile(segment(2, 135, 60), segment(9, 80, 0)), 20, ""},
		{"a level segment is not judged for its ramp", profile(segment(2, 120, 0), segment(9, 120, 240)), 20, ""},
		{"level within the tolerance", profile(segment(2, 120, 0), segment(9, 120+5e-7, 240)), 20, ""},
		{"ambient above the first segment: it falls", profile(segment(9, 80, 1200)), 90, ""},
		{"too hot", profile(segment(2, 141, 0), segment(9, 135, 60)), 20, "reaches 141"},
		{"a tolerance too hot", profile(segment(2, 140+9e-7, 0), segment(9, 135, 60)), 20, ""},
		{"ambient is no segment and is not judged", profile(segment(1, 120, 240)), 150, ""},
		{"a tolerance off the table's end", profile(segment(2, 135+9e-7, 60)), 20, ""},
		{"soak within the tolerance", profile(segment(2, 135, 60-9e-7)), 20, ""},
		{"soak short by more than the tolerance", profile(segment(2, 135, 60-3e-6)), 20, "soaks resin rod"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { expectFault(t, cure.Resin(c.p, &rod, c.ambient), c.fault) })
	}
}

// expectFault compares a reason: none where want is "", else one that names it.
func expectFault(t *testing.T, got, want string) {
	t.Helper()
	if (got == "") != (want == "") || !strings.Contains(got, want) {
		t.Errorf("the fault is %q, want one with %q", got, want)
	}
}

// A table is linear between its points, in whatever order they stand, and says
// nothing outside.
func TestSoakMinutes_InterpolatesUnsortedTable(t *testing.T) {
	cases := []struct {
		c, minutes float64
		ok         bool
	}{
		{80, 1200, true},
		{100, 720, true}, // 1200 - 960 × 20/40
		{120, 240, true},
		{125, 180, true}, // 240 - 180 × 5/15
		{135, 60, true},
		{79.9, 0, false},
		{135.1, 0, false},
	}
	for _, c := range cases {
		got, ok := cure.SoakMinutes(&rod, c.c)
		if ok != c.ok || math.Abs(got-c.minutes) > 1e-9 {
			t.Errorf("at %g °C: %g minutes, %t; want %g, %t", c.c, got, ok, c.minutes, c.ok)
		}
	}
}

// A table of one point holds at that temperature only, within the tolerance.
func TestSoakMinutes_OnePoint(t *testing.T) {
	one := shop.Resin{Soak: []shop.SoakPoint{{C: 120, Minutes: 90}}}
	for c, want := range map[float64]bool{119.9: false, 120 - 5e-7: true, 120: true, 120 + 5e-7: true, 120.1: false} {
		if got, ok := cure.SoakMinutes(&one, c); ok != want || ok && got != 90 {
			t.Errorf("at %g °C: %g minutes, %t", c, got, ok)
		}
	}
}

// The hottest segment, or the air where that is hotter, shrinks a tape and may
// not melt it.
func TestTape_JudgesThePeak(t *testing.T) {
	film := shop.Tape{ID: "film", ShrinkFromC: 90, MaxC: 140}
	cases := []struct {
		name    string
		p       *shop.Profile
		ambient float64
		fault   string
	}{
		{"within", profile(segment(2, 120, 60)), 20, ""},
		{"at its lower end", profile(segment(2, 90, 60)), 20, ""},
		{"at its upper end", profile(segment(2, 140, 60)), 20, ""},
		{"too cool", profile(segment(2, 89, 60)), 20, "shrinks from 90"},
		{"too hot", profile(segment(2, 100, 60), segment(2, 141, 0)), 20, "bears 140"},
		{"a tolerance too cool", profile(segment(2, 90-9e-7, 60)), 20, ""},
		{"a tolerance too hot", profile(segment(2, 140+9e-7, 60)), 20, ""},
		{"shrunk by the air", profile(segment(2, 60, 60)), 95, ""},
		{"melted by the air", profile(segment(2, 120, 60)), 150, "bears 140"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { expectFault(t, cure.Tape(c.p, &film, c.ambient), c.fault) })
	}
}

// The cure minutes are ramps, soaks, cooling and lag, rounded up once at last.
func TestMinutes_SumsByHand(t *testing.T) {
	two := profile(segment(2, 80, 30), segment(1.5, 125, 90))
	cases := []struct {
		name         string
		p            *shop.Profile
		ambient, lag float64
		want         int
	}{
		// (80-20)/2 + 30 + (125-80)/1.5 + 90 + (125-50)/4 = 30+30+30+90+18.75 = 198.75
		{"two segments", two, 20, 0, 199},
		{"with a lag that fills the minute", two, 20, 0.25, 199},
		{"with a lag past the minute", two, 20, 0.26, 200},
		{"a tolerance past the minute is not past it", two, 20, 0.25 + 9e-7, 199},
		// The first segment falls from 90: (90-80)/2 + 30 + 30 + 90 + 18.75 = 173.75
		{"air above the first segment", two, 90, 0, 174},
		// (120-20)/2 + 60 + (120-100)/5 + 0 + (100-50)/4 = 50+60+4+12.5 = 126.5
		{"a falling segment", profile(segment(2, 120, 60), segment(5, 100, 0)), 20, 0, 127},
		// (45-20)/1 + 10, and no cooling from 45 to 50: 35
		{"nothing to cool", profile(segment(1, 45, 10)), 20, 0, 35},
		// 50 + 59.5 + (120-50)/4 = 127 exactly
		{"a whole sum stays", profile(segment(2, 120, 59.5)), 20, 0, 127},
	}
	for _, c := range cases {
		if got := cure.Minutes(c.p, c.ambient, c.lag); got != c.want {
			t.Errorf("%s: %d minutes, want %d", c.name, got, c.want)
		}
	}
}

// The peak is the hottest segment, wherever it stands, and the air at least.
func TestPeak_IsTheHottest(t *testing.T) {
	cases := []struct {
		p             *shop.Profile
		ambient, want float64
	}{
		{profile(segment(1, 80, 0), segment(1, 130, 0), segment(1, 100, 0)), 20, 130},
		{profile(segment(1, 80, 0)), 95, 95},
		{profile(segment(1, 80, 0)), 80, 80},
	}
	for _, c := range cases {
		if got := cure.Peak(c.p, c.ambient); got != c.want {
			t.Errorf("the peak is %g, want %g", got, c.want)
		}
	}
}
