package fit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"blankwright/scheduler/fit"
	"blankwright/scheduler/instance"
	"blankwright/scheduler/rack"
	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// Of names each reason against a section, and none where there is none.
func TestOf(t *testing.T) {
	tests := []struct {
		name   string
		change func(s *shop.Shop)
		hang   string // part of the reason why it hangs nowhere
		cure   string // part of the reason why the profile does not qualify
		why    string // what is missing in all
	}{
		{name: "fits", change: func(*shop.Shop) {}},
		{name: "too long", change: func(s *shop.Shop) { s.MandrelTypes[0].HangMM = 1000.1 }, hang: "hangs 1000.1 mm, the tallest level clears 1000 mm", why: "no rack clears it in any oven"},
		{name: "too thick", change: func(s *shop.Shop) { s.Products[0].Sections[0].ODMM = 1001 }, hang: "takes 101 pegs", why: "no rack clears it"},
		{name: "too heavy for the rack", change: func(s *shop.Shop) { s.Racks[0].MaxKg, s.MandrelTypes[0].Kg = 1, 2 }, hang: "weighs 2 kg, the rack bears 1 kg", why: "no rack clears it"},
		{name: "too heavy for the oven", change: func(s *shop.Shop) { s.Ovens[0].MaxKg, s.Racks[0].TareKg = 1, 2 }, hang: "the oven bears 1 kg", why: "no rack clears it"},
		{name: "rack too high", change: func(s *shop.Shop) { s.Ovens[0].HeightMM = 900 }, hang: "1000 mm high, the oven 900 mm", why: "no rack clears it"},
		{name: "no such rack", change: func(s *shop.Shop) { s.Racks[0].Count = 0 }, hang: "none of this rack", why: "no rack clears it"},
		{name: "resin not cured", change: func(s *shop.Shop) { s.Resins[0].Soak[0].Minutes = 61 }, cure: "soaks resin resin for long enough", why: "no oven runs a profile that cures it"},
		{name: "tape too cool", change: func(s *shop.Shop) { s.Tapes[0].ShrinkFromC = 121 }, cure: "tape tape shrinks from 121", why: "no oven runs a profile that cures it"},
		{name: "left out by the section", change: func(s *shop.Shop) {
			s.Profiles = append(s.Profiles, shoptest.BareProfile("other", 60))
			s.Products[0].Sections[0].Profiles = []string{"other"}
		}, cure: "own list", why: "no oven runs a profile that cures it"},
		{name: "neither", change: func(s *shop.Shop) { s.Racks[0].Count, s.Resins[0].MaxC = 0, 100 }, hang: "none of this rack", cure: "bears 100", why: "cures it, and no rack clears it"},
		{name: "hot oven too low", change: func(s *shop.Shop) {
			s.Ovens = append(s.Ovens, shoptest.BareOven("low", "cure"))
			s.Ovens[1].HeightMM = 900
			s.Ovens[0].Profiles = nil
		}, why: "take no rack that clears it"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := shoptest.Bare()
			test.change(s)
			s = shoptest.Accepted(s)
			r := fit.Of(s, &s.Products[0].Sections[0])
			if h := r.Hangs[0]; (len(h.Levels) == 0) != (test.hang != "") || !strings.Contains(h.Why, test.hang) {
				t.Errorf("hangs: %+v, want %q", h, test.hang)
			}
			if p := r.Profiles[0]; p.Qualifies() != (test.cure == "") || !strings.Contains(strings.Join(p.Why, "; "), test.cure) {
				t.Errorf("profile: %+v, want %q", p, test.cure)
			}
			if r.Makes != (test.why == "") || !strings.Contains(r.Why, test.why) {
				t.Errorf("makes %v, %q, want %q", r.Makes, r.Why, test.why)
			}
		})
	}
}

// Levels tell the pegs that a piece takes and the pieces that there is room
// for.
func TestOf_Levels(t *testing.T) {
	s := shoptest.Bare()
	s.Racks[0].Setups[0].Levels = []shop.Level{
		{ClearMM: 999, Pegs: 50, PitchMM: 10}, {ClearMM: 1000, Pegs: 50, PitchMM: 4}, {ClearMM: 1200, Pegs: 2, PitchMM: 4},
	}
	s = shoptest.Accepted(s)
	got := fit.Of(s, &s.Products[0].Sections[0]).Hangs[0].Levels
	want := []fit.Level{{Number: 2, Pegs: 3, Pieces: 16}} // 10 mm on 4 mm pegs; the first hangs too low, the last has too few
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// The engine finds the same ways to make each section of random shops.
func TestOf_AsTheEngine(t *testing.T) {
	for seed := range uint64(60) {
		s := shoptest.Accepted(shoptest.Make(seed, shoptest.Size{Products: 4, Lines: 4, Impossible: 0.5}))
		in := instance.New(s)
		for i := range in.Sections {
			var want []string
			for _, way := range in.Ways(i) {
				if !in.Ovens[way.Oven].Room.Fits([]rack.Run{{Section: i, Pieces: 1}}) {
					continue
				}
				want = append(want, s.Ovens[way.Oven].ID+" "+s.Profiles[way.Profile].ID)
			}
			got := ways(fit.Of(s, sectionOf(s, in.Sections[i].ID)))
			slices.Sort(want)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("seed %d, section %s (-engine +fit):\n%s", seed, in.Sections[i].ID, diff)
			}
		}
	}
}

// ways returns the ovens and profiles that make a section.
func ways(r fit.Report) []string {
	var list []string
	for _, p := range r.Profiles {
		for _, oven := range p.Ovens {
			roomy := slices.ContainsFunc(r.Hangs, func(h fit.Hang) bool { return h.Oven == oven && len(h.Levels) > 0 })
			if p.Qualifies() && roomy {
				list = append(list, fmt.Sprintf("%s %s", oven, p.ID))
			}
		}
	}
	slices.Sort(list)
	return list
}

func sectionOf(s *shop.Shop, id string) *shop.Section {
	for i := range s.Products {
		for k := range s.Products[i].Sections {
			if s.Products[i].Sections[k].ID == id {
				return &s.Products[i].Sections[k]
			}
		}
	}
	return nil
}
