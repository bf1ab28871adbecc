package benchtest

import (
	"fmt"
	"slices"

	"blankwright/scheduler/shop"
	"blankwright/scheduler/shoptest"
)

// A floor is a shop of ovens in which one unit of a problem's time is one day.
// Ovens are loaded and unloaded at midnight only, so that a cure of so many days
// keeps its oven for so many days and not a minute more; the minutes that all
// other stages take lie beside the midnights and delay nothing.
type floor struct {
	name  string
	ovens int
	pegs  int
	cures []cure
	jobs  []floorJob
}

// A cure is a profile that keeps an oven for so many days.
type cure struct {
	profile string
	days    int
}

// A floorJob is one piece for one line, that can go into an oven at the midnight
// that ends its ready-th day and should be done at the one that ends its due-th.
type floorJob struct {
	profile    string
	ready, due int
	weight     float64
}

// What the floor's clock needs: the minutes that a load keeps its oven beside the
// cure, and how long before midnight the pieces of a day can be begun.
const (
	ovenMinutes = 2
	leadMinutes = 60
)

// shop returns the floor as a shop. Its first day is there to begin the pieces of
// the first midnight.
func (f *floor) shop() *shop.Shop {
	s := shoptest.Bare()
	s.Name = f.name + " as a shop"
	s.HorizonDays = f.days()
	s.Policy.UnplannedDays = s.HorizonDays
	s.Calendars["midnight"] = everyDay(0, ovenMinutes)
	s.Racks[0] = shoptest.BareRack("rack", f.pegs)
	s.Resins[0].Soak[0].Minutes = 0
	s.Profiles, s.Ovens, s.Products, s.Mandrels, s.MandrelTypes = nil, nil, nil, nil, nil
	var profiles []string
	for _, c := range f.cures {
		profiles = append(profiles, c.profile)
		s.Profiles = append(s.Profiles, shoptest.BareProfile(c.profile, float64(c.days*1440-ovenMinutes)))
	}
	for n := range f.ovens {
		oven := shoptest.BareOven(fmt.Sprintf("oven-%d", n+1), profiles...)
		oven.Calendar = "midnight"
		s.Ovens = append(s.Ovens, oven)
	}
	for i, j := range f.jobs {
		j.add(s, fmt.Sprintf("job-%02d", i+1))
	}
	return s
}

// days returns a horizon within which everything can be cured in any order.
func (f *floor) days() int {
	last, sum := 0, 0
	for _, j := range f.jobs {
		last = max(last, j.ready)
		sum += f.cures[slices.IndexFunc(f.cures, func(c cure) bool { return c.profile == j.profile })].days
	}
	return 1 + last + sum + 1
}

// add adds the job's product, its mandrel and its line to a shop.
func (j *floorJob) add(s *shop.Shop, id string) {
	s.MandrelTypes = append(s.MandrelTypes, shop.MandrelType{ID: id, HangMM: 1000})
	m := shop.Mandrel{ID: id, Type: id, State: shop.Ready}
	if j.ready > 0 {
		ready := shop.InstantIn(s.Now.Minute+int64((j.ready+1)*1440-leadMinutes), s.Zone())
		m.ReadyAt = &ready
	}
	s.Mandrels = append(s.Mandrels, m)
	p := shoptest.BareProduct(id, id)
	p.Sections[0].Mandrel, p.Sections[0].Profiles = id, []string{j.profile}
	s.Products = append(s.Products, p)
	shoptest.AddLine(s, id, 1, j.due+1, j.weight)
}
