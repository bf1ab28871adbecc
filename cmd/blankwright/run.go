package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"time"

	"blankwright/scheduler"
	"blankwright/scheduler/shop"
)

// What run returns.
const (
	exitFine     = 0
	exitBroken   = 1 // a plan that breaks rules
	exitBad      = 2 // bad input; nothing is written
	exitInternal = 3 // anything else that goes wrong
)

// A world is what the commands may touch besides files.
type world struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	now            func() time.Time
	plan           planner
	explain        explainer
	terminal       bool // stderr is one
}

// A planner finds a plan for a shop: scheduler.Plan, or a stand-in for it.
type planner func(context.Context, *shop.Shop, scheduler.Options) (*scheduler.Result, error)

// A failure ends a command with an exit code and, unless everything has been
// said already, a text.
type failure struct {
	code int
	text string
}

func (f *failure) Error() string { return f.text }

func bad(format string, args ...any) error {
	return &failure{exitBad, fmt.Sprintf(format, args...)}
}

// run is the whole program: it carries out the command that args name and
// returns the exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	w := &world{
		stdin: stdin, stdout: stdout, stderr: stderr,
		now: time.Now, plan: scheduler.Plan, explain: scheduler.Explain, terminal: isTerminal(stderr),
	}
	return w.run(ctx, args)
}

// run carries out a command, and turns whatever goes wrong into an exit code.
func (w *world) run(ctx context.Context, args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(w.stderr, "blankwright: internal error: %v\n%s", r, debug.Stack())
			code = exitInternal
		}
	}()
	return w.exit(w.command(ctx, args))
}

// exit says what went wrong, if anything did, and returns the exit code.
func (w *world) exit(err error) int {
	var f *failure
	var b *badFile
	switch {
	case err == nil:
		return exitFine
	case errors.As(err, &b):
		w.badFile(b)
		return exitBad
	case errors.As(err, &f):
		if f.text != "" {
			fmt.Fprintf(w.stderr, "blankwright: %s\n", f.text)
		}
		return f.code
	}
	fmt.Fprintf(w.stderr, "blankwright: %v\n", err)
	return exitInternal
}

func isTerminal(out io.Writer) bool {
	f, ok := out.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
