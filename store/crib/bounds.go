package crib

import (
	"fmt"
	"time"

	"blankwright/scheduler/strict"
)

// Instants that the books hold for things of the crib lie from earliest up to
// latest, so that any shop file can state them. Nothing lasts longer than
// longest.
var (
	earliest = time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)
	latest   = time.Date(3000, 1, 1, 0, 0, 0, 0, time.UTC)
)

const longest = 10 * 366 * 24 * time.Hour

// InstantProblems says so where an instant is missing or out of range.
func InstantProblems(path string, at time.Time) strict.Problems {
	switch {
	case at.IsZero():
		return strict.Problems{{Path: path, Message: "is missing"}}
	case at.Before(earliest) || !at.Before(latest):
		return strict.Problems{{Path: path, Message: "is out of range, which is the years 1970 to 2999"}}
	}
	return nil
}

// LimitProblems says so where a time that something may take, in whole
// minutes, is out of range; 0 is fine.
func LimitProblems(path string, limit time.Duration) strict.Problems {
	if limit < 0 || limit > longest {
		message := fmt.Sprintf("is %d, but must be from 0 to %d", int64(limit/time.Minute), int64(longest/time.Minute))
		return strict.Problems{{Path: path, Message: message}}
	}
	return nil
}
