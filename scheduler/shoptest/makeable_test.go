package shoptest_test

import (
	"blankwright/scheduler/cure"
	"blankwright/scheduler/shop"
)

// makeable tells of each product whether every section of it can be made at
// all: some oven cures it and is high enough for a set-up on which it hangs,
// the rack bears it, and a mandrel is or will be ready.
func makeable(s *shop.Shop) map[string]bool {
	out := map[string]bool{}
	for _, p := range s.Products {
		out[p.ID] = true
		for i := range p.Sections {
			if !toolReady(s, p.Sections[i].Mandrel) || !anyOven(s, &p.Sections[i]) {
				out[p.ID] = false
			}
		}
	}
	return out
}

func toolReady(s *shop.Shop, id string) bool {
	for _, m := range s.Mandrels {
		if m.Type == id && m.State == shop.Ready {
			return true
		}
	}
	return false
}

func anyOven(s *shop.Shop, section *shop.Section) bool {
	for i := range s.Ovens {
		if hangs(s, &s.Ovens[i], section) && cures(s, &s.Ovens[i], section) {
			return true
		}
	}
	return false
}

func hangs(s *shop.Shop, oven *shop.Oven, section *shop.Section) bool {
	tool := find(s.MandrelTypes, func(m shop.MandrelType) bool { return m.ID == section.Mandrel })
	for _, rack := range s.Racks {
		for _, setup := range rack.Setups {
			for _, level := range setup.Levels {
				if setup.OuterHeightMM <= oven.HeightMM && tool.HangMM <= level.ClearMM &&
					tool.Kg+section.Kg <= rack.MaxKg && rack.TareKg+tool.Kg+section.Kg <= oven.MaxKg {
					return true
				}
			}
		}
	}
	return false
}

func cures(s *shop.Shop, oven *shop.Oven, section *shop.Section) bool {
	for _, id := range oven.Profiles {
		profile := find(s.Profiles, func(p shop.Profile) bool { return p.ID == id })
		if suits(s, &profile, section) {
			return true
		}
	}
	return false
}

func suits(s *shop.Shop, profile *shop.Profile, section *shop.Section) bool {
	named := len(section.Profiles) == 0
	for _, id := range section.Profiles {
		named = named || id == profile.ID
	}
	tape := find(s.Tapes, func(t shop.Tape) bool { return t.ID == section.Tape })
	if !named || cure.Tape(profile, &tape, s.Policy.AmbientC) != "" {
		return false
	}
	for _, flag := range section.Flags {
		prepreg := find(s.Prepregs, func(p shop.Prepreg) bool { return p.ID == flag.Prepreg })
		resin := find(s.Resins, func(r shop.Resin) bool { return r.ID == prepreg.Resin })
		if cure.Resin(profile, &resin, s.Policy.AmbientC) != "" {
			return false
		}
	}
	return true
}

// find returns the first of a list for which is holds, else its zero.
func find[T any](list []T, is func(T) bool) T {
	for _, x := range list {
		if is(x) {
			return x
		}
	}
	var none T
	return none
}
