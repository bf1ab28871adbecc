package web

import (
	"io"

	"blankwright/store"
)

// A StockPage lists what there is of each product, what of it is kept back, and
// what is asked for because it falls below its level.
type StockPage struct {
	Frame
	Rows   []StockRow
	Change bool // whether the caller sets levels
}

// A StockRow is one product on the shelf.
type StockRow struct {
	store.Holding
	Name    string
	Address string
	Restock []LineRow // what is asked for to be laid on the shelf
}

// Free is how many sets lie there for open lines: what a plan may use.
func (r *StockRow) Free() int { return r.OnHand - r.Kept }

// Render writes the page.
func (p *StockPage) Render(w io.Writer) error { return render(w, "stock", p) }

// A ShelfPage is one product's stock: its level, the lines that ask for it, and
// why it is what it is.
type ShelfPage struct {
	Frame
	Row      StockRow
	Level    *store.Level // nil where it has none
	Lines    []ShelfLine
	Moves    []store.StockMove
	Older    string // the address of the moves after these
	SetLevel ChangeForm
	Move     ChangeForm
	Restock  ChangeForm
	May      Shelving
}

// Shelving says what a caller may do with stock.
type Shelving struct{ Restock, Move, Change, Send, Hold bool }

// A ShelfLine is an open line for a product, with the forms of those that are
// for the shelf alone.
type ShelfLine struct {
	OrderLine
	Address string // of the page that shows it; empty where that is this one
	Level   bool   // it follows from the level
	Send    ChangeForm
}

// Render writes the page.
func (p *ShelfPage) Render(w io.Writer) error { return render(w, "shelf", p) }
