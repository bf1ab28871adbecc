// Package shoptest makes invented shops for tests and benchmarks: random ones
// in all their variety (Make), small enough to search exhaustively (Tiny), as
// large as a busy season (Grow), without any hope (Hopeless), the shop that a
// plan leaves behind some time later (Advance), and one in which nothing binds,
// for a test to tighten (Bare).
//
// Each is a pure function of its arguments: the same seed makes the same shop,
// to the byte. It knows the file types of shop and plan and no algorithm, so
// that any test of the engine may import it; nothing but tests should.
package shoptest
