package api

import (
	"os"
	"runtime"
)

// threadsPerProcessor is how many threads may run Go at once for each processor while
// a server serves.
const threadsPerProcessor = 8

// shareProcessors has the system share the processors out between requests and the
// plan that is being made, until restore is called. A plan keeps as many goroutines
// busy as it likes; with a thread to a processor, Go lets a request wait for a turn of
// ten milliseconds at each of its steps, where the system, with more threads than it
// has processors, lets it in at once. Who sets GOMAXPROCS has his way.
func shareProcessors() (restore func()) {
	if os.Getenv("GOMAXPROCS") != "" {
		return func() {}
	}
	before := runtime.GOMAXPROCS(threadsPerProcessor * runtime.NumCPU())
	return func() { runtime.GOMAXPROCS(before) }
}
