// Package benchtest poses problems of the literature, whose optima are known,
// as shops in which the same optimum is the least that a plan can cost: what
// comes from outside is there to test the engine against.
//
// The problems' files are not part of this project. They are read from beside
// it; where they are missing, a test that asks for them is skipped, and fails
// where CI=true. Nothing but tests may import this package, which is why it may
// read files. It knows the file types of shop and plan, and shoptest's bare shop.
package benchtest
