package benchtest

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
)

// A Mini is a small instance of tack stations in front of ovens. Its time is
// whole units. A run is an oven's jobs from one start to the end of their cure.
type Mini struct {
	Name    string
	Tackers int // tack stations, alike
	Ovens   int
	Pegs    int // of an oven
	Horizon int // no run ends later
	Open    int // at most so long from the end of tacking to the run
	Clean   int // from the end of the run until a mandrel is free and a job complete
	RunCost int

	Cure     []int // by family
	Mandrels []int // by type: copies
	Orders   []MiniOrder
	Jobs     []MiniJob

	Least int // the least cost: weighted lateness of orders and RunCost of runs
	Runs  int // of the schedule that has it
}

// A MiniOrder is complete when its last job is.
type MiniOrder struct{ Due, Weight int }

// A MiniJob is one tube of an order, and when it is worked in a cheapest schedule.
type MiniJob struct {
	Order, Release, Family, Mandrel, Tack, Pegs int

	TackStart, Oven, OvenStart int
}

// Minis returns the 35 instances of mini_integrated.txt, made for the contract by a
// seeded generator. Their optima were proven as time-indexed integer programs, says
// that file.
func Minis(t testing.TB) []Mini {
	t.Helper()
	r := miniReader{lines: strings.Split(outside(t, "mini_integrated.txt"), "\n")}
	var all []Mini
	for r.next() {
		all = append(all, r.mini())
	}
	if r.err != nil || len(all) != 35 {
		t.Fatalf("mini_integrated.txt: %d instances, then: %v", len(all), r.err)
	}
	return all
}

// A miniReader reads lines of numbers; after its first error, zeros.
type miniReader struct {
	lines []string
	line  string
	err   error
}

// next goes on to the next line with anything but a comment.
func (r *miniReader) next() bool {
	for r.err == nil && len(r.lines) > 0 {
		r.line, r.lines = r.lines[0], r.lines[1:]
		if r.line != "" && r.line[0] != '#' {
			return true
		}
	}
	return false
}

// mini reads the instance that begins with the line at which the reader is.
func (r *miniReader) mini() Mini {
	m := Mini{Name: strings.TrimPrefix(r.line, "@ ")}
	r.read(&m.Tackers, &m.Ovens, &m.Pegs, &m.Horizon, &m.Open, &m.Clean, &m.RunCost)
	m.Cure, m.Mandrels = make([]int, 2), make([]int, 2)
	r.read(&m.Cure[0], &m.Cure[1])
	r.read(&m.Mandrels[0], &m.Mandrels[1])
	var orders, jobs int
	r.read(&orders)
	m.Orders = make([]MiniOrder, orders)
	for i := range m.Orders {
		r.read(&m.Orders[i].Due, &m.Orders[i].Weight)
	}
	r.read(&jobs)
	m.Jobs = make([]MiniJob, jobs)
	for i := range m.Jobs {
		j := &m.Jobs[i]
		r.read(&j.Order, &j.Release, &j.Family, &j.Mandrel, &j.Tack, &j.Pegs)
	}
	r.read(&m.Least, &m.Runs)
	for i := range m.Jobs {
		j := &m.Jobs[i]
		r.read(&j.TackStart, &j.Oven, &j.OvenStart)
	}
	return m
}

// read reads the next line, of one number for each of to.
func (r *miniReader) read(to ...*int) {
	if !r.next() {
		return
	}
	fields := strings.Fields(strings.TrimPrefix(r.line, "OPT "))
	if len(fields) != len(to) {
		r.err = fmt.Errorf("%q has not %d numbers", r.line, len(to))
		return
	}
	for i, text := range fields {
		if *to[i], r.err = strconv.Atoi(text); r.err != nil {
			return
		}
	}
}
