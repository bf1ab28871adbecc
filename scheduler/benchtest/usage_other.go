//go:build !unix

package benchtest

import "time"

// ProcessorTime is not known on this system.
func ProcessorTime() time.Duration { return 0 }
