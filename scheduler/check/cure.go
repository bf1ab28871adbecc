package check

import (
	"cmp"
	"math"
	"slices"

	"blankwright/scheduler/shop"
)

// checkProfiles judges R1: each load's profile is its oven's, and qualifies
// for every section in the load.
func (c *checker) checkProfiles() {
	for _, l := range c.loads {
		if l.released {
			continue
		}
		if !slices.Contains(l.oven.Profiles, l.Profile) {
			c.breach("R1", l.where, "oven %s has no profile %s", l.oven.ID, l.Profile)
		}
		for _, r := range l.runs {
			if r.pieces > 0 {
				c.checkQualifies(l, r.section)
			}
		}
	}
}

func (c *checker) checkQualifies(l *load, section *shop.Section) {
	if len(section.Profiles) > 0 && !slices.Contains(section.Profiles, l.Profile) {
		c.breach("R1", l.where, "section %s names other profiles than %s", section.ID, l.Profile)
	}
	seen := map[string]bool{}
	for _, id := range prepregs(section) {
		if resin := c.known.prepregs[id].Resin; !seen[resin] {
			seen[resin] = true
			c.checkResin(l, section, c.known.resins[resin])
		}
	}
	hottest := c.shop.Policy.AmbientC
	for _, s := range l.profile.Segments {
		hottest = max(hottest, s.ToC)
	}
	tape := c.known.tapes[section.Tape]
	if exceeds(tape.ShrinkFromC, hottest) {
		c.breach("R1", l.where, "section %s: profile %s reaches %g C, tape %s shrinks from %g", section.ID, l.Profile, hottest, tape.ID, tape.ShrinkFromC)
	}
	if exceeds(hottest, tape.MaxC) {
		c.breach("R1", l.where, "section %s: profile %s reaches %g C, tape %s stands %g", section.ID, l.Profile, hottest, tape.ID, tape.MaxC)
	}
}

// checkResin judges a load's profile by one resin of a section in it.
func (c *checker) checkResin(l *load, section *shop.Section, resin *shop.Resin) {
	from, soaked := c.shop.Policy.AmbientC, false
	for i, s := range l.profile.Segments {
		if exceeds(s.ToC, from) && exceeds(s.RampCPerMin, resin.MaxRampCPerMin) {
			c.breach("R1", l.where, "section %s: segment %d of profile %s heats %g C a minute, resin %s allows %g", section.ID, i+1, l.Profile, s.RampCPerMin, resin.ID, resin.MaxRampCPerMin)
		}
		if exceeds(s.ToC, resin.MaxC) {
			c.breach("R1", l.where, "section %s: segment %d of profile %s is %g C hot, resin %s allows %g", section.ID, i+1, l.Profile, s.ToC, resin.ID, resin.MaxC)
		}
		if need, ok := soakMinutes(resin, s.ToC); ok && !exceeds(need, s.SoakMinutes) {
			soaked = true
		}
		from = s.ToC
	}
	if !soaked {
		c.breach("R1", l.where, "section %s: no segment of profile %s soaks resin %s long enough", section.ID, l.Profile, resin.ID)
	}
}

// soakMinutes returns the minutes for which a resin must soak at a
// temperature; false outside of its table.
func soakMinutes(resin *shop.Resin, celsius float64) (float64, bool) {
	points := slices.Clone(resin.Soak)
	slices.SortFunc(points, func(a, b shop.SoakPoint) int { return cmp.Compare(a.C, b.C) })
	for i, p := range points {
		if math.Abs(p.C-celsius) <= tolerance {
			return p.Minutes, true
		}
		if i > 0 && points[i-1].C < celsius && celsius < p.C {
			low := points[i-1]
			return low.Minutes + (p.Minutes-low.Minutes)*(celsius-low.C)/(p.C-low.C), true
		}
	}
	return 0, false
}

// cureMinutes returns the cure minutes of a load by R2.
func (c *checker) cureMinutes(l *load) float64 {
	minutes, air := 0.0, c.shop.Policy.AmbientC
	for _, s := range l.profile.Segments {
		minutes += math.Abs(s.ToC-air)/s.RampCPerMin + s.SoakMinutes
		air = s.ToC
	}
	minutes += max(0, (air-l.profile.CoolToC)/l.profile.CoolCPerMin)
	return roundUp(minutes + l.oven.LagMinutesPerKg*l.kg)
}

// checkCure judges R2: each load cures for its cure minutes.
func (c *checker) checkCure() {
	for _, l := range c.loads {
		if l.released {
			continue
		}
		stated, need := l.CureEnd.Minute-l.CureStart.Minute, c.cureMinutes(l)
		if float64(stated) != need {
			c.breach("R2", l.where, "cures for %d minutes, not its %.0f with %.3f kg", stated, need, l.kg)
		}
	}
}
