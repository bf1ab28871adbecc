package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"strings"
)

// An action carries out a command whose options have been read.
type action func(ctx context.Context, w *world, files []string) error

// A command is one verb of the program. Its options are bound to a fresh set
// each time, and its help is made from that set.
type command struct {
	name  string
	files []string // the names of the files, and of what is in them, that it takes, all of them
	brief string   // one line
	about string   // the rest of its help
	bind  func(*flag.FlagSet) action
}

func commands() []*command {
	return []*command{
		planCommand(), checkCommand(), queuesCommand(), explainCommand(), demoCommand(),
		serveCommand(), importCommand(), exportCommand(), backupCommand(), restoreCommand(),
	}
}

// command finds the command that args name and carries it out.
func (w *world) command(ctx context.Context, args []string) error {
	if len(args) == 0 {
		fmt.Fprint(w.stderr, overview())
		return &failure{code: exitBad}
	}
	name := args[0]
	if name == "help" || isHelp(name) {
		return w.help(args[1:])
	}
	for _, c := range commands() {
		if c.name == name {
			return c.run(ctx, w, args[1:])
		}
	}
	return bad("there is no command %q; `blankwright help` lists them", name)
}

func (c *command) run(ctx context.Context, w *world, args []string) error {
	set := flag.NewFlagSet(c.name, flag.ContinueOnError)
	act := c.bind(set)
	files, err := parse(set, args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprint(w.stdout, c.help())
		return nil
	case err != nil:
		return bad("%s: %v; `blankwright help %s` tells more", c.name, err, c.name)
	case len(files) != len(c.files):
		return bad("%s: %s; `blankwright help %s` tells more", c.name, c.wants(files), c.name)
	}
	return act(ctx, w, files)
}

// wants says which files a command takes, where it was given others.
func (c *command) wants(files []string) string {
	if len(c.files) == 0 {
		return fmt.Sprintf("takes no file, but was given %s", strings.Join(files, " "))
	}
	got := "none"
	if len(files) > 0 {
		got = strings.Join(files, " ")
	}
	last := len(c.files) - 1
	wanted := strings.TrimPrefix(strings.Join(c.files[:last], ", ")+" and "+c.files[last], " and ")
	return fmt.Sprintf("takes %s, but was given %s", wanted, got)
}
