package main

import (
	"strings"
	"testing"

	"blankwright/scheduler/sheet"

	"github.com/google/go-cmp/cmp"
)

// draw returns a rack as drawn, with A and B for its sections.
func draw(r *sheet.Rack) string {
	return "\n" + newDrawing(r, map[string]string{"a": "A", "b": "B"}).text()
}

// A rack is drawn to scale: bars at their heights, tubes as long as they
// hang to half a row, each on its peg, and at the wider pitch further apart.
func TestDrawing(t *testing.T) {
	r := &sheet.Rack{HeightMM: 1200, Levels: []sheet.Level{
		{BarMM: 1100, ClearMM: 500, PitchMM: 20, Pegs: 12, Used: 8, Hangs: []sheet.Hang{
			{Section: "a", Pieces: 3, FirstPeg: 1, PegsEach: 1, HangMM: 450},
			{Section: "b", Pieces: 2, FirstPeg: 4, PegsEach: 2, HangMM: 300},
			{Section: "a", Pieces: 1, FirstPeg: 8, PegsEach: 1, HangMM: 50},
		}},
		{BarMM: 500, ClearMM: 400, PitchMM: 40, Pegs: 6, Used: 2, Hangs: []sheet.Hang{
			{Section: "b", Pieces: 2, FirstPeg: 1, PegsEach: 1, HangMM: 300},
		}},
	}}
	want := `
     mm    1 row is 100 mm, 1 column 20 mm
   1100  ╔╤╤╤╤═╤═╤════╗  level 1
         ║AAAB B A    ║  8 of 12 pegs
         ║││││ │      ║  clear 500 mm
         ║││││ │      ║
         ║│││         ║
         ║╵╵╵         ║
         ║            ║
    500  ╠═╤═╤════════╣  level 2
         ║ B B        ║  2 of 6 pegs
         ║ │ │        ║  clear 400 mm
         ║ │ │        ║
         ║            ║
         ║            ║
      0 ─╨────────────╨─
`
	if diff := cmp.Diff(want, draw(r)); diff != "" {
		t.Errorf("drawing (-want +got):\n%s", diff)
	}
}

// A rack with more pegs than there are columns is drawn narrower, and says so.
func TestDrawing_Wide(t *testing.T) {
	r := &sheet.Rack{HeightMM: 600, Levels: []sheet.Level{{BarMM: 600, ClearMM: 500, PitchMM: 20, Pegs: 132, Used: 132, Hangs: []sheet.Hang{
		{Section: "a", Pieces: 132, FirstPeg: 1, PegsEach: 1, HangMM: 450},
	}}}}
	got := draw(r)
	if !strings.Contains(got, "1 column 40 mm") || !strings.Contains(got, "╔"+strings.Repeat("╤", drawnColumns)+"╗") {
		t.Errorf("not at half the width:\n%s", got)
	}
}

// A plan that hangs more than a level has is drawn as far as it can be.
func TestDrawing_TooMuch(t *testing.T) {
	for name, level := range map[string]sheet.Level{
		"more than the pegs": {BarMM: 500, ClearMM: 100, PitchMM: 20, Pegs: 2, Used: 5, Hangs: []sheet.Hang{{Section: "a", Pieces: 5, FirstPeg: 1, PegsEach: 1, HangMM: 450}}},
		"no such level":      {Used: 3, Hangs: []sheet.Hang{{Section: "a", Pieces: 3, FirstPeg: 1, PegsEach: 1}}},
	} {
		if got := draw(&sheet.Rack{HeightMM: 600, Levels: []sheet.Level{level}}); !strings.Contains(got, "A") {
			t.Errorf("%s: nothing hangs in\n%s", name, got)
		}
	}
}

// Racks that are hung alike are drawn once, and every section keeps its letter
// over all racks of the load.
func TestLoadText_Alike(t *testing.T) {
	rack := func(section string) sheet.Rack {
		return sheet.Rack{Type: "long", HeightMM: 600, Levels: []sheet.Level{{
			BarMM: 600, ClearMM: 500, PitchMM: 20, Pegs: 9, Used: 1,
			Hangs: []sheet.Hang{{Section: section, Pieces: 1, FirstPeg: 1, PegsEach: 1, HangMM: 450}},
		}}}
	}
	l := &sheet.Load{ID: "L1", Racks: []sheet.Rack{rack("b"), rack("b"), rack("a")}}
	got := loadText(l, clock{&sheet.Day{}})
	for _, want := range []string{"Racks 1 to 2 of 3, hung alike, each: long", "Rack 3 of 3: long", "    A  b", "    B  a"} {
		if strings.Count(got, want) != 1 {
			t.Errorf("%q is not once in:\n%s", want, got)
		}
	}
}
