package ternpoint

import (
	"math"

	"blankwright/scheduler/shop"
)

// A charge is a load that was begun before now.
type charge struct {
	load     shop.Load
	in       shop.Clock // of today
	scrapped string     // the section of which one piece was scrapped at strip
}

// charges are the two loads under way: fly and boat blanks that came out of
// holm a little before now, and surf and boat blanks in the middle of their
// cure in skerry.
func charges() []charge {
	hang := func(section string, pieces int) shop.Hang { return shop.Hang{Section: section, Pieces: pieces} }
	fly := [][]shop.Hang{
		{hang("STE-905.1", 7), hang("STE-905.2", 7), hang("STE-905.3", 6), hang("STE-905.4", 6)},
		{hang("MAU-864.1", 6), hang("MAU-864.2", 6), hang("MAU-864.3", 6), hang("MAU-864.4", 6)},
	}
	return []charge{
		{
			load: shop.Load{ID: "TP-0411", Oven: "holm", Profile: shared, Racks: []shop.RackUse{
				{Rack: "short", Setup: "two bars", Levels: fly},
				{Rack: "short", Setup: "one bar", Levels: [][]shop.Hang{{hang("TUR-50L.1", 10)}}},
			}},
			in: 10*60 + 10, scrapped: "STE-905.1",
		},
		{
			load: shop.Load{ID: "TP-0412", Oven: "skerry", Profile: shared, Racks: []shop.RackUse{
				{Rack: "tall", Setup: "one bar", Levels: [][]shop.Hang{{hang("BAL-12M.1", 8), hang("BAL-12M.2", 8)}}},
				{Rack: "tall", Setup: "one bar", Levels: [][]shop.Hang{{hang("SUN-11L.1", 5), hang("SUN-11L.2", 5), hang("TUR-60M.1", 8)}}},
			}},
			in: 12*60 + 50,
		},
	}
}

// underway releases the charges: their tasks are laid on the floor's own
// hours, before the oven on the latest days that are early enough, and after
// it as soon as they have rested. What is trimmed by now is incoming.
func underway(s *shop.Shop) {
	b := newBench(s)
	s.Released = &shop.Released{}
	for _, c := range charges() {
		b.fill(&c)
		s.Released.Loads = append(s.Released.Loads, c.load)
		b.before(&c)
		b.after(&c)
	}
	s.Released.Tasks = b.tasks
	s.Incoming = trimmed(s)
}

// trimmed returns the good pieces of the released tasks that are done by now.
func trimmed(s *shop.Shop) []shop.Incoming {
	pieces := map[string]int{}
	for _, t := range s.Released.Tasks {
		if t.Stage == shop.Trim && t.End.Minute <= s.Now.Minute {
			pieces[t.Section] += t.Pieces
		}
	}
	var out []shop.Incoming
	for _, p := range s.Products {
		for _, section := range p.Sections {
			if good := int(math.Floor(section.Yield*float64(pieces[section.ID]) + 1e-6)); good > 0 {
				out = append(out, shop.Incoming{Section: section.ID, Pieces: good, At: s.Now})
			}
		}
	}
	return out
}
