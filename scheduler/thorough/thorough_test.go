package thorough_test

import (
	"os"
	"testing"

	"pgregory.net/rapid"

	"blankwright/scheduler/thorough"
)

// A property is tried on as few draws as it says, and on all of rapid's in a
// thorough run; what other properties are tried on stays as it was.
func TestCheck_Draws(t *testing.T) {
	few, rest := 0, 0
	thorough.Check(t, 7, func(*rapid.T) { few++ })
	rapid.Check(t, func(*rapid.T) { rest++ })
	want := 7
	if os.Getenv("THOROUGH") == "true" {
		want = rest
	}
	if few != want || rest < 50 || thorough.Of(7, rest) != want {
		t.Errorf("%d draws, %d of another property; want %d, more", few, rest, want)
	}
}
