package draw

import (
	"fmt"
	"math"
	"strings"

	"blankwright/api/web/unit"
	"blankwright/scheduler/sheet"
	"blankwright/scheduler/shop"
)

// A Tube is the shape of one section on its mandrel, in millimetres.
type Tube struct {
	LengthMM float64 // of the longest flag
	ButtMM   float64 // outside, at the thick end
	TipMM    float64 // outside, at the thin end
}

// TubeOf returns the shape of a section. A shop states the outside at the butt;
// at the tip it is taken to be thinner as the longest flag is narrower there.
func TubeOf(s *shop.Section) Tube {
	t := Tube{ButtMM: s.ODMM, TipMM: s.ODMM}
	for _, f := range s.Flags {
		if f.LengthMM <= t.LengthMM {
			continue
		}
		t.LengthMM, t.TipMM = f.LengthMM, s.ODMM
		if f.ButtMM > 0 && f.TipMM < f.ButtMM {
			t.TipMM = s.ODMM * max(thinnest, f.TipMM/f.ButtMM)
		}
	}
	return t
}

// thinnest is the least share of its butt that a tip is drawn with.
const thinnest = 0.15

// Tubes returns the shape of each section of a shop.
func Tubes(s *shop.Shop) map[string]Tube {
	out := map[string]Tube{}
	for i := range s.Products {
		for j := range s.Products[i].Sections {
			section := &s.Products[i].Sections[j]
			out[section.ID] = TubeOf(section)
		}
	}
	return out
}

// Measures around what the shop states, in millimetres: the drawing's own.
const (
	ovenWall  = 110.0 // of the oven's body
	plateHigh = 150.0 // the plate with the oven's name
	footHigh  = 90.0  // the oven's feet
	bayRoom   = 90.0  // beside each rack
	post      = 22.0  // a rack's upright
	barHigh   = 18.0
	letterMM  = 50.0 // type on the drawing
	loadScale = 0.25 // pixels for a millimetre
)

// An ovenView is what the drawing of one load needs.
type ovenView struct {
	load   *sheet.Load
	oven   shop.Oven
	tubes  map[string]Tube
	marks  map[string]Mark
	units  unit.System
	bay    float64 // width of one bay
	height float64 // inside
}

// Load draws the racks of a load in their oven, seen from the front, a
// millimetre to a unit: bars at their heights, tubes as long and as thick as
// they are, tip up. Bays that the load leaves empty are drawn, too.
func Load(id string, l *sheet.Load, oven shop.Oven, tubes map[string]Tube, units unit.System) Picture {
	v := &ovenView{load: l, oven: oven, tubes: tubes, marks: MarksOf(l), units: units, height: oven.HeightMM}
	for i := range l.Racks {
		v.bay = max(v.bay, rackWidth(&l.Racks[i])+2*bayRoom)
		v.height = max(v.height, l.Racks[i].HeightMM)
	}
	bays := max(oven.Bays, len(l.Racks), 1)
	v.bay = max(v.bay, 3*bayRoom)
	inside := float64(bays) * v.bay
	c := newCanvas(frame{
		id: id, class: "oven", title: v.title(), desc: v.desc(),
		width: inside + 2*ovenWall, height: v.height + plateHigh + ovenWall + footHigh, scale: loadScale,
	})
	v.body(c, inside)
	for i := range l.Racks {
		left := ovenWall + float64(i)*v.bay + (v.bay-rackWidth(&l.Racks[i]))/2
		v.rack(c, &l.Racks[i], i, left)
	}
	for n := len(l.Racks); n < bays; n++ {
		c.text("note", "middle", ovenWall+(float64(n)+0.5)*v.bay, v.floor()+74, "empty bay")
	}
	return c.done()
}

func rackWidth(r *sheet.Rack) float64 {
	width := 200.0
	for _, l := range r.Levels {
		width = max(width, float64(max(l.Pegs, l.Used))*l.PitchMM)
	}
	return width + 2*post
}

// floor is where the racks stand.
func (v *ovenView) floor() float64 { return plateHigh + v.height }

func (v *ovenView) title() string {
	return fmt.Sprintf("Load %s in oven %s: %d pieces on %s", v.load.ID, v.load.Oven, v.load.Pieces, Counted(len(v.load.Racks), "rack"))
}

// desc tells level by level what hangs where.
func (v *ovenView) desc() string {
	var out []string
	for i, r := range v.load.Racks {
		for j, level := range r.Levels {
			hangs := make([]string, len(level.Hangs))
			for n, h := range level.Hangs {
				hangs[n] = v.hangText(h)
			}
			if len(hangs) > 0 {
				out = append(out, fmt.Sprintf("Rack %d, level %d: %s.", i+1, j+1, strings.Join(hangs, "; ")))
			}
		}
	}
	return strings.Join(out, " ")
}

func (v *ovenView) hangText(h sheet.Hang) string {
	return fmt.Sprintf("%s %s, %d pieces, pegs %d–%d", v.marks[h.Section].Letter, h.Section, h.Pieces, h.FirstPeg, h.LastPeg())
}

// body draws the oven with its door open: the wall, the plate, hinges on the
// left and the latch on the right.
func (v *ovenView) body(c *canvas, inside float64) {
	width, high := inside+2*ovenWall, v.floor()+ovenWall
	c.path("steel", box(ovenWall/2, high-10, ovenWall/2, footHigh)+box(width-ovenWall, high-10, ovenWall/2, footHigh))
	c.rect("oven-wall", 8, 8, width-16, high-8, "rx", "46")
	c.rect("oven-room", ovenWall, plateHigh, inside, v.height, "rx", "16")
	c.rect("oven-seal", ovenWall-26, plateHigh-26, inside+52, v.height+52, "rx", "30")
	for _, share := range []float64{0.2, 0.5, 0.8} {
		c.rect("hinge", 2, plateHigh+v.height*share-50, 34, 100, "rx", "12")
	}
	c.rect("hinge", width-62, plateHigh+v.height*0.45, 26, 230, "rx", "13")
	c.text("plate", "start", ovenWall, plateHigh-52, v.load.Oven+" · "+v.load.Profile.ID)
	c.text("plate", "end", width-ovenWall, plateHigh-52, v.units.Length(v.oven.HeightMM)+" high")
	var bays strings.Builder
	for x := ovenWall; x <= ovenWall+inside+1; x += v.bay {
		bays.WriteString("M" + point(x, plateHigh) + "v" + number(v.height))
	}
	c.path("bay", bays.String())
}

// box is a rectangle as part of a path.
func box(x, y, width, height float64) string {
	return "M" + point(x, y) + "h" + number(width) + "v" + number(height) + "h" + number(-width) + "z"
}

// rack draws one rack, which stands on the oven's floor.
func (v *ovenView) rack(c *canvas, r *sheet.Rack, index int, left float64) {
	width, top := rackWidth(r), v.floor()-r.HeightMM
	c.path("steel", box(left, top, post, r.HeightMM)+box(left+width-post, top, post, r.HeightMM)+box(left, v.floor()-52, width, post))
	for _, x := range []float64{left, left + width - post} {
		c.empty("circle", "class", "wheel", "cx", number(x+post/2), "cy", number(v.floor()-20), "r", "20")
	}
	c.text("note", "middle", left+width/2, v.floor()+74, fmt.Sprintf("%d: %s, %s", index+1, r.Type, r.SetUp))
	for i := range r.Levels {
		v.level(c, &r.Levels[i], left, width)
	}
}

// A hungLevel is a level where it stands in the drawing.
type hungLevel struct {
	*sheet.Level
	first, bar float64 // where its pegs begin, and the lower edge of its bar
}

// level draws a bar with what hangs from it: the mandrels, the tubes around
// them, then the cards with the letters, so that nothing hides one.
func (v *ovenView) level(c *canvas, l *sheet.Level, left, width float64) {
	at := &hungLevel{Level: l, first: left + post, bar: v.floor() - l.BarMM}
	c.rect("bar", left, at.bar-barHigh, width, barHigh)
	c.path("peg", at.pegs())
	c.path("mandrel", at.mandrels())
	for _, h := range l.Hangs {
		c.told("tube", at.tubes(h, v.tubes[h.Section]), fill(onRack, v.marks[h.Section].Winding), v.hangText(h))
	}
	v.cards(c, at)
}

// pegs marks each free peg by a tick; one that carries is hidden by its tube.
func (l *hungLevel) pegs() string {
	var d strings.Builder
	for n := l.Used; n < l.Pegs; n++ {
		d.WriteString("M" + point(l.first+(float64(n)+0.5)*l.PitchMM, l.bar) + "v14")
	}
	return d.String()
}

// peg is where a hang's n-th piece, from 0, hangs: to the millimetre, a quarter of
// a pixel, for a page has thousands.
func (l *hungLevel) peg(h sheet.Hang, n int) float64 {
	peg := float64(h.FirstPeg-1+n*h.PegsEach) + float64(h.PegsEach)/2
	return math.Round(l.first + peg*l.PitchMM)
}

// mandrels are the steel of all pieces, from the bar down.
func (l *hungLevel) mandrels() string {
	var d strings.Builder
	for _, h := range l.Hangs {
		for n := range h.Pieces {
			d.WriteString("M" + point(l.peg(h, n), l.bar) + "v" + number(h.HangMM))
		}
	}
	return d.String()
}

// tubes are the pieces of one section side by side, tip up. The plan does not say how far
// down its mandrel a tube begins: it is drawn in the middle.
func (l *hungLevel) tubes(h sheet.Hang, tube Tube) string {
	length := min(tube.LengthMM, h.HangMM)
	if length <= 0 {
		length = h.HangMM
	}
	top := math.Round(l.bar + (h.HangMM-length)/2)
	tip, butt := max(2, tube.TipMM), max(3, tube.ButtMM)
	shape := "h" + number(tip) + "l" + point((butt-tip)/2, length) + "h" + number(-butt) + "z"
	d := "M" + point(l.peg(h, 0)-tip/2, top) + shape
	for n := 1; n < h.Pieces; n++ {
		d += "m" + number(l.peg(h, n)-l.peg(h, n-1)) + " 0" + shape
	}
	return d
}

// cards hangs a card with its letter on each section of a level.
func (v *ovenView) cards(c *canvas, l *hungLevel) {
	var cards strings.Builder
	for n, h := range l.Hangs {
		x, y := l.card(n)
		width := 20 + 34*float64(len(v.marks[h.Section].Letter))
		cards.WriteString(box(x-width/2, y-45, width, letterMM+8))
	}
	c.path("tag", cards.String())
	for n, h := range l.Hangs {
		x, y := l.card(n)
		c.text("letter", "middle", x, y, v.marks[h.Section].Letter)
	}
}

// card is where the letter of the n-th hang stands; neighbours' are staggered, so
// that none covers the other.
func (l *hungLevel) card(n int) (x, y float64) {
	h := l.Hangs[n]
	return math.Round(l.first + (float64(h.FirstPeg+h.LastPeg())/2-0.5)*l.PitchMM), math.Round(l.bar) + 71 + float64(n%3)*62
}

// Counted writes a number with its noun.
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return unit.Number(float64(n), 0) + " " + noun + "s"
}
