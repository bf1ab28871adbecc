// Command blankwright plans a shop of rolled blanks: what is cut, rolled and
// cured when, and which orders that serves. `blankwright help` tells more.
package main

import (
	"context"
	"os"
	_ "time/tzdata" // time zones where the system has none
)

func main() { os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
