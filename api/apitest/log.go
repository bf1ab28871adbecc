package apitest

import (
	"strings"
	"sync"
)

// A Log holds what the server has logged.
type Log struct {
	mu   sync.Mutex
	text strings.Builder
}

// Write adds to the log.
func (l *Log) Write(line []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(line)
}

// String returns all of the log.
func (l *Log) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}
