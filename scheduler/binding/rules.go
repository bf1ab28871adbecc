package binding

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// rules returns the rules by which no load can ever carry a section.
func (r *reporter) rules(section int) []Cause {
	if r.in.Carried(section) {
		return nil
	}
	var list []Cause
	add := func(rule, what string) {
		list = append(list, Cause{Kind: Rule, ID: rule, What: what + ".", How: "No load of any size can carry it."})
	}
	if r.in.Mandrels[r.in.Sections[section].Mandrel].Total == 0 {
		add("R9", r.noMandrel(section))
	}
	ways := r.in.Ways(section)
	if len(ways) == 0 {
		add("R1", r.noProfile(section))
	} else if !r.hangs(section, ways) {
		add("R3", r.noRack(section, ways))
	}
	return list
}

// noMandrel tells in what state the mandrels of a section are (rule R9).
func (r *reporter) noMandrel(section int) string {
	s := &r.in.Sections[section]
	id := r.in.Mandrels[s.Mandrel].ID
	states := map[string]int{}
	n := 0
	for _, m := range r.in.Shop.Mandrels {
		if m.Type == id {
			states[m.State]++
			n++
		}
	}
	if n == 0 {
		return fmt.Sprintf("section %s is rolled on mandrel %s, and there is none", s.ID, id)
	}
	var parts []string
	for state, n := range states {
		parts = append(parts, fmt.Sprintf("%d %q", n, state))
	}
	slices.Sort(parts)
	return fmt.Sprintf("section %s is rolled on mandrel %s, and of %d none is ready: %s", s.ID, id, n, strings.Join(parts, ", "))
}

// noProfile tells what every profile lacks (rule R1).
func (r *reporter) noProfile(section int) string {
	row := r.row(section)
	run := make([]bool, len(r.in.Profiles))
	for o := range r.in.Ovens {
		for _, p := range r.in.Ovens[o].Profiles {
			run[p] = true
		}
	}
	var faults []string
	for p := range r.in.Shop.Profiles {
		profile := &r.in.Shop.Profiles[p]
		switch list := instance.Faults(r.in.Shop, profile, row); {
		case len(list) > 0:
			faults = append(faults, profile.ID+": "+strings.Join(list, ", "))
		case !run[p]:
			faults = append(faults, profile.ID+": it would qualify, but no oven runs it")
		}
	}
	if len(faults) == 0 {
		return fmt.Sprintf("no profile cures section %s: there is none", row.ID)
	}
	return fmt.Sprintf("no oven's profile qualifies for section %s. %s", row.ID, listed(faults))
}

// row returns a section as the shop file has it.
func (r *reporter) row(section int) *shop.Section {
	s := &r.in.Sections[section]
	p := &r.in.Products[s.Product]
	return &r.in.Shop.Products[s.Product].Sections[section-p.Sections[0]]
}

// hangs reports whether a rack takes a piece of a section in any of the ovens.
func (r *reporter) hangs(section int, ways []instance.Way) bool {
	return slices.ContainsFunc(ways, func(w instance.Way) bool {
		return r.in.Ovens[w.Oven].Room.Fits([]rack.Run{{Section: section, Pieces: 1}})
	})
}

// noRack tells why no rack takes a piece of a section into any of the ovens
// that could cure it (rule R3).
func (r *reporter) noRack(section int, ways []instance.Way) string {
	piece := r.in.Hanger.Piece(section)
	intro := fmt.Sprintf("section %s hangs %s mm long and weighs %s kg with its mandrel, and ", r.in.Sections[section].ID, figure(piece.Hang), figure(piece.Kg))
	highest, all := 0.0, true
	var faults []string
	for _, k := range r.in.Hanger.Kinds {
		clear := highestLevel(k)
		highest, all = math.Max(highest, clear), all && clear < piece.Hang
		for _, w := range ways {
			if fault := r.rackFault(section, k, w.Oven); fault != "" {
				faults = append(faults, fault)
			}
		}
	}
	switch {
	case len(faults) == 0:
		return intro + "there is no rack for it"
	case all:
		return intro + fmt.Sprintf("the highest level of any rack clears %s mm", figure(highest))
	}
	return intro + "no rack takes it into an oven that cures it. " + listed(faults)
}

func highestLevel(k *rack.Kind) (clear float64) {
	for _, l := range k.Levels {
		clear = math.Max(clear, l.Clear)
	}
	return clear
}

// rackFault tells the first thing for which a kind of rack does not take a
// piece of a section into an oven.
func (r *reporter) rackFault(section int, k *rack.Kind, oven int) string {
	row, o := &r.in.Shop.Racks[k.Rack], &r.in.Shop.Ovens[oven]
	piece, setup := r.in.Hanger.Piece(section), &row.Setups[k.Setup]
	name := fmt.Sprintf("rack %s as %s", row.ID, setup.ID)
	pegs, there := r.pegs(section, k)
	switch {
	case k.Count == 0:
		return fmt.Sprintf("of rack %s there is none", row.ID)
	case pegs == 0:
		return fmt.Sprintf("%s clears %s mm", name, figure(highestLevel(k)))
	case pegs > there:
		return fmt.Sprintf("%s has %s to a level, and a piece takes %d", name, counted(there, "peg"), pegs)
	case piece.Kg > k.MaxKg:
		return fmt.Sprintf("rack %s bears %s kg", row.ID, figure(k.MaxKg))
	case setup.OuterHeightMM > o.HeightMM:
		return fmt.Sprintf("%s is %s mm high, oven %s %s mm", name, figure(setup.OuterHeightMM), o.ID, figure(o.HeightMM))
	case piece.Kg+k.Tare > o.MaxKg:
		return fmt.Sprintf("rack %s and the piece weigh %s kg, oven %s bears %s", row.ID, figure(piece.Kg+k.Tare), o.ID, figure(o.MaxKg))
	}
	return ""
}

// pegs returns how many pegs a piece takes on the level that suits it best, and
// how many that level has; 0 where it clears no level.
func (r *reporter) pegs(section int, k *rack.Kind) (pegs, there int) {
	for i := range k.Levels {
		n := r.in.Hanger.Pegs(section, k, i)
		if n > 0 && (pegs == 0 || n-k.Levels[i].Pegs < pegs-there) {
			pegs, there = n, k.Levels[i].Pegs
		}
	}
	return pegs, there
}
