package main

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"blankwright/scheduler"
)

// progressEvery is how often a progress line is rewritten.
const progressEvery = 100 * time.Millisecond

// A progressLine shows on a terminal where a search stands, in one line that
// it rewrites.
type progressLine struct {
	out   io.Writer
	now   func() time.Time
	next  time.Time
	width int // of what stands there
}

func (l *progressLine) show(p scheduler.Progress) {
	if p.ToTry > 0 {
		l.tried(p.Tried, p.ToTry)
		return
	}
	done := grouped(p.Iteration)
	if p.Iteration <= p.Effort { // a search that fills its time goes on
		done += " of " + grouped(p.Effort)
	}
	l.say("  %s   best cost %s   bound %s   gap %s", done, money(p.Cost), money(p.Bound), percent(gap(p.Cost, p.Bound)))
}

// tried shows of how many things one more has been tried.
func (l *progressLine) tried(done, all int) {
	l.say("  one thing more: %d of %d tried", done, all)
}

// say shows a text, unless another was shown a moment ago.
func (l *progressLine) say(format string, args ...any) {
	now := l.now()
	if now.Before(l.next) {
		return
	}
	l.next = now.Add(progressEvery)
	l.rewrite(fmt.Sprintf(format, args...))
}

// clear leaves an empty line.
func (l *progressLine) clear() {
	if l.width > 0 {
		l.rewrite("")
		fmt.Fprint(l.out, "\r")
	}
}

func (l *progressLine) rewrite(text string) {
	width := utf8.RuneCountInString(text)
	fmt.Fprint(l.out, "\r"+text+strings.Repeat(" ", max(0, l.width-width)))
	l.width = width
}

// gap is the share of a cost that its bound doesn't account for.
func gap(cost, bound float64) float64 {
	if cost == 0 {
		return 0
	}
	return (cost - bound) / cost
}
