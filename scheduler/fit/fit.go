// Package fit says what can be done with one section, without a plan: where in
// the shop it may hang, and which profiles cure it, with the reason where one
// does not (rules R1 and R3).
//
// It looks at a section alone: not at time, nor at what hangs beside it. It
// imports cure, rack and shop; the pages and the JSON interface use it.
package fit

import (
	"fmt"
	"slices"

	"blankwright/scheduler/cure"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
)

// A Report tells what fits a section.
type Report struct {
	Section  string
	Profiles []Profile // all of the shop's, in its order
	Hangs    []Hang    // each set-up of each rack in each oven, in the shop's order
	// Makes tells whether some oven has a profile that cures the section and
	// takes a rack that it hangs on.
	Makes bool
	// Why says what is missing where Makes is false.
	Why string
}

// A Profile says whether a profile qualifies for a section; Why has the
// reasons where it does not. Ovens are those that run it.
type Profile struct {
	ID    string
	Ovens []string
	Why   []string
}

// Qualifies reports whether there is no reason against the profile.
func (p *Profile) Qualifies() bool { return len(p.Why) == 0 }

// A Hang says whether pieces of a section may hang on a rack in one of its
// set-ups, in one oven. Levels are those with room for one, the first is 1;
// Why is the reason where there is none.
type Hang struct {
	Oven, Rack, Setup string
	Levels            []Level
	Why               string
}

// A Level is one that clears a section: the pegs that a piece takes, and how
// many pieces of it the level has pegs for.
type Level struct{ Number, Pegs, Pieces int }

// Of looks at a section in a shop. The section's references are those that the
// shop has; it need not be one of the shop's.
func Of(s *shop.Shop, section *shop.Section) Report {
	r := Report{Section: section.ID}
	for i := range s.Profiles {
		r.Profiles = append(r.Profiles, profile(s, &s.Profiles[i], section))
	}
	for i := range s.Ovens {
		r.Hangs = append(r.Hangs, hangs(s, &s.Ovens[i], section)...)
	}
	r.judge()
	return r
}

// judge finds an oven with a profile and a rack for the section.
func (r *Report) judge() {
	var hot, roomy []string // ovens that cure it, and ovens that it hangs in
	for i := range r.Profiles {
		if r.Profiles[i].Qualifies() {
			hot = append(hot, r.Profiles[i].Ovens...)
		}
	}
	for i := range r.Hangs {
		if len(r.Hangs[i].Levels) > 0 {
			roomy = append(roomy, r.Hangs[i].Oven)
		}
	}
	r.Makes = slices.ContainsFunc(hot, func(id string) bool { return slices.Contains(roomy, id) })
	switch {
	case r.Makes:
	case len(hot) == 0 && len(roomy) == 0:
		r.Why = "no oven runs a profile that cures it, and no rack clears it"
	case len(hot) == 0:
		r.Why = "no oven runs a profile that cures it"
	case len(roomy) == 0:
		r.Why = "no rack clears it in any oven"
	default:
		r.Why = "the ovens that cure it take no rack that clears it"
	}
}

func profile(s *shop.Shop, p *shop.Profile, section *shop.Section) Profile {
	out := Profile{ID: p.ID}
	for i := range s.Ovens {
		if slices.Contains(s.Ovens[i].Profiles, p.ID) {
			out.Ovens = append(out.Ovens, s.Ovens[i].ID)
		}
	}
	if len(section.Profiles) > 0 && !slices.Contains(section.Profiles, p.ID) {
		out.Why = append(out.Why, "the section's own list of profiles leaves it out")
	}
	for _, resin := range resins(s, section) {
		if why := cure.Resin(p, resin, s.Policy.AmbientC); why != "" {
			out.Why = append(out.Why, why)
		}
	}
	if i := slices.IndexFunc(s.Tapes, func(t shop.Tape) bool { return t.ID == section.Tape }); i >= 0 {
		if why := cure.Tape(p, &s.Tapes[i], s.Policy.AmbientC); why != "" {
			out.Why = append(out.Why, why)
		}
	}
	return out
}

// resins returns the resins in a section's flags, each once.
func resins(s *shop.Shop, section *shop.Section) []*shop.Resin {
	var list []*shop.Resin
	for _, flag := range section.Flags {
		p := slices.IndexFunc(s.Prepregs, func(p shop.Prepreg) bool { return p.ID == flag.Prepreg })
		if p < 0 {
			continue
		}
		r := slices.IndexFunc(s.Resins, func(r shop.Resin) bool { return r.ID == s.Prepregs[p].Resin })
		if r >= 0 && !slices.Contains(list, &s.Resins[r]) {
			list = append(list, &s.Resins[r])
		}
	}
	return list
}

func hangs(s *shop.Shop, oven *shop.Oven, section *shop.Section) []Hang {
	i := slices.IndexFunc(s.MandrelTypes, func(m shop.MandrelType) bool { return m.ID == section.Mandrel })
	if i < 0 {
		return nil
	}
	mandrel := &s.MandrelTypes[i]
	piece := rack.Piece{Hang: mandrel.HangMM, Width: section.ODMM + s.Policy.GapMM, Kg: section.Kg + mandrel.Kg}
	var list []Hang
	for r := range s.Racks {
		for u := range s.Racks[r].Setups {
			list = append(list, hang(oven, &s.Racks[r], &s.Racks[r].Setups[u], piece))
		}
	}
	return list
}

func hang(oven *shop.Oven, r *shop.Rack, setup *shop.Setup, piece rack.Piece) Hang {
	out := Hang{Oven: oven.ID, Rack: r.ID, Setup: setup.ID}
	if out.Why = tooMuch(oven, r, setup, piece); out.Why != "" {
		return out
	}
	kind := &rack.Kind{MaxKg: r.MaxKg}
	tallest := 0.0
	for _, level := range setup.Levels {
		kind.Levels = append(kind.Levels, rack.Level{Clear: level.ClearMM, Pegs: level.Pegs, Pitch: level.PitchMM})
		tallest = max(tallest, level.ClearMM)
	}
	hanger := rack.NewHanger([]*rack.Kind{kind}, []rack.Piece{piece})
	for i, level := range setup.Levels {
		if pegs := hanger.Pegs(0, kind, i); pegs > 0 && pegs <= level.Pegs {
			out.Levels = append(out.Levels, Level{Number: i + 1, Pegs: pegs, Pieces: level.Pegs / pegs})
		}
	}
	switch {
	case len(out.Levels) > 0:
	case hanger.LeastPegs(0) == 0:
		out.Why = fmt.Sprintf("its mandrel hangs %g mm, the tallest level clears %g mm", piece.Hang, tallest)
	default:
		out.Why = fmt.Sprintf("one piece takes %d pegs, more than a level that clears it has", hanger.LeastPegs(0))
	}
	return out
}

// epsilon is the contract's tolerance for decimals.
const epsilon = 1e-6

// tooMuch says why the rack does not go into the oven, or bear one piece.
func tooMuch(oven *shop.Oven, r *shop.Rack, setup *shop.Setup, piece rack.Piece) string {
	switch {
	case r.Count == 0:
		return "the shop has none of this rack"
	case setup.OuterHeightMM > oven.HeightMM+epsilon:
		return fmt.Sprintf("the rack is %g mm high, the oven %g mm", setup.OuterHeightMM, oven.HeightMM)
	case piece.Kg > r.MaxKg+epsilon:
		return fmt.Sprintf("a piece with its mandrel weighs %g kg, the rack bears %g kg", piece.Kg, r.MaxKg)
	case piece.Kg+r.TareKg > oven.MaxKg+epsilon:
		return fmt.Sprintf("a piece, its mandrel and the rack weigh %g kg, the oven bears %g kg", piece.Kg+r.TareKg, oven.MaxKg)
	}
	return ""
}
