// Package strict reads JSON into Go structs and refuses all that does not fit
// exactly: unknown and missing fields, keys that come twice, other types,
// numbers out of range, trailing data, text that is not UTF-8. It collects
// every problem with the path of its place, so that a file can be mended in
// one go. It also writes the form that it reads.
//
// It knows nothing of the shop: what a file means is judged by the package
// that owns the format, which adds its problems to the same Document. It
// imports the standard library only; shop and plan import it.
package strict

import (
	"fmt"
	"strings"
)

// A Problem is one thing that is wrong with a file. Path leads to its place,
// as products[3].sections[0].mandrel; it is empty for the file as a whole.
type Problem struct{ Path, Message string }

// String returns the path and the message.
func (p Problem) String() string {
	if p.Path == "" {
		return p.Message
	}
	return p.Path + ": " + p.Message
}

// Problems are all that is wrong with a file, in the file's order.
type Problems []Problem

// shown is how many problems an error text spells out.
const shown = 20

// Error returns the problems, one a line; the slice holds those it leaves out.
func (p Problems) Error() string {
	lines := make([]string, 0, shown+1)
	for i, problem := range p {
		if i == shown {
			lines = append(lines, fmt.Sprintf("and %d more", len(p)-shown))
			break
		}
		lines = append(lines, problem.String())
	}
	return strings.Join(lines, "\n")
}
