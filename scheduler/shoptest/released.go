package shoptest

import (
	"fmt"

	"blankwright/scheduler/shop"
)

// addReleased adds one load of one run for each of one or two ovens: work that
// the shop began before now, in whatever state it is. It is laid out without
// regard to calendars, which rule R15 allows: in every state between hung and
// done, and with pieces scrapped, by chance.
func (m *maker) addReleased() {
	m.s.Released = &shop.Released{}
	for i, oven := range m.s.Ovens[:min(len(m.s.Ovens), m.between(1, 2))] {
		section := pick(m.dice, pick(m.dice, m.s.Products...).Sections...)
		m.release(fmt.Sprintf("released-%d", i+1), &oven, &section)
	}
}

func (m *maker) release(id string, oven *shop.Oven, section *shop.Section) {
	in := m.s.Now.Minute - int64(m.between(-120, 1200))
	cure := in + int64(oven.LoadMinutes)
	end := cure + int64(m.between(180, 400))
	out := end + int64(oven.UnloadMinutes)
	pieces, rack := m.between(1, 6), m.s.Racks[0]
	m.s.Released.Loads = append(m.s.Released.Loads, shop.Load{
		ID: id, Oven: oven.ID, Profile: oven.Profiles[0],
		In: m.at(in), CureStart: m.at(cure), CureEnd: m.at(end), Out: m.at(out),
		Racks: []shop.RackUse{{Rack: rack.ID, Setup: rack.Setups[0].ID, Levels: [][]shop.Hang{{{Section: section.ID, Pieces: pieces}}}}},
	})
	good := pieces
	if pieces > 1 && m.maybe() {
		good--
	}
	for _, stage := range shop.Stages() {
		start := in - int64(shop.Wrap+1-stage)*90
		if stage >= shop.Pull {
			start = out + 30 + int64(stage-shop.Pull)*90
		}
		n := pieces
		if stage >= shop.Strip {
			n = good
		}
		m.releaseStage(id, section, stage, n, start)
	}
}

// releaseStage lays a run's tasks at one stage one after the other on the
// first position, within 90 minutes.
func (m *maker) releaseStage(load string, section *shop.Section, stage shop.Stage, pieces int, start int64) {
	prepregs := []string{""}
	if stage == shop.Cut {
		prepregs = sectionPrepregs(section)
	}
	for _, prepreg := range prepregs {
		for left := pieces; left > 0; {
			n := min(left, m.s.Policy.TransferPieces)
			m.s.Released.Tasks = append(m.s.Released.Tasks, shop.Task{
				Load: load, Section: section.ID, Stage: stage, Prepreg: prepreg, Position: 1, Pieces: n,
				Setup: stage == shop.Cut && left == pieces, Start: m.at(start), End: m.at(start + 5),
			})
			start, left = start+5, left-n
		}
	}
}

// sectionPrepregs returns the prepregs of a section's flags, each once.
func sectionPrepregs(section *shop.Section) []string {
	var out []string
	seen := map[string]bool{}
	for _, f := range section.Flags {
		if !seen[f.Prepreg] {
			seen[f.Prepreg] = true
			out = append(out, f.Prepreg)
		}
	}
	return out
}
