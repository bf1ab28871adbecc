package unit_test

import (
	"strings"
	"testing"

	"blankwright/api/web/unit"
)

// Each measure is written in both systems; 1 in is 25.4 mm, 1 kg 2.20462 lb
// and 1 m² 10.7639 ft² (NIST SP 811, appendix B).
func TestSystem(t *testing.T) {
	metric, inch := unit.System{}, unit.System{Inch: true, Fahrenheit: true}
	tests := []struct{ what, metric, inch, wantMetric, wantInch string }{
		{"length", metric.Length(1040), inch.Length(1040), "1,040 mm", "40.9 in"},
		{"flag", metric.Flag(3.04), inch.Flag(3.04), "3 mm", "0.12 in"},
		{"diameter", metric.Diameter(8.75), inch.Diameter(8.75), "8.8 mm", "0.344 in"},
		{"weight", metric.Weight(136.54), inch.Weight(136.54), "136.5 kg", "301 lb"},
		{"little weight", metric.Weight(0.207), inch.Weight(0.207), "0.207 kg", "0.456 lb"},
		{"area", metric.Area(2.168), inch.Area(2.168), "2.17 m²", "23.3 ft²"},
		{"pitch", metric.Pitch(2.54), inch.Pitch(2.54), "2.54 mm", "10 wraps to the inch"},
		{"temperature", metric.Temperature(125), inch.Temperature(125), "125 °C", "257 °F"},
		{"frost", metric.Temperature(-18), inch.Temperature(-18), "−18 °C", "0 °F"},
		{"ramp", metric.Ramp(1.5), inch.Ramp(1.5), "1.5 °C/min", "2.7 °F/min"},
	}
	for _, test := range tests {
		if got := plain(test.metric); got != test.wantMetric {
			t.Errorf("%s: %q, want %q", test.what, got, test.wantMetric)
		}
		if got := plain(test.inch); got != test.wantInch {
			t.Errorf("%s: %q, want %q", test.what, got, test.wantInch)
		}
	}
}

// Numbers are grouped, and as long as they need to be or as they are told.
func TestNumber(t *testing.T) {
	tests := []struct{ got, want string }{
		{unit.Number(1234567.25, 1), "1,234,567.3"},
		{unit.Number(-0.04, 1), "0"},
		{unit.Number(-1234, 0), "−1,234"},
		{unit.Fixed(2031, 2), "2,031.00"},
		{plain(unit.Minutes(45)), "45 min"},
		{plain(unit.Minutes(245)), "4 h 05"},
	}
	for _, test := range tests {
		if test.got != test.want {
			t.Errorf("%q, want %q", test.got, test.want)
		}
	}
}

// plain has ordinary spaces for those that do not break.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }
