package main

import (
	"os"
	"os/signal"
	"sync"
	"time"
)

// Why a search was stopped from outside.
const (
	byInterrupt = "interrupt"
	byLimit     = "limit"
)

// A stopper ends a search early: at a limit on the clock, or when the user
// asks for it. The search polls it from wherever it likes.
type stopper struct {
	now      func() time.Time
	limit    time.Duration // 0: none
	deadline time.Time

	mu  sync.Mutex
	why string
}

func newStopper(now func() time.Time, limit time.Duration) *stopper {
	s := &stopper{now: now, limit: limit}
	if limit > 0 {
		s.deadline = now().Add(limit)
	}
	return s
}

// stop reports whether the search should end.
func (s *stopper) stop() bool {
	if s.limit > 0 && !s.now().Before(s.deadline) {
		s.because(byLimit)
	}
	return s.reason() != ""
}

// spent returns the share of the time that is over, 0 where there is no limit.
func (s *stopper) spent() float64 {
	if s.limit == 0 {
		return 0
	}
	return 1 - float64(s.deadline.Sub(s.now()))/float64(s.limit)
}

// because stops the search; the first reason stands.
func (s *stopper) because(why string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.why == "" {
		s.why = why
	}
}

// reason returns why the search was stopped, or "".
func (s *stopper) reason() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.why
}

// onInterrupt stops the search at the first Ctrl-C and leaves a second one to
// the system, which quits. It returns a function that ends the watch.
func (s *stopper) onInterrupt() (end func()) {
	signals, done := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(signals, os.Interrupt)
	go func() {
		select {
		case <-signals:
			s.because(byInterrupt)
		case <-done:
		}
		signal.Stop(signals)
	}()
	return func() { close(done) }
}
