package main

import (
	"flag"
	"fmt"
	"strconv"
	"strings"
	"time"
)

// parse reads options and files in whatever order they stand; "--" ends the
// options, and a lone "-" is a file. It returns flag.ErrHelp when help is
// asked for.
func parse(set *flag.FlagSet, args []string) (files []string, err error) {
	for len(args) > 0 {
		arg := args[0]
		args = args[1:]
		switch {
		case arg == "--":
			return append(files, args...), nil
		case isHelp(arg):
			return nil, flag.ErrHelp
		case len(arg) < 2 || arg[0] != '-':
			files = append(files, arg)
		default:
			if args, err = option(set, arg, args); err != nil {
				return nil, err
			}
		}
	}
	return files, nil
}

func isHelp(arg string) bool { return arg == "-h" || arg == "-help" || arg == "--help" }

// option sets one option, whose value stands in arg after "=" or is the next
// argument, and returns the arguments left.
func option(set *flag.FlagSet, arg string, rest []string) ([]string, error) {
	name, value, given := strings.Cut(strings.TrimPrefix(arg[1:], "-"), "=")
	o := set.Lookup(name)
	if o == nil {
		return nil, fmt.Errorf("there is no option -%s", name)
	}
	if !given && isSwitch(o) {
		value, given = "true", true
	}
	if !given {
		if len(rest) == 0 {
			return nil, fmt.Errorf("option -%s needs a value", name)
		}
		value, rest = rest[0], rest[1:]
	}
	if err := set.Set(name, value); err != nil {
		return nil, fmt.Errorf("option -%s can't be %q: %w", name, value, err)
	}
	return rest, nil
}

func isSwitch(o *flag.Flag) bool {
	b, ok := o.Value.(interface{ IsBoolFlag() bool })
	return ok && b.IsBoolFlag()
}

// bindSearch binds the options that say how to search.
func (o *searchOptions) bind(set *flag.FlagSet, limit time.Duration) {
	o.limit, o.usualLimit, o.effort = limit, limit, -1
	set.Uint64Var(&o.seed, "seed", 1, "`N` starts the search's chances: the same shop, seed and effort give the same plan")
	set.Func("effort", "end the search after `N` iterations (default: by the shop's size, or as many as -limit leaves time for)", func(text string) error {
		return atLeastZero(text, strconv.Atoi, &o.effort)
	})
	bindLimit(set, &o.limit, "end the search")
}

// bindLimit binds a limit on the clock, whose default it holds, and says what
// happens then.
func bindLimit(set *flag.FlagSet, limit *time.Duration, then string) {
	about := then + " after `TIME` on the clock, as 30s or 5m; 0, the default, is no limit"
	if *limit > 0 {
		about = fmt.Sprintf("%s after `TIME` on the clock, as 30s or 5m; 0 is no limit (default %v)", then, *limit)
	}
	set.Func("limit", about, func(text string) error {
		return atLeastZero(text, time.ParseDuration, limit)
	})
}

func atLeastZero[T int | time.Duration](text string, read func(string) (T, error), to *T) error {
	value, err := read(text)
	switch {
	case err != nil:
		return err
	case value < 0:
		return fmt.Errorf("it is below 0")
	}
	*to = value
	return nil
}
