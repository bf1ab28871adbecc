package draw

import (
	"fmt"
	"math"
	"strings"

	"blankwright/api/web/unit"
	"blankwright/scheduler/shop"
)

// The section's measures, in pixels; what lies flat has one scale both ways.
const (
	sectionWide = 640.0
	sectionSide = 20.0
	flagGap     = 34.0
	thicker     = 5.0 // how many times too thick tube and mandrel are drawn
)

// A sectionView draws one section: its flags unrolled, one under the other,
// then the tube on its mandrel under its tape.
type sectionView struct {
	*canvas
	section *shop.Section
	units   unit.System
	scale   float64 // pixels for a millimetre
	y       float64
}

// Section draws a section: each flag laid flat, butt to the left and tip to the
// right, to scale; then the mandrel with the tube on it, its diameters drawn
// five times too thick so that they can be seen. The tape's turns say only
// which way it is wound: its pitch is the recipe's.
func Section(id string, s *shop.Section, m shop.MandrelType, units unit.System) Picture {
	long, flags := m.HangMM, 0.0
	for _, f := range s.Flags {
		long = max(long, f.LengthMM)
	}
	scale := (sectionWide - 2*sectionSide) / max(1, long)
	for _, f := range s.Flags {
		flags += max(f.ButtMM, f.TipMM)*scale + flagGap
	}
	tube := max(8, s.ODMM*scale*thicker)
	v := &sectionView{section: s, units: units, scale: scale, y: 16}
	v.canvas = newCanvas(frame{
		id: id, class: "section", title: "Section " + s.ID, desc: v.desc(m),
		width: sectionWide, height: 16 + flags + tube + 74, scale: 1,
	})
	for i, f := range s.Flags {
		v.flag(i, f)
	}
	v.onMandrel(m, tube)
	return v.done()
}

func (v *sectionView) desc(m shop.MandrelType) string {
	var out strings.Builder
	for i, f := range v.section.Flags {
		fmt.Fprintf(&out, "Flag %d: %s. ", i+1, v.flagText(f))
	}
	fmt.Fprintf(&out, "Rolled on mandrel %s, which hangs %s; %s outside; tape %s.",
		m.ID, v.units.Length(m.HangMM), v.units.Diameter(v.section.ODMM), v.section.Tape)
	return out.String()
}

func (v *sectionView) flagText(f shop.Flag) string {
	return fmt.Sprintf("%s, %s long, %s at the butt, %s at the tip",
		f.Prepreg, v.units.Flag(f.LengthMM), v.units.Flag(f.ButtMM), v.units.Flag(f.TipMM))
}

// flag draws one pattern: one straight edge, along which the fibre lies.
func (v *sectionView) flag(i int, f shop.Flag) {
	butt, tip, long := f.ButtMM*v.scale, f.TipMM*v.scale, f.LengthMM*v.scale
	v.text("mark", "start", sectionSide, v.y, fmt.Sprintf("%d  %s", i+1, v.flagText(f)))
	top := v.y + 8
	high := max(butt, tip)
	v.path(fmt.Sprintf("flag flag-%d", i%3), "M"+point(sectionSide, top)+"h"+number(long)+
		"V"+number(top+tip)+"L"+point(sectionSide, top+butt)+"Z")
	var fibre strings.Builder
	for y := 4.0; y < high-2; y += 6 {
		reach := long
		if y > min(butt, tip) && butt != tip {
			reach = long * (max(butt, tip) - y) / math.Abs(butt-tip)
		}
		from := sectionSide
		if tip > butt {
			from += long - reach
		}
		fibre.WriteString("M" + point(from+3, top+y) + "h" + number(max(0, reach-6)))
	}
	v.path("fibre", fibre.String())
	v.y += high + flagGap
}

// onMandrel draws the steel, its hanger at the left, and the tube with turns of
// tape.
func (v *sectionView) onMandrel(m shop.MandrelType, thick float64) {
	t := TubeOf(v.section)
	hang, long := m.HangMM*v.scale, min(t.LengthMM, m.HangMM)*v.scale
	tip := thick * t.TipMM / max(0.1, t.ButtMM)
	mid := v.y + 14 + thick/2
	v.text("mark", "start", sectionSide, v.y+2, fmt.Sprintf("mandrel %s, tube %s outside, tape %s",
		m.ID, v.units.Diameter(v.section.ODMM), v.section.Tape))
	v.path("steel", "M"+point(sectionSide, mid-thick*0.3)+"L"+point(sectionSide+hang, mid-1)+"v2L"+point(sectionSide, mid+thick*0.3)+"Z")
	v.empty("circle", "class", "ring", "cx", number(sectionSide), "cy", number(mid), "r", "5")
	left := sectionSide + (hang-long)/2
	v.path("tube-bare", "M"+point(left, mid-thick/2)+"L"+point(left+long, mid-tip/2)+"V"+number(mid+tip/2)+"L"+point(left, mid+thick/2)+"Z")
	var turns strings.Builder
	for x := 6.0; x < long-6; x += 9 {
		half := (thick + (tip-thick)*x/max(1, long)) / 2
		turns.WriteString("M" + point(left+x, mid+half) + "l" + point(5, -2*half))
	}
	v.path("turns", turns.String())
	y := mid + thick/2 + 18
	v.path("measure", "M"+point(sectionSide, y)+"h"+number(hang)+"M"+point(sectionSide, y-4)+"v8M"+point(sectionSide+hang, y-4)+"v8")
	v.text("axis", "start", sectionSide, y+16, "butt")
	v.text("axis", "middle", sectionSide+hang/2, y+16, "hangs "+v.units.Length(m.HangMM))
	v.text("axis", "end", sectionSide+hang, y+16, "tip")
}
