package csvlist

import (
	"encoding/csv"
	"io"
	"strings"
)

// A Writer writes a list as CSV.
type Writer struct{ csv *csv.Writer }

// NewWriter writes the first row, which names the columns.
func NewWriter(w io.Writer, columns ...string) *Writer {
	out := &Writer{csv.NewWriter(w)}
	out.Row(columns...)
	return out
}

// Row writes a row. Errors are kept for Close.
func (w *Writer) Row(cells ...string) {
	safe := make([]string, len(cells))
	for i, cell := range cells {
		safe[i] = harmless(cell)
	}
	_ = w.csv.Write(safe) // Close tells
}

// Close writes what is left, and tells the first error.
func (w *Writer) Close() error {
	w.csv.Flush()
	return w.csv.Error()
}

// harmless keeps a spreadsheet from taking a text for a formula: what begins
// as one gets an apostrophe before it. Numbers that begin with a minus are
// texts here too.
func harmless(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r\n|%", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
