package draw

import (
	"strconv"

	"blankwright/scheduler/sheet"
)

// A Mark is what a section is known by in the drawings of one load: a letter,
// and a winding of coloured thread as rod makers use it, which also differs by
// its form.
type Mark struct {
	Letter  string
	Winding int // 0 to Windings-1
}

// Windings is how many differ by form and colour; beyond, the letter tells.
const Windings = 12

// MarksOf gives each section of a load its mark, in the order in which they
// hang.
func MarksOf(l *sheet.Load) map[string]Mark {
	marks := map[string]Mark{}
	for _, rack := range l.Racks {
		for _, level := range rack.Levels {
			for _, h := range level.Hangs {
				if _, ok := marks[h.Section]; !ok {
					marks[h.Section] = markAt(len(marks))
				}
			}
		}
	}
	return marks
}

func markAt(n int) Mark {
	const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
	letter := alphabet[n%len(alphabet) : n%len(alphabet)+1]
	if round := n / len(alphabet); round > 0 {
		letter += strconv.Itoa(round + 1)
	}
	return Mark{Letter: letter, Winding: n % Windings}
}

// windings are the forms, in a tile of 12 by 24: rings of thread around the
// tube, single or in groups, spirals one way, the other or both, and dots.
var windings = [Windings]string{
	"",                              // plain
	"M0 12H12",                      // one ring
	"M0 24L12 12M0 12L12 0",         // spiral
	"M0 8H12M0 14H12",               // two rings
	"M0 12L12 24M0 0L12 12",         // spiral, the other way
	"M3 0V24M9 0V24",                // along
	"M0 6H12M0 11H12M0 16H12",       // three rings
	"M0 0L12 24M12 0L0 24",          // crossed
	"M6 3V9M6 15V21",                // broken
	"M0 18H12M0 6H6",                // long and short
	"M0 12L6 6L12 12",               // points
	"M2 4H5M7 10H10M2 16H5M7 22H10", // specks
}

// Hues is how many colours of thread there are.
const Hues = 6

// What drawings take from Threads, by the first letter of its id.
const (
	onRibbon = "w" // a winding on a ribbon
	onRack   = "r" // the same on a tube
	swatch   = "s" // a piece of tube, wound
)

// Threads holds the windings for all drawings of a page, which must have it, once,
// before the first of them: a day draws each winding dozens of times.
func Threads() Picture { return threads }

var threads = drawThreads()

func drawThreads() Picture {
	c := &canvas{}
	c.start("svg", "class", "threads", "aria-hidden", "true", "width", "0", "height", "0")
	for n := range Windings {
		id := strconv.Itoa(n)
		c.start("pattern", "id", onRibbon+id, "patternUnits", "userSpaceOnUse", "width", "12", "height", "24")
		c.rect("thread-"+strconv.Itoa(n%Hues), 0, 0, 12, 24)
		if windings[n] != "" {
			c.path("twine", windings[n])
		}
		c.end()
		c.empty("pattern", "id", onRack+id, "href", "#"+onRibbon+id, "patternTransform", "scale("+number(1/loadScale/1.5)+")")
		c.start("symbol", "id", swatch+id, "viewBox", "0 0 96 64")
		c.empty("path", "d", "M2 22L94 10V54L2 42Z", "fill", fill(onRack, n))
		c.end()
	}
	return c.done()
}

// fill refers to a winding, on a ribbon or on a rack.
func fill(where string, winding int) string { return "url(#" + where + strconv.Itoa(winding) + ")" }

// Swatch draws a section's mark by itself, for a list beside the racks. It is an
// ornament to the letter that stands there.
func Swatch(m Mark) Picture {
	c := &canvas{}
	c.start("svg", "class", "swatch", "aria-hidden", "true")
	c.empty("use", "href", "#"+swatch+strconv.Itoa(m.Winding))
	return c.done()
}
