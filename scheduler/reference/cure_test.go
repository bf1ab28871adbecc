package reference_test

import (
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// qualifies reports whether a profile cures a section (R1).
func qualifies(s *shop.Shop, p *shop.Profile, section *shop.Section) bool {
	hottest := s.Policy.AmbientC
	for _, seg := range p.Segments {
		hottest = max(hottest, seg.ToC)
	}
	for _, tape := range s.Tapes {
		if tape.ID == section.Tape && (hottest < tape.ShrinkFromC || hottest > tape.MaxC) {
			return false
		}
	}
	for _, flag := range section.Flags {
		for _, prepreg := range s.Prepregs {
			for i := range s.Resins {
				if prepreg.ID == flag.Prepreg && s.Resins[i].ID == prepreg.Resin && !soaks(s, p, &s.Resins[i]) {
					return false
				}
			}
		}
	}
	return len(section.Profiles) == 0 || slices.Contains(section.Profiles, p.ID)
}

// soaks reports whether a profile is slow, cool and long enough for a resin.
func soaks(s *shop.Shop, p *shop.Profile, r *shop.Resin) bool {
	at, long := s.Policy.AmbientC, false
	for _, seg := range p.Segments {
		if seg.ToC > at && seg.RampCPerMin > r.MaxRampCPerMin || seg.ToC > r.MaxC {
			return false
		}
		at = seg.ToC
		long = long || seg.SoakMinutes >= soakMinutes(r, at)
	}
	return long
}

// soakMinutes returns what a resin's table says at a temperature; no number of
// minutes is enough outside it.
func soakMinutes(r *shop.Resin, c float64) float64 {
	least := math.Inf(1)
	for _, a := range r.Soak {
		if a.C == c {
			return a.Minutes
		}
		for _, b := range r.Soak {
			if a.C < c && c < b.C && !slices.ContainsFunc(r.Soak, func(p shop.SoakPoint) bool { return a.C < p.C && p.C < b.C }) {
				least = a.Minutes + (b.Minutes-a.Minutes)*(c-a.C)/(b.C-a.C)
			}
		}
	}
	return least
}

// cureMinutes returns how long a load of some weight takes (R2).
func cureMinutes(s *shop.Shop, o *shop.Oven, p *shop.Profile, kg float64) float64 {
	at, sum := s.Policy.AmbientC, 0.0
	for _, seg := range p.Segments {
		sum += math.Abs(seg.ToC-at)/seg.RampCPerMin + seg.SoakMinutes
		at = seg.ToC
	}
	return sum + max(0, (at-p.CoolToC)/p.CoolCPerMin) + o.LagMinutesPerKg*kg
}
