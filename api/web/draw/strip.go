package draw

import (
	"fmt"
	"strings"
)

// The strip's measures, in pixels.
const (
	stripColumn = 13.0
	stripHigh   = 30.0
)

// Strip draws the days ahead of one mandrel type as Need does, but as small as a
// row of a list: columns for what is needed, a bar across for what is ready, and
// what is missing open above it.
func Strip(id, mandrel string, days []NeedDay) Picture {
	most := 1
	for _, d := range days {
		most = max(most, d.Need, d.Ready)
	}
	scale := (stripHigh - 4) / float64(most)
	c := newCanvas(frame{
		id: id, class: "strip", title: "Mandrels " + mandrel + ", need against ready", desc: stripDesc(days),
		width: stripColumn * float64(max(1, len(days))), height: stripHigh, scale: 1,
	})
	var needed, missing, ready strings.Builder
	for i, d := range days {
		x := stripColumn * float64(i)
		column(&needed, x, stripHigh, float64(min(d.Need, d.Ready))*scale)
		column(&missing, x, stripHigh-float64(d.Ready)*scale, float64(d.Short())*scale)
		fmt.Fprintf(&ready, "M%sh%s", point(x, stripHigh-float64(d.Ready)*scale), number(stripColumn))
	}
	c.path("foot", "M"+point(0, stripHigh)+"h"+number(stripColumn*float64(len(days))))
	c.path("needed", needed.String())
	c.path("short", missing.String())
	c.path("level", ready.String())
	return c.done()
}

// column adds one day's column that stands on foot.
func column(to *strings.Builder, x, foot, high float64) {
	if high > 0 {
		fmt.Fprintf(to, "M%sh%sv%sh%sz", point(x+2, foot), number(stripColumn-4), number(-high), number(4-stripColumn))
	}
}

// stripDesc says the most that is needed, and where it is more than is ready.
func stripDesc(days []NeedDay) string {
	if len(days) == 0 {
		return "No day is known."
	}
	worst := days[0]
	for _, d := range days {
		if d.Short() > worst.Short() || d.Short() == worst.Short() && d.Need > worst.Need {
			worst = d
		}
	}
	return fmt.Sprintf("In %s, most on %s: %d needed, %d ready.", Counted(len(days), "day"), worst.Date, worst.Need, worst.Ready)
}
