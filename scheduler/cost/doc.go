// Package cost counts money: what late and early sets cost (section 6 of the
// contract), by allocating the good sets of a product to its lines (rule R13).
//
// A Book keeps the count up to date while loads come and go, and can go back.
// What ovens and set-ups cost is counted where a load is placed; the sum of all
// terms is the answer's. It imports instance and line.
package cost
