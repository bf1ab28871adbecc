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

// pattern writes the winding's tile; unit is the drawing's length of a pixel.
func (c *canvas) pattern(winding int, unit float64) {
	c.start("pattern", "id", c.winding(winding), "patternUnits", "userSpaceOnUse",
		"width", "12", "height", "24", "patternTransform", "scale("+number(unit)+")")
	hue := strconv.Itoa(winding % Hues)
	c.rect("thread thread-"+hue, 0, 0, 12, 24)
	if windings[winding] != "" {
		c.path("twine", windings[winding])
	}
	c.end()
}

// winding is the id of a winding's pattern in this drawing.
func (c *canvas) winding(n int) string { return c.prefix + "-w" + strconv.Itoa(n) }

// fill refers to a winding.
func (c *canvas) fill(n int) string { return "url(#" + c.winding(n) + ")" }

// Swatch draws a section's mark by itself, for a list beside the racks. It is an
// ornament to the letter that stands there, and borrows the winding from the
// load's own drawing, which must be on the same page under that id.
func Swatch(load string, m Mark) Picture {
	c := &canvas{prefix: identifier(load)}
	c.start("svg", "class", "draw swatch", "aria-hidden", "true", "viewBox", "0 0 96 64")
	c.empty("path", "d", "M2 22L94 10V54L2 42Z", "fill", c.fill(m.Winding))
	return c.done()
}
