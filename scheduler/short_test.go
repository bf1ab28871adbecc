package scheduler_test

import "testing"

// leftOutShort passes over a test in a short run, which is there for the race
// detector: more of the same shops, or what one goroutine does alone, is left to
// the full one.
func leftOutShort(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("left to a run that is not short")
	}
}
