// Package csvlist reads and writes lists of demand as CSV (RFC 4180): what a
// dealer sends, row by row with every problem of each, and what can be opened
// in a spreadsheet without a cell being taken for a formula.
//
// It knows neither books nor web. The packages of api import it.
package csvlist

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"blankwright/scheduler/shop"
)

// The columns that Read knows, by the names in the first row. Product,
// quantity and due must be there; the others may be.
const (
	columnOrder    = "order"
	columnProduct  = "product"
	columnQuantity = "quantity"
	columnDue      = "due"
	columnWeight   = "weight"
	columnPromised = "promised"
	columnComplete = "complete"
)

func known() []string {
	return []string{columnOrder, columnProduct, columnQuantity, columnDue, columnWeight, columnPromised, columnComplete}
}

// MostRows is the most rows of a list.
const MostRows = 5000

// A Row is one row of a list. Number is its line in the file, the first is 1.
type Row struct {
	Number   int
	Order    string // the dealer's own number: rows that share one are one order
	Product  string
	Quantity int
	Due      shop.Date
	Weight   *float64
	Promised *shop.Date
	Complete *bool
}

// A Problem is one thing that is wrong with a list: at a row (0: the list as a
// whole), in a column (empty: the row as a whole).
type Problem struct {
	Row     int
	Column  string
	Message string
}

// Read reads a list: the first row names the columns, in any order; cells are
// parted by commas or semicolons. Rows with problems come too, with what could
// be read of them, so that all that is wrong can be told at once.
func Read(text []byte) ([]Row, []Problem) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if !utf8.Valid(text) {
		return nil, []Problem{{Message: "is not text in UTF-8"}}
	}
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma = separator(text)
	r.FieldsPerRecord = -1 // told of each row below
	r.TrimLeadingSpace = true
	head, err := r.Read()
	if err != nil {
		return nil, []Problem{{Row: 1, Message: "there is no first row that names the columns"}}
	}
	columns, problems := columnsOf(head)
	if problems != nil {
		return nil, problems
	}
	return rows(r, columns)
}

// separator is what parts the columns' names.
func separator(text []byte) rune {
	head, _, _ := bytes.Cut(text, []byte("\n"))
	if bytes.Count(head, []byte(";")) > bytes.Count(head, []byte(",")) {
		return ';'
	}
	return ','
}

func columnsOf(head []string) (columns []string, problems []Problem) {
	for _, name := range head {
		name = strings.ToLower(strings.TrimSpace(name))
		switch {
		case !slices.Contains(known(), name):
			problems = append(problems, Problem{1, name, "is no column; there are " + strings.Join(known(), ", ")})
		case slices.Contains(columns, name):
			problems = append(problems, Problem{1, name, "is here a second time"})
		}
		columns = append(columns, name)
	}
	for _, name := range []string{columnProduct, columnQuantity, columnDue} {
		if !slices.Contains(columns, name) {
			problems = append(problems, Problem{1, name, "is missing"})
		}
	}
	return columns, problems
}

func rows(r *csv.Reader, columns []string) (list []Row, problems []Problem) {
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return list, append(problems, malformed(err))
		}
		number, _ := r.FieldPos(0)
		if len(list) == MostRows {
			return list, append(problems, Problem{number, "", fmt.Sprintf("is one too many: a list has at most %d rows", MostRows)})
		}
		row, wrong := rowOf(number, columns, cells)
		list = append(list, row)
		problems = append(problems, wrong...)
	}
	if len(list) == 0 && problems == nil {
		problems = []Problem{{Message: "has no row but the first"}}
	}
	return list, problems
}

func malformed(err error) Problem {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		return Problem{parse.Line, "", "is no row of CSV: " + parse.Err.Error()}
	}
	return Problem{Message: "can't be read"}
}

func rowOf(number int, columns, cells []string) (Row, []Problem) {
	row := Row{Number: number}
	if len(cells) != len(columns) {
		return row, []Problem{{number, "", fmt.Sprintf("has %d cells, but there are %d columns", len(cells), len(columns))}}
	}
	var problems []Problem
	for i, column := range columns {
		if message := row.set(column, strings.TrimSpace(cells[i])); message != "" {
			problems = append(problems, Problem{number, column, message})
		}
	}
	return row, problems
}

// set reads one cell, or says what is wrong with it.
func (r *Row) set(column, cell string) string {
	switch column {
	case columnOrder:
		r.Order = cell
	case columnProduct:
		r.Product = cell
		return needed(cell)
	case columnQuantity:
		n, err := strconv.Atoi(cell)
		if err != nil || n < 1 || n > 1e9 {
			return fmt.Sprintf("is %q, but must be a whole number from 1", short(cell))
		}
		r.Quantity = n
	case columnDue:
		return date(cell, &r.Due)
	case columnWeight:
		return r.weight(cell)
	case columnPromised:
		if cell != "" {
			r.Promised = new(shop.Date)
			return date(cell, r.Promised)
		}
	case columnComplete:
		return r.complete(cell)
	}
	return ""
}

func (r *Row) weight(cell string) string {
	if cell == "" {
		return ""
	}
	w, err := strconv.ParseFloat(cell, 64)
	if err != nil || !(w >= 0 && w <= 1e9) {
		return fmt.Sprintf("is %q, but must be a number from 0, as 1.5", short(cell))
	}
	r.Weight = &w
	return ""
}

func (r *Row) complete(cell string) string {
	yes := strings.EqualFold(cell, "yes")
	switch {
	case cell == "":
	case yes || strings.EqualFold(cell, "no"):
		r.Complete = &yes
	default:
		return fmt.Sprintf("is %q, but must be yes or no", short(cell))
	}
	return ""
}

func date(cell string, into *shop.Date) string {
	if err := into.UnmarshalText([]byte(cell)); err != nil {
		return fmt.Sprintf("is %q, but must be a date as 2027-03-01", short(cell))
	}
	return ""
}

func needed(cell string) string {
	if cell == "" {
		return "is empty"
	}
	return ""
}

// short cuts off what nobody needs to see again.
func short(cell string) string {
	if letters := []rune(cell); len(letters) > 40 {
		return string(letters[:40]) + "…"
	}
	return cell
}
