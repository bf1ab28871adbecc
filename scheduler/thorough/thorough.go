// Package thorough says how much tests try: as much as lets all of them end within
// three minutes, or all that there is to try where THOROUGH=true, as .ci/run sets it.
package thorough

import (
	"flag"
	"os"
	"runtime/debug"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

var all = os.Getenv("THOROUGH") == "true"

// What tests make is mostly garbage: collected a quarter as often, it takes a fifth
// of the time off them, for little memory.
func init() { debug.SetGCPercent(400) }

// Of returns the first of two values, and the second in a thorough run.
func Of[T any](few, many T) T {
	if all {
		return many
	}
	return few
}

// Check tries a property on a few draws, and in a thorough run on as many as rapid
// would. A number given by -rapid.checks goes before both.
func Check(t *testing.T, few int, property func(*rapid.T)) {
	t.Helper()
	if draws := flag.Lookup("rapid.checks"); !all && draws.Value.String() == draws.DefValue {
		set(t, draws.Value, strconv.Itoa(few))
		defer set(t, draws.Value, draws.DefValue)
	}
	rapid.Check(t, property)
}

func set(t *testing.T, draws flag.Value, to string) {
	t.Helper()
	if err := draws.Set(to); err != nil {
		t.Fatal(err)
	}
}
