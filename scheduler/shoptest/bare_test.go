package shoptest_test

import (
	"testing"

	"blankwright/scheduler/shoptest"
)

// A bare shop is valid as it stands, with demand too.
func TestBare_IsValid(t *testing.T) {
	s := shoptest.Bare()
	shoptest.AddLine(s, "P", 3, 5, 1)
	if got := shoptest.Accepted(s); len(got.Demand) != 1 || got.Now.String() != "2027-03-01T00:00:00Z" {
		t.Errorf("a bare shop reads back with %d lines at %s", len(got.Demand), got.Now)
	}
}
