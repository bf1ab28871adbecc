// Package binding tells why a line is late or left out: what binds, with the
// numbers behind it, and how that is known.
//
// Some reasons are proven from the shop alone: a rule that no load can keep, a
// piece that even an empty shop has too late, material that is not there. All
// others are found by trying: what the line waits for is placed anew in the
// finished plan, all else as it is, with one resource after the other without
// limit; the one that brings the line furthest forward binds.
//
// It works on a copy of the answer and changes nothing. It imports alone,
// answer, cost, instance, line, rack and shop.
package binding
