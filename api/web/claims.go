package web

import (
	"io"

	"blankwright/store"
)

// A ClaimPage is one warranty claim, with the line that replaces what failed.
type ClaimPage struct {
	Frame
	Claim    store.Claim
	Line     OrderLine
	Open     int        // sets that are still to be sent
	Send     ChangeForm // without fields where the caller may not, or nothing is open
	Change   bool       // whether the caller may change the line
	Products []string
}

// Render writes the page.
func (p *ClaimPage) Render(w io.Writer) error { return render(w, "claim", p) }
