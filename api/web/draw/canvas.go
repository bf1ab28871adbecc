package draw

import (
	"html/template"
	"math"
	"strconv"
	"strings"
)

// A canvas writes one SVG drawing. Whatever text it is given is escaped, so
// that no name in the books can become markup.
type canvas struct {
	out    strings.Builder
	prefix string // of the ids in this drawing, unique on its page
	open   []string
}

// A frame says how a drawing is announced and how large it is.
type frame struct {
	id, class   string
	title, desc string
	width       float64 // of the view box, in the drawing's own unit
	height      float64
	scale       float64 // pixels for each unit, where there is room
}

// newCanvas opens a drawing. It is one image to a reader that cannot see it:
// its title and description tell what it shows.
func newCanvas(f frame) *canvas {
	c := &canvas{prefix: identifier(f.id)}
	c.start("svg",
		"xmlns", "http://www.w3.org/2000/svg", "role", "img", "class", "draw "+f.class,
		"aria-labelledby", c.prefix+"-t "+c.prefix+"-d",
		"viewBox", "0 0 "+number(f.width)+" "+number(f.height),
		"width", number(f.width*f.scale), "height", number(f.height*f.scale))
	c.element("title", f.title, "id", c.prefix+"-t")
	c.element("desc", f.desc, "id", c.prefix+"-d")
	return c
}

// identifier makes an id of any text: letters and digits stay.
func identifier(text string) string {
	var out strings.Builder
	out.WriteString("d-")
	for _, r := range text {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			out.WriteRune(r)
			continue
		}
		out.WriteString("_" + strconv.FormatInt(int64(r), 36))
	}
	return out.String()
}

// start opens an element; attributes come as name, value, name, value.
func (c *canvas) start(name string, attributes ...string) {
	c.tag(name, attributes)
	c.out.WriteByte('>')
	c.open = append(c.open, name)
}

// end closes the element that was opened last.
func (c *canvas) end() {
	last := len(c.open) - 1
	c.out.WriteString("</" + c.open[last] + ">")
	c.open = c.open[:last]
}

// empty writes an element without content.
func (c *canvas) empty(name string, attributes ...string) {
	c.tag(name, attributes)
	c.out.WriteString("/>")
}

// element writes an element that holds only text.
func (c *canvas) element(name, text string, attributes ...string) {
	c.start(name, attributes...)
	c.out.WriteString(template.HTMLEscapeString(valid(text)))
	c.end()
}

func (c *canvas) tag(name string, attributes []string) {
	c.out.WriteString("<" + name)
	for i := 0; i < len(attributes); i += 2 {
		c.out.WriteString(" " + attributes[i] + `="` + template.HTMLEscapeString(valid(attributes[i+1])) + `"`)
	}
}

// valid leaves out what XML cannot hold (XML 1.0, section 2.2).
func valid(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}

// rect draws a rectangle.
func (c *canvas) rect(class string, x, y, width, height float64, more ...string) {
	c.empty("rect", append([]string{
		"class", class, "x", number(x), "y", number(y),
		"width", number(max(0, width)), "height", number(max(0, height)),
	}, more...)...)
}

// line draws a line.
func (c *canvas) line(class string, x1, y1, x2, y2 float64) {
	c.path(class, "M"+point(x1, y1)+"L"+point(x2, y2))
}

// path draws a path; one that goes nowhere is left out.
func (c *canvas) path(class, d string, more ...string) {
	if d != "" {
		c.empty("path", append([]string{"class", class, "d", d}, more...)...)
	}
}

// told draws a path that a pointer over it is told something of.
func (c *canvas) told(class, d, fill, tells string) {
	c.start("path", "class", class, "d", d, "fill", fill)
	c.element("title", tells)
	c.end()
}

// text writes at a point; anchor is start, middle or end. The pages' style has
// every text of a drawing in the middle that does not say otherwise.
func (c *canvas) text(class, anchor string, x, y float64, text string) {
	at := []string{"class", class, "x", number(x), "y", number(y)}
	if anchor != "middle" {
		at = append(at, "text-anchor", anchor)
	}
	c.element("text", text, at...)
}

// done closes what is open and returns the drawing.
func (c *canvas) done() Picture {
	for len(c.open) > 0 {
		c.end()
	}
	return Picture(c.out.String()) // every text went through the escaper above
}

// number writes a coordinate to a tenth, as short as it can be.
func number(x float64) string {
	text := strconv.FormatFloat(math.Round(x*10)/10+0, 'f', -1, 64)
	if whole, tenths, ok := strings.Cut(text, "."); ok && (whole == "0" || whole == "-0") {
		return strings.TrimSuffix(whole, "0") + "." + tenths
	}
	return text
}

// point writes a pair of coordinates.
func point(x, y float64) string { return number(x) + " " + number(y) }

// A Picture is one whole SVG element.
type Picture = template.HTML
