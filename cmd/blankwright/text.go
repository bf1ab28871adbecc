package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// pageWidth is the columns for which texts are laid out.
const pageWidth = 80

// A table lays cells out in columns as wide as they need.
type table struct {
	align string // for each column "l" or "r"
	rows  [][]string
}

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

// text returns the table's lines, each after indent, without spaces at the
// end.
func (t *table) text(indent string) string {
	widths := make([]int, len(t.align))
	for _, row := range t.rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	var out strings.Builder
	for _, row := range t.rows {
		line := indent
		for i, cell := range row {
			line += padded(cell, widths[i], t.align[i] == 'r') + "  "
		}
		out.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return out.String()
}

func padded(cell string, width int, right bool) string {
	space := strings.Repeat(" ", width-utf8.RuneCountInString(cell))
	if right {
		return space + cell
	}
	return cell + space
}

// wrap breaks a text at spaces into lines of at most width where words allow.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && utf8.RuneCountInString(line+" "+word) > width {
			lines = append(lines, line)
			line = ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	return append(lines, line)
}

// paragraph wraps a text to the page, its first line after first, the others
// after as many spaces.
func paragraph(first, text string) string {
	indent := strings.Repeat(" ", utf8.RuneCountInString(first))
	lines := wrap(text, pageWidth-len(indent))
	return first + strings.Join(lines, "\n"+indent) + "\n"
}

// counted returns a number with its noun: 1 load, 2 loads.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return grouped(n) + " " + noun + "s"
}

// grouped returns a whole number with commas between thousands.
func grouped(n int) string {
	digits := strconv.Itoa(n)
	for i := len(digits) - 3; i > 0 && digits[i-1] != '-'; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return digits
}

// money returns an amount to the hundredth.
func money(amount float64) string {
	cents := math.Round(amount * 100)
	whole, part := math.Modf(math.Abs(cents) / 100)
	sign := ""
	if cents < 0 {
		sign = "-"
	}
	return fmt.Sprintf("%s%s.%02.0f", sign, grouped(int(whole)), part*100)
}

// percent returns a share, as 12.3 %.
func percent(share float64) string { return fmt.Sprintf("%.1f %%", share*100) }

// decimal returns a number with as many digits as it needs, at most some.
func decimal(x float64, digits int) string {
	text := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
