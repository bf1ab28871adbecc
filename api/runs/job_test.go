package runs

import (
	"context"
	"log/slog"
	"testing"
	"time"

	"blankwright/store"
)

// lookBooks count the looks and do with each what a test says.
type lookBooks struct {
	TickBooks
	look func() (store.TickSettings, error)
}

func (b lookBooks) TickSettings(context.Context) (store.TickSettings, error) { return b.look() }

// A look that panics gives its place back: the next one looks again.
func TestTick_Panics(t *testing.T) {
	looks := 0
	job := NewTick(lookBooks{look: func() (store.TickSettings, error) {
		if looks++; looks < 3 {
			panic("the clock fell off the wall")
		}
		return store.TickSettings{}, nil
	}}, nil, time.Now, slog.New(slog.DiscardHandler)).job(context.Background())
	for range 4 {
		job.Run()
	}
	if looks != 4 {
		t.Errorf("%d looks, want 4", looks)
	}
}

// While one look goes on, others are left out.
func TestTick_NeverOverlaps(t *testing.T) {
	came, open, looks := make(chan struct{}), make(chan struct{}), 0
	job := NewTick(lookBooks{look: func() (store.TickSettings, error) {
		looks++
		came <- struct{}{}
		<-open
		return store.TickSettings{}, nil
	}}, nil, time.Now, slog.New(slog.DiscardHandler)).job(context.Background())
	ended := make(chan struct{})
	go func() {
		job.Run()
		close(ended)
	}()
	<-came
	job.Run() // comes back at once
	close(open)
	<-ended
	if looks != 1 {
		t.Errorf("%d looks, want 1", looks)
	}
}
