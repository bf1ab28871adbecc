// Command blankwright plans a shop of rolled blanks: what is cut, rolled and
// cured when, and which orders that serves. `blankwright help` tells more.
package main

import (
	"context"
	"os"
	"runtime/debug"
	_ "time/tzdata" // time zones where the system has none
)

func main() {
	// A search leaves much behind and needs little at once: garbage collected a
	// quarter as often saves a tenth of its time. GOGC still overrides it.
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
	os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
