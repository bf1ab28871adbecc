package main

import (
	"fmt"
	"reflect"

	"blankwright/scheduler/sheet"
)

// racksText draws every rack of the loads that are hung, in the oven or out.
func racksText(d *sheet.Day, c clock) string {
	if len(d.Loads) == 0 {
		return ""
	}
	out := heading("RACKS")
	for i := range d.Loads {
		out += loadText(&d.Loads[i], c)
	}
	return out
}

// loadText draws a load's racks, those that are hung alike once.
func loadText(l *sheet.Load, c clock) string {
	out := fmt.Sprintf("\n  LOAD %s: %s; %s at %s, profile %s\n", l.ID, loadState(l, c), l.Oven, c.at(l.In), l.Profile.ID)
	letters := lettersOf(l)
	for first := 0; first < len(l.Racks); {
		next := first + 1
		for next < len(l.Racks) && reflect.DeepEqual(l.Racks[first], l.Racks[next]) {
			next++
		}
		out += rackText(&l.Racks[first], rackNumbers(first+1, next, len(l.Racks)), letters)
		first = next
	}
	return out
}

// loadState says what the day does with a load.
func loadState(l *sheet.Load, c clock) string {
	switch {
	case l.Hung && l.InOven:
		return "hang and load"
	case l.Hung:
		return "hang"
	}
	return "in the oven until " + c.at(l.Out)
}

func rackNumbers(first, last, all int) string {
	if first == last {
		return fmt.Sprintf("Rack %d of %d", first, all)
	}
	return fmt.Sprintf("Racks %d to %d of %d, hung alike, each", first, last, all)
}

// lettersOf gives each section of a load the letter that stands for it on its
// racks.
func lettersOf(l *sheet.Load) map[string]string {
	const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
	letters := map[string]string{}
	for _, rack := range l.Racks {
		for _, level := range rack.Levels {
			for _, h := range level.Hangs {
				if _, ok := letters[h.Section]; ok {
					continue
				}
				letters[h.Section] = "#"
				if n := len(letters) - 1; n < len(alphabet) {
					letters[h.Section] = alphabet[n : n+1]
				}
			}
		}
	}
	return letters
}

func rackText(r *sheet.Rack, numbers string, letters map[string]string) string {
	head := fmt.Sprintf("  %s: %s, set-up %s; %s, %s of %s kg\n", numbers, r.Type, r.SetUp,
		counted(r.Pieces, "piece"), decimal(r.Kg, 1), decimal(r.MaxKg, 1))
	return head + newDrawing(r, letters).text() + legend(r, letters).text("    ")
}

// legend tells what hangs on which pegs.
func legend(r *sheet.Rack, letters map[string]string) *table {
	t := &table{align: "llrllr"}
	for i, level := range r.Levels {
		for _, h := range level.Hangs {
			pegs := fmt.Sprintf("level %d, pegs %d–%d", i+1, h.FirstPeg, h.LastPeg())
			if h.PegsEach > 1 {
				pegs += fmt.Sprintf(", %d each", h.PegsEach)
			}
			t.row(letters[h.Section], h.Section, grouped(h.Pieces)+" pcs", pegs, "mandrel "+h.Mandrel, "hangs "+decimal(h.HangMM, 0)+" mm")
		}
	}
	return t
}
