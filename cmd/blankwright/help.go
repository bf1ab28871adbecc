package main

import (
	"flag"
	"fmt"
	"strings"
)

const intro = `blankwright plans a shop of rolled blanks: what to cut, roll, wrap, hang and
cure when, which mandrels and racks that takes, and which orders it serves when.

`

const outro = `
Units: millimetres, kilograms, square metres, degrees Celsius, minutes, and the
shop's own money. Times are local to the shop's time zone.
A file named - is standard input (for -o: standard output).
Exit codes: 0 fine; 1 the plan breaks rules; 2 bad input, nothing written;
3 anything else.
` + "`blankwright help COMMAND` tells a command's options and their defaults.\n"

// overview is the program's help.
func overview() string {
	t := table{align: "ll"}
	for _, c := range commands() {
		t.row("blankwright "+strings.Join(append([]string{c.name}, c.files...), " "), c.brief)
	}
	t.row("blankwright help [COMMAND]", "show this, or a command's options")
	return intro + t.text("  ") + outro
}

// help is a command's help, its options from the set that reads them.
func (c *command) help() string {
	set := flag.NewFlagSet(c.name, flag.ContinueOnError)
	c.bind(set)
	t := table{align: "ll"}
	set.VisitAll(func(o *flag.Flag) {
		value, usage := flag.UnquoteUsage(o)
		if isSwitch(o) {
			value = ""
		} else if o.DefValue != "" {
			usage += fmt.Sprintf(" (default %s)", o.DefValue)
		}
		name := strings.TrimSpace("-" + o.Name + " " + value)
		for i, line := range wrap(usage, pageWidth-18) {
			if i > 0 {
				name = ""
			}
			t.row(name, line)
		}
	})
	use := strings.Join(append([]string{"blankwright", c.name, "[options]"}, c.files...), " ")
	return use + "\n\n" + c.about + "\nOptions, before or after the files (-- ends them):\n" + t.text("  ")
}

// help shows the overview, or one command's help.
func (w *world) help(args []string) error {
	if len(args) == 0 {
		fmt.Fprint(w.stdout, overview())
		return nil
	}
	for _, c := range commands() {
		if len(args) == 1 && c.name == args[0] {
			fmt.Fprint(w.stdout, c.help())
			return nil
		}
	}
	return bad("there is no help on %q; `blankwright help` lists the commands", strings.Join(args, " "))
}
