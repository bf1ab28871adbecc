//go:build unix

package main

import (
	"context"
	"os"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"blankwright/scheduler"
	"blankwright/scheduler/shop"
)

// Ctrl-C while the planner searches ends the search; the plan is still
// written, and the summary says how it came about.
func TestPlan_Interrupt(t *testing.T) {
	s := newTrial(func(_ context.Context, s *shop.Shop, o scheduler.Options) (*scheduler.Result, error) {
		if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
			t.Fatal(err)
		}
		for !o.Stop() {
			runtime.Gosched()
		}
		return yardCutShort(t, s), nil
	})
	shopFile := yardCopy(t)
	if code := s.command("plan", shopFile); code != exitFine {
		t.Errorf("exit %d, standard error %q", code, s.err.String())
	}
	if !strings.Contains(s.out.String(), "Stopped by Ctrl-C") || len(files(t, shopFile)) != 2 {
		t.Errorf("files %v, summary:\n%s", files(t, shopFile), s.out.String())
	}
}
