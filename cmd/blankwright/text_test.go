package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Amounts have two decimals and commas, and round to the nearest.
func TestMoney(t *testing.T) {
	tests := map[float64]string{
		0: "0.00", 0.004: "0.00", 0.005: "0.01", 999.999: "1,000.00", 1234567.8: "1,234,567.80", -0.5: "-0.50", -1234: "-1,234.00",
	}
	for amount, want := range tests {
		if got := money(amount); got != want {
			t.Errorf("money(%v) is %s, want %s", amount, got, want)
		}
	}
}

// Numbers keep no more digits than they need.
func TestDecimal(t *testing.T) {
	tests := []struct {
		x      float64
		digits int
		want   string
	}{{2, 1, "2"}, {2.5, 2, "2.5"}, {2.456, 2, "2.46"}, {100, 0, "100"}, {0.04, 1, "0"}}
	for _, test := range tests {
		if got := decimal(test.x, test.digits); got != test.want {
			t.Errorf("decimal(%v, %d) is %s, want %s", test.x, test.digits, got, test.want)
		}
	}
}

// Nouns agree with their number.
func TestCounted(t *testing.T) {
	for n, want := range map[int]string{0: "0 loads", 1: "1 load", 2: "2 loads", 1200: "1,200 loads"} {
		if got := counted(n, "load"); got != want {
			t.Errorf("counted(%d) is %s, want %s", n, got, want)
		}
	}
}

// Columns align by characters, not bytes, and no line ends in a space.
func TestTable(t *testing.T) {
	tab := table{align: "lrl"}
	tab.row("m²", "1", "left")
	tab.row("longer", "1,000", "")
	want := "> m²          1  left\n> longer  1,000\n"
	if diff := cmp.Diff(want, tab.text("> ")); diff != "" {
		t.Errorf("table (-want +got):\n%s", diff)
	}
}

// A paragraph keeps within the page and its indent; a long word stands alone.
func TestParagraph(t *testing.T) {
	word := strings.Repeat("x", 90)
	got := paragraph("  ! ", strings.Repeat("word ", 20)+word)
	lines := strings.Split(got, "\n")
	if !strings.HasPrefix(lines[0], "  ! word") || lines[2] != "    "+word {
		t.Errorf("paragraph:\n%s", got)
	}
	for _, line := range lines[:2] {
		if len(line) > pageWidth {
			t.Errorf("%d columns: %s", len(line), line)
		}
	}
}
